"""The lines, marks and spans of a cook's chart, in the units shown."""

from collections.abc import Callable, Sequence
from enum import StrEnum

import numpy as np

from pitjournal.analysis.safety.facts import levels_of as safety_levels
from pitjournal.analysis.traces.features import ordered, reached
from pitjournal.analysis.traces.pit import BAND
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal.queries.ahead import Outlook
from pitjournal.ui.charts.trace.chart import (
    ChartSpan,
    EventMark,
    Level,
    Line,
    Probed,
    TraceChart,
)
from pitjournal.ui.charts.trace.lines import Sort
from pitjournal.ui.charts.trace.min_max_pyramid import Pyramid
from pitjournal.ui.cook.fan_ahead import fan_of, with_ahead
from pitjournal.ui.event_words import event_words
from pitjournal.units import Dimension, UnitSystem, show, to_display, unit_label

SORTS: dict[Sits, Sort] = {
    Sits.PIT: "pit",
    Sits.MEAT: "meat",
    Sits.AIR: "air",
    Sits.OTHER: "other",
}


class Align(StrEnum):
    """What the traces of a cook are lined up at; the value is its words."""

    CLOCK = "by the clock"
    ON = "from on"
    WRAP = "from the wrap"
    SIXTY = "from 60 °C"


def align_words(align: Align, system: UnitSystem) -> str:
    """Return the words of what traces are lined up at, in the cook's units."""
    level = show(60.0, Dimension.TEMPERATURE, system)
    return f"from {level}" if align is Align.SIXTY else str(align)


def alignments(whole: WholeCook) -> list[Align]:
    """Return what a cook's traces can be lined up at."""
    found = [Align.CLOCK]
    if not any(trace.sits is Sits.MEAT for trace in whole.traces):
        return found
    if whole.first(EventKind.ON):
        found.append(Align.ON)
    if whole.first(EventKind.WRAP):
        found.append(Align.WRAP)
    if whole.first(EventKind.ON):
        found.append(Align.SIXTY)
    return found


class TraceReader:
    """Reads traces once and keeps them while their clock and correction stay as they are.

    A worker and the window may use it at once: what one of them has read is published whole,
    and what another still works with stays as it was.
    """

    def __init__(self, samples: Callable[[Trace], Samples]) -> None:
        self._samples = samples
        self._known: dict[tuple[object, ...], Pyramid | None] = {}

    def lines(self, whole: WholeCook, system: UnitSystem, align: Align = Align.CLOCK) -> list[Line]:
        """Return a cook's lines; a trace whose file is damaged is left out.

        Lined up, times are seconds from the piece's own moment; the pit's are from the first
        of them.
        """
        read = self._read(whole, system)
        moments = _moments(whole, read, align, _shown(60.0, system))
        found, moved = [], {}
        for trace, pyramid in read:
            piece = next((p for p in whole.pieces if p.id == trace.piece_id), None)
            moment = moments.get(trace.id)
            if moment is None:
                continue
            arm = whole.arm_index(piece.arm_id) if piece else None
            label = piece.label if piece else (trace.place or str(trace.sits))
            shown = pyramid
            if moment:
                key = (*_key(trace, system), moment)
                shown = moved[key] = self._known.get(key) or pyramid.moved(-moment)
            sort = SORTS[trace.sits]
            found.append(Line(trace.id, label, shown.times, shown.values, arm, sort, shown))
        if moved:
            self._known = {**self._known, **moved}
        return found

    def unread(self, whole: WholeCook, system: UnitSystem) -> list[Trace]:
        """Return the traces that are still to be read."""
        return [trace for trace in whole.traces if _key(trace, system) not in self._known]

    def _read(self, whole: WholeCook, system: UnitSystem) -> list[tuple[Trace, Pyramid]]:
        keys = {trace.id: _key(trace, system) for trace in whole.traces}
        wanted = set(keys.values())
        known = {k: v for k, v in self._known.items() if k[: len(KEYS) + 1] in wanted}
        for trace in whole.traces:
            if keys[trace.id] not in known:
                known[keys[trace.id]] = self._pyramid(trace, system)
        self._known = known
        read = ((trace, known[keys[trace.id]]) for trace in whole.traces)
        return [(trace, pyramid) for trace, pyramid in read if pyramid is not None]

    def _pyramid(self, trace: Trace, system: UnitSystem) -> Pyramid | None:
        try:
            samples = self._samples(trace)
        except JournalError:
            return None
        times, values = ordered(samples)
        shown = to_display(values, Dimension.TEMPERATURE, system)
        return Pyramid(times, shown, samples.levels if times is samples.times else b"")


def _moments(
    whole: WholeCook, read: Sequence[tuple[Trace, Pyramid]], align: Align, warm: float
) -> dict[str, float]:
    """Return each trace's moment, s since 1970; 0 by the clock, missing where it has none."""
    if align is Align.CLOCK:
        return {trace.id: 0.0 for trace, _ in read}
    found: dict[str, float] = {}
    for trace, pyramid in read:
        piece = next((p for p in whole.pieces if p.id == trace.piece_id), None)
        moment = None if piece is None else _moment(whole, piece, pyramid, align, warm)
        if moment is not None:
            found[trace.id] = moment
    if not found:
        return {}
    first = min(found.values())
    return {trace.id: first for trace, _ in read if trace.piece_id is None} | found


KEYS = ("samples", "shift", "drift", "correction", "correction_slope")
"""The fields of a trace that its readings depend on."""


def _key(trace: Trace, system: UnitSystem) -> tuple[object, ...]:
    return (*(getattr(trace, name) for name in KEYS), system)


def _moment(
    whole: WholeCook, piece: Piece, pyramid: Pyramid, align: Align, warm: float
) -> float | None:
    on = whole.moment_of(EventKind.ON, piece)
    if align is Align.ON:
        return on
    if align is Align.WRAP:
        return whole.moment_of(EventKind.WRAP, piece)
    if on is None:
        return None
    after = reached(Samples(pyramid.times, pyramid.values.astype(np.float32)), warm, on)
    return None if after is None else on + after


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


def spans(whole: WholeCook) -> list[ChartSpan]:
    """Return the wrapped time of all pieces of each wrap; open while one is still in it.

    A piece is wrapped until it is unwrapped or taken off.
    """
    found: dict[str, ChartSpan] = {}
    for event in whole.happened(EventKind.WRAP):
        assert event.happened_at is not None
        start = event.happened_at.timestamp()
        wrap = event.details.get("wrap")
        text = f"in {wrap}" if wrap else "in paper or foil"
        for piece in whole.pieces:
            if not event.concerns(piece.id):
                continue
            ends = [
                end.happened_at.timestamp()
                for kind in (EventKind.UNWRAP, EventKind.OFF)
                for end in whole.happened(kind, piece)
                if end.happened_at is not None and end.happened_at.timestamp() > start
            ]
            own = ChartSpan(start, min(ends, default=start), text, open=not ends)
            before = found.get(text, own)
            found[text] = ChartSpan(
                min(before.start, own.start),
                max(before.end, own.end),
                text,
                open=before.open or own.open,
            )
    return list(found.values())


MOST_OF_A_DAY = 36 * 3600.0
"""A turn-in so long after the fire was lit is of another day, s."""


def day_span(whole: WholeCook, lines: Sequence[Line]) -> tuple[float, float] | None:
    """Return the day of a cook, s since 1970: from lit to turn-in. None while neither is known.

    What was done the night before lies outside. Where no fire is logged it begins with the
    first piece that goes on; where no turn-in is set it ends with what came last.
    """
    begun = [
        at.timestamp()
        for kind in (EventKind.LIT, EventKind.ON)
        for event in whole.events
        if event.kind == kind and (at := event.happened_at or event.planned_at) is not None
    ][:1]
    if not begun:
        return None
    start = begun[0]
    known = [event.happened_at or event.planned_at for event in whole.events]
    later = [at.timestamp() for at in known if at is not None]
    served = whole.cook.serve_at
    turn_in = None if served is None else served.timestamp()
    if turn_in is not None and start < turn_in < start + MOST_OF_A_DAY:
        later.append(turn_in)
    else:
        later += [float(line.times[-1]) for line in lines if line.times.size]
    end = max(later)
    return (start, end) if end > start else None


def probed(whole: WholeCook, system: UnitSystem) -> list[Probed]:
    """Return the temperatures that were taken by hand."""
    pieces = {piece.id: piece for piece in whole.pieces}
    return [
        Probed(
            check.at.timestamp(),
            _shown(check.internal, system),
            pieces[check.piece_id].label,
            whole.arm_index(pieces[check.piece_id].arm_id),
        )
        for check in whole.checks
        if check.internal is not None and check.piece_id in pieces
    ]


def out_spans(whole: WholeCook) -> list[ChartSpan]:
    """Return when a probe was not in its place, as marked."""
    labels = {piece.id: piece.label for piece in whole.pieces}
    return [
        ChartSpan(
            trace.true_time(start),
            trace.true_time(end),
            f"{labels.get(trace.piece_id or '', trace.place)} out",
        )
        for trace in whole.traces
        for start, end in trace.left_out
    ]


def levels_of(whole: WholeCook, system: UnitSystem) -> list[Level]:
    """Return the set point, and the levels that the safety facts of this meat speak of."""
    found = []
    set_point = whole.cook.set_point
    if set_point is not None:
        text = f"set {show(set_point, Dimension.TEMPERATURE, system)}"
        found.append(Level(_shown(set_point, system), text, "set"))
    if any(trace.sits is Sits.MEAT for trace in whole.traces):
        for level, what in safety_levels(whole):
            text = f"{show(level, Dimension.TEMPERATURE, system)} {what}".strip()
            found.append(Level(_shown(level, system), text, "safety"))
    return found


def _shown(celsius: float, system: UnitSystem) -> float:
    return to_display(celsius, Dimension.TEMPERATURE, system)


def show_day(
    chart: TraceChart,
    reader: TraceReader,
    whole: WholeCook,
    system: UnitSystem,
    align: Align = Align.CLOCK,
    *,
    ahead: tuple[Outlook | None, float | None] = (None, None),
) -> None:
    """Draw a cook's lines, marks and spans in a chart, and by the clock what lies ahead until then."""
    chart.fan = None
    chart.unit = unit_label(Dimension.TEMPERATURE, system)
    lines = reader.lines(whole, system, align)
    levels = levels_of(whole, system) if lines else []
    set_point = whole.cook.set_point
    band = None
    if lines and set_point is not None:
        band = _shown(set_point - BAND, system), _shown(set_point + BAND, system)
    if align is Align.CLOCK:
        chart.fan = fan_of(whole, ahead[0], lines, system)
        seen = [*spans(whole), *out_spans(whole)]
        chart.show_lines(
            lines,
            marks(whole),
            seen,
            zone=whole.cook.zone,
            levels=levels,
            band=band,
            probed=probed(whole, system),
            day=with_ahead(day_span(whole, lines), chart.fan, ahead[1], chart.day),
        )
        return
    moment = EventMark(0.0, align_words(align, system).removeprefix("from "))
    chart.show_lines(lines, [moment], zone=None, levels=levels, band=band)
