"""How far an answer may be chance, what explains it, and what goes with it."""
