"""Data in, result out: the values of a cook, and a room for each thing that asks."""
