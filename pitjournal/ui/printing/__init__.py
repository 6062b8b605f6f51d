"""What is printed: pages laid out by Qt, as PDF with real text, or a first page as PNG."""
