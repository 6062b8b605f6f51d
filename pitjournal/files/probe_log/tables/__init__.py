"""From bytes to rows of cells: text, records, named values, sheets."""
