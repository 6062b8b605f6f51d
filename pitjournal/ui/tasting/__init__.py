"""The blind tasting."""
