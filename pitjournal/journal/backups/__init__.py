"""Backups: made by themselves, checked, thinned; a ZIP to take away; restored; salvaged."""

from pitjournal.journal.backups.archive import backup
from pitjournal.journal.backups.keeping import Backups

__all__ = ["Backups", "backup"]
