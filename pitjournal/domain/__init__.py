"""What a cook is made of: records, rules that hold for any cook, the variable catalogue."""
