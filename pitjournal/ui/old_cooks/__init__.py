"""Bring old cooks along: a table read, looked at column by column, and kept in one step."""
