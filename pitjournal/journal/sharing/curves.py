"""Temperatures over time for a summary: thinned, and counted from the first piece on."""

from collections.abc import Callable
from datetime import datetime

import numpy as np

from pitjournal.domain.event import EventKind
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Curve, CurveChart
from pitjournal.journal.sharing.figures import Figures
from pitjournal.units import Dimension

MOST_POINTS = 240
"""A line in print needs no more."""

_SHOWN = (EventKind.WRAP, EventKind.UNWRAP, EventKind.GLAZE, EventKind.OFF)


Reader = Callable[[Trace], Samples]


def curve_chart(whole: WholeCook, read: Reader, figures: Figures) -> CurveChart | None:
    """Return pit and meat lines; None when nothing was logged or no piece went on."""
    start = whole.first(EventKind.ON)
    if start is None or start.happened_at is None:
        return None
    begin = start.happened_at
    curves = [
        curve
        for trace in whole.traces
        if trace.sits in {Sits.PIT, Sits.MEAT}
        and (curve := _curve(whole, read, trace, begin, figures)) is not None
    ]
    if not curves:
        return None
    last = max(curve.hours[-1] for curve in curves)
    marks = [(0.0, "on")]
    for kind in _SHOWN:
        for event in whole.happened(kind):
            assert event.happened_at is not None
            hours = (event.happened_at - begin).total_seconds() / 3600
            if hours <= last:
                marks.append((hours, str(kind)))
    unit = figures.unit(Dimension.TEMPERATURE)
    return CurveChart("Temperatures", unit, tuple(curves), tuple(sorted(marks)))


def _curve(
    whole: WholeCook, read: Reader, trace: Trace, begin: datetime, figures: Figures
) -> Curve | None:
    samples = thinned(read(trace), begin.timestamp() - 1800.0)
    if not samples.times.size:
        return None
    piece = next((piece for piece in whole.pieces if piece.id == trace.piece_id), None)
    look = whole.arm_index(piece.arm_id) if piece is not None else None
    name = piece.label if piece is not None else (trace.place or str(trace.sits))
    hours = (samples.times - begin.timestamp()) / 3600
    values = [figures.number(float(v), Dimension.TEMPERATURE) for v in samples.values]
    return Curve(name, look, tuple(hours.tolist()), tuple(values))


def thinned(samples: Samples, start: float, most: int = MOST_POINTS) -> Samples:
    """Return at most so many readings from `start` on (s since 1970): means of equal shares."""
    good = np.isfinite(samples.values) & (samples.times >= start)
    times, values = samples.times[good], samples.values[good]
    if times.size <= most:
        return Samples(times, values)
    shares = np.array_split(np.arange(times.size), most)
    return Samples(
        np.array([times[share].mean() for share in shares]),
        np.array([values[share].mean() for share in shares], dtype=np.float32),
    )
