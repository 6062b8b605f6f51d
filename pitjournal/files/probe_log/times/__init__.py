"""From cells to seconds: how times are written, which columns tell them, and which do not fit."""
