"""Bare-number kernels: units are in the docstrings, checks are published values."""
