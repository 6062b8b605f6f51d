"""Pitjournal: a desktop cook journal for people who want to learn from every cook."""

__version__ = "0.1.0"
