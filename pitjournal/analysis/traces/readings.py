"""How the readings of a cook's traces are come by."""

from collections.abc import Callable

from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Trace
from pitjournal.errors import JournalError

Readings = Callable[[Trace], Samples]
"""Gives a trace's samples; raises `JournalError` where its file is damaged."""


def samples_of(trace: Trace | None, readings: Readings) -> Samples | None:
    """Return a trace's samples; None without a trace, or when its file is damaged."""
    try:
        return None if trace is None else readings(trace)
    except JournalError:
        return None
