"""The chart of traces over time."""
