"""The composition root: where the program starts, by its command or as a module."""

import os
from collections.abc import Sequence

from pitjournal.cli import main as carry_out


def main(argv: Sequence[str] | None = None) -> int:
    """Start the program with these words (None: those of the process); return the exit code."""
    # Our tables are small: several threads for one of them wait on each other, and on a busy
    # machine for a minute. It must be said before NumPy is first loaded.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    return carry_out(argv)
