"""Safety facts of a cook, and the usual cautions, each with its source."""
