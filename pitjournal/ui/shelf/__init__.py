"""What is used again."""
