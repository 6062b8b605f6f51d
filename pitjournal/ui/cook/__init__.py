"""One cook: its head and the four pages of its life."""
