"""What one cook showed, how sure that is, and what to cook next."""
