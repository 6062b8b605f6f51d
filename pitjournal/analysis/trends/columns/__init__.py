"""The values of all cooks in columns, and what of them a question takes."""
