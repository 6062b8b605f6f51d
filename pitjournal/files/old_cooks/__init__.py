"""Tables of past cooks, as people keep them: bytes in, a report of cooks out."""

from pitjournal.files.old_cooks.reader import read_old_cooks
from pitjournal.files.old_cooks.report import (
    ColumnAnswer,
    ColumnQuestion,
    OldCook,
    OldCooks,
    SheetColumn,
)

__all__ = ["ColumnAnswer", "ColumnQuestion", "OldCook", "OldCooks", "SheetColumn", "read_old_cooks"]
