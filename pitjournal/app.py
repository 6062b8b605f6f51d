"""The composition root: where the program starts, by its command or as a module."""

import os
from collections.abc import Sequence

from pitjournal.cli import main as carry_out
from pitjournal.local_zone import ask_also


def main(argv: Sequence[str] | None = None) -> int:
    """Start the program with these words (None: those of the process); return the exit code."""
    # Our tables are small: several threads for one of them wait on each other, and on a busy
    # machine for a minute. It must be said before NumPy is first loaded.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    ask_also(zone_by_toolkit)
    return carry_out(argv)


def zone_by_toolkit() -> str:
    """Return the zone as the window's toolkit knows it, which asks Windows too."""
    try:
        from PySide6.QtCore import QTimeZone  # noqa: PLC0415 - only where no file says it
    except ImportError:
        return ""
    return bytes(QTimeZone.systemTimeZoneId().data()).decode()
