"""The list of cooks."""
