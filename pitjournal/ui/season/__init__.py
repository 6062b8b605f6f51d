"""The season: its contests and the cooks for them."""
