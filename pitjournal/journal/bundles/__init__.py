"""Cooks out as a bundle for other people and other software, and in again."""
