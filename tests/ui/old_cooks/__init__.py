"""The page that brings old cooks along."""
