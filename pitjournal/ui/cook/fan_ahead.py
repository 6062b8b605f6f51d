"""The outlook of a piece as a fan in the chart of its cook."""

from collections.abc import Sequence
from datetime import datetime
from math import ceil, inf

import numpy as np

from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.ahead import Outlook
from pitjournal.ui.charts.trace.fans import FanStep, TraceFan
from pitjournal.ui.charts.trace.lines import Line
from pitjournal.units import Dimension, UnitSystem, to_display

Span = tuple[float, float]

ROUND = 1800.0
"""A chart reaches to a full half hour beyond a fan, s: it must not move with each forecast."""


def fan_of(
    whole: WholeCook, ahead: Outlook | None, lines: Sequence[Line], system: UnitSystem
) -> TraceFan | None:
    """Return the fan of a piece from the end of its line; None without a forecast of it."""
    piece = next((p for p in whole.pieces if ahead is not None and p.id == ahead.piece_id), None)
    trace = whole.meat_trace(piece) if piece is not None else None
    line = next((one for one in lines if trace is not None and one.key == trace.id), None)
    if ahead is None or piece is None or line is None:
        return None
    known = np.flatnonzero(np.isfinite(line.values))
    steps = tuple(
        FanStep(
            to_display(one.celsius, Dimension.TEMPERATURE, system),
            _seconds(one.likely),
            (_seconds(one.early), _seconds(one.late)),
            (_seconds(one.surely_early), _seconds(one.surely_late)),
        )
        for one in ahead.fan
        if one.likely is not None
    )
    if not known.size or not steps:
        return None
    start = float(line.times[known[-1]]), float(line.values[known[-1]])
    return TraceFan(piece.label, start, steps)


def _seconds(at: datetime | None) -> float:
    return inf if at is None else at.timestamp()


def with_ahead(
    day: Span | None, fan: TraceFan | None, until: float | None, before: Span | None
) -> Span | None:
    """Return the day with room for the fan; it stays as it was before where that will do.

    Parameters
    ----------
    day
        From lit to turn-in, s since 1970.
    fan
        What lies ahead.
    until
        What is to be seen besides, s since 1970.
    before
        The day as the chart shows it now: a cook who looks at a part of it is not moved for a
        few minutes.
    """
    last = max(fan.end if fan is not None else 0.0, until or 0.0)
    if day is None or last <= day[1]:
        return day
    end = ROUND * ceil(last / ROUND)
    if before is not None and before[0] == day[0] and last <= before[1] <= end + ROUND:
        end = before[1]
    return day[0], end
