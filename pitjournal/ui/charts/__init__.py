"""Charts: plain data in, painted in the theme, with the same told in words and as a table."""
