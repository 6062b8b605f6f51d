"""A cook’s day: its steps as planned, the course of its pieces, and the ribbon made of both."""
