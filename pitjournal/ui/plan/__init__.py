"""The plan of a cook."""
