"""Times known exactly or as bounds: leeway, and what the next one may be."""
