"""The composition root: where the program starts, by its command or as a module."""

from collections.abc import Sequence

from pitjournal.cli import main as carry_out


def main(argv: Sequence[str] | None = None) -> int:
    """Start the program with these words (None: those of the process); return the exit code."""
    return carry_out(argv)
