"""Make a cook's summary for someone else, with a list of what leaves."""
