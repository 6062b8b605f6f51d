"""One contest: its day, its categories, the judges' cards as they are read out."""
