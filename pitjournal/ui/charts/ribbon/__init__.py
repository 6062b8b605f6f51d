"""A cook's day as one ribbon."""
