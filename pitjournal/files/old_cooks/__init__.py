"""Tables of past cooks, as people keep them: bytes in, a report of cooks out."""

from pitjournal.files.old_cooks.reader import read_old_cooks
from pitjournal.files.old_cooks.report import (
    Column,
    ColumnAnswer,
    ColumnQuestion,
    OldCook,
    OldCooks,
)

__all__ = ["Column", "ColumnAnswer", "ColumnQuestion", "OldCook", "OldCooks", "read_old_cooks"]
