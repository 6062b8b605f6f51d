"""The season and its contests in the window."""
