"""An open journal: commands, queries, undo, jobs; one notice of change an operation."""
