"""Tables of past cooks, as people keep them: bytes in, a report of cooks out."""

from pitjournal.files.old_cooks.reader import read_old_cooks
from pitjournal.files.old_cooks.report import Answer, Column, OldCook, OldCooks, Question

__all__ = ["Answer", "Column", "OldCook", "OldCooks", "Question", "read_old_cooks"]
