"""Tell a person at a terminal how far something is."""

import sys

from pitjournal.journal.jobs import Progress
from pitjournal.units.figures import percent


class AtTerminal(Progress):
    """Tells a person at a terminal how far it is."""

    def report(self, fraction: float | None, words: str = "") -> None:
        """Write over one line."""
        super().report(fraction, words)
        if sys.stderr.isatty():
            share = "" if fraction is None else f"{percent(fraction)}  "
            end = "\n" if fraction is not None and fraction >= 1 else ""
            sys.stderr.write(f"\r\x1b[K{share}{self.words}{end}")
            sys.stderr.flush()
