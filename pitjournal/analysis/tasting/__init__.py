"""A blind tasting: orders, totals, and the panel looked after."""
