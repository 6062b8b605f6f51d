"""The lines, marks and spans of a cook's chart, in the units shown."""

from collections.abc import Callable
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.trace_features import ordered
from pitjournal.domain.event import EventKind
from pitjournal.domain.moments import show_time
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.ui.bench.model import event_words
from pitjournal.ui.charts.trace_chart import EventMark, Line, Sort, Span, TraceChart
from pitjournal.ui.look.parts.timeline import Moment
from pitjournal.units import Dimension, UnitSystem, to_display, unit_label

SORTS: dict[Sits, Sort] = {
    Sits.PIT: "pit",
    Sits.MEAT: "meat",
    Sits.AIR: "air",
    Sits.OTHER: "other",
}


class TraceReader:
    """Reads traces once and keeps them while their clock and correction stay as they are."""

    def __init__(self, samples: Callable[[Trace], Samples]) -> None:
        self._samples = samples
        self._known: dict[tuple[object, ...], tuple[NDArray[np.float64], NDArray[np.float64]]] = {}

    def lines(self, whole: WholeCook, system: UnitSystem) -> list[Line]:
        """Return a cook's lines; a trace whose file is damaged is left out."""
        wanted: dict[tuple[object, ...], tuple[NDArray[np.float64], NDArray[np.float64]]] = {}
        found = []
        for trace in whole.traces:
            key: tuple[object, ...] = (
                trace.samples,
                trace.shift,
                trace.drift,
                trace.correction,
                system,
            )
            if key not in self._known:
                try:
                    times, values = ordered(self._samples(trace))
                except JournalError:
                    continue
                self._known[key] = times, to_display(values, Dimension.TEMPERATURE, system)
            wanted[key] = self._known[key]
            times, values = wanted[key]
            piece = next((p for p in whole.pieces if p.id == trace.piece_id), None)
            arm = whole.arm_index(piece.arm_id) if piece else None
            label = piece.label if piece else (trace.place or str(trace.sits))
            found.append(Line(trace.id, label, times, values, arm, SORTS[trace.sits]))
        self._known = wanted
        return found


def marks(whole: WholeCook) -> list[EventMark]:
    """Return what happened as marks; the same thing in one minute is one mark."""
    found: dict[tuple[str, int], EventMark] = {}
    for event in whole.events:
        at = event.happened_at or event.planned_at
        if at is None:
            continue
        planned = event.happened_at is None
        text = event_words(event).lower()
        found.setdefault(
            (text, int(at.timestamp() // 60)), EventMark(at.timestamp(), text, planned)
        )
    return list(found.values())


def spans(whole: WholeCook) -> list[Span]:
    """Return the wrapped time of all pieces together, where anything was wrapped."""
    wraps = whole.happened(EventKind.WRAP)
    if not wraps or wraps[0].happened_at is None:
        return []
    ends = [
        e.happened_at
        for e in whole.events
        if e.kind in {EventKind.UNWRAP, EventKind.OFF} and e.happened_at is not None
    ]
    start = wraps[0].happened_at
    later = [end for end in ends if end > start]
    if not later:
        return []
    wrap = wraps[0].details.get("wrap")
    text = "in paper or foil" if not wrap else f"in {wrap}"
    unwrapped = [e.happened_at for e in whole.happened(EventKind.UNWRAP) if e.happened_at]
    end = max(unwrapped) if unwrapped and max(unwrapped) > start else max(later)
    return [Span(start.timestamp(), end.timestamp(), text)]


def show_day(chart: TraceChart, reader: TraceReader, whole: WholeCook, system: UnitSystem) -> None:
    """Draw a cook's lines, marks and spans in a chart."""
    chart.unit = unit_label(Dimension.TEMPERATURE, system)
    chart.show_lines(reader.lines(whole, system), marks(whole), spans(whole), zone=whole.cook.zone)


def day_of(whole: WholeCook) -> tuple[list[Moment], list[tuple[float, float, str]]]:
    """Return what happened as a strip shows it: moments, and wrapped time."""
    zone = whole.cook.zone
    moments = [
        Moment(
            mark.time,
            mark.text,
            show_time(datetime.fromtimestamp(mark.time, UTC), zone),
            mark.planned,
        )
        for mark in marks(whole)
    ]
    return moments, [(span.start, span.end, span.text) for span in spans(whole)]
