"""Arms compared: layouts, differences, their spread, and how sure they are."""
