"""Photos of a cook: kept, seen, compared."""
