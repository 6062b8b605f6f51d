"""Questions to all the cooks."""
