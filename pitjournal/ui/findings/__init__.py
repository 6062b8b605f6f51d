"""What a cook showed."""
