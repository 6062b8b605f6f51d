"""What one's own cooks say of what stands on the Shelf."""
