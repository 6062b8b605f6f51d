"""What is read from a journal."""
