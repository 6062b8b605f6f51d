"""An open journal: commands, queries, undo, jobs; one notice of change an operation.

`open_journal(folder)` is the door for the window, the command line, scripts and tests.
"""

from pitjournal.journal.changes import Changes
from pitjournal.journal.journal import Journal, open_journal

__all__ = ["Changes", "Journal", "open_journal"]
