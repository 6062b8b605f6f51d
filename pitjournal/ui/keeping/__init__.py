"""Keeping a journal safe: backups by themselves, restored; a window where none opens."""
