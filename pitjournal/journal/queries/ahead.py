"""When the pieces of a running cook will come off; for a worker."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.analysis.forecast.asked import Trace, Wrapping
    from pitjournal.analysis.forecast.forecast import Forecast
    from pitjournal.journal.journal import Journal


@dataclass(frozen=True)
class ComesOff:
    """When a piece will come off.

    Attributes
    ----------
    piece_id, label
        Which piece.
    target
        The temperature it is for, °C.
    likely, early, late
        Most likely, and the span that holds half of the chances; None where that is not known.
    in_time
        The chance that it is off by the time planned; None where none is planned.
    refused
        Why there is no time; empty where there is one.
    rests_on
        What it rests on.
    """

    piece_id: str
    label: str
    target: float
    likely: datetime | None = None
    early: datetime | None = None
    late: datetime | None = None
    in_time: float | None = None
    refused: str = ""
    rests_on: tuple[str, ...] = ()


def comes_off(journal: "Journal", whole: WholeCook) -> tuple[ComesOff, ...]:
    """Return the forecast of each piece that is on and has a probe, soonest first."""
    found = [one for piece in whole.pieces if (one := _piece(journal, whole, piece)) is not None]
    return tuple(sorted(found, key=lambda one: (one.likely is None, one.likely, one.label)))


def _piece(journal: "Journal", whole: WholeCook, piece: Piece) -> ComesOff | None:
    on, off = whole.first(EventKind.ON, piece), whole.last(EventKind.OFF, piece)
    meat, pit = whole.meat_trace(piece), whole.pit_trace
    if on is None or on.happened_at is None or off is not None or meat is None or pit is None:
        return None
    from pitjournal.analysis.forecast.asked import ForecastAsked
    from pitjournal.analysis.forecast.forecast import forecast, rests_on
    from pitjournal.analysis.forecast.own_past import past_of, usual_off
    from pitjournal.domain.cuts import find_cut

    cut = find_cut(piece.cut)
    if cut is None:
        return None  # what meat it is, is asked for elsewhere
    begun = on.happened_at.timestamp()
    trace = _trace(journal, whole, piece, begun)
    if trace is None:
        return None
    frame = journal.trends.frame()
    cooker = whole.cooker.name if whole.cooker else ""
    past = past_of(frame, piece.cut, cooker, whole.cook.id)
    usual = usual_off(frame, piece.cut, whole.cook.id)
    target = usual if usual is not None else (cut.off.low + cut.off.high) / 2.0
    thickness = piece.thickness or (cut.thickness.low + cut.thickness.high) / 2.0
    asked = ForecastAsked(
        trace,
        cut.shape,
        thickness,
        whole.mass(piece, Stage.ON) or whole.mass(piece, Stage.TRIMMED),
        whole.cook.set_point,
        _wrapping(whole, piece, begun),
        past,
        (target,),
    )
    (one,) = forecast(asked)
    words = tuple(rests_on(asked, ", ".join(filter(None, (cut.name, cooker)))))
    return _told(whole, piece, on.happened_at, one, words)


def _trace(journal: "Journal", whole: WholeCook, piece: Piece, begun: float) -> "Trace | None":
    import numpy as np

    from pitjournal.analysis.forecast.asked import Trace
    from pitjournal.analysis.traces.readings import samples_of

    meat = samples_of(whole.meat_trace(piece), journal.samples)
    pit = samples_of(whole.pit_trace, journal.samples)
    if meat is None or pit is None or not meat.times.size or not pit.times.size:
        return None
    order = np.argsort(meat.times, kind="stable")
    times, values = meat.times[order] - begun, meat.values[order].astype(np.float64)
    kept = (times >= -60.0) & np.isfinite(values)
    along = np.argsort(pit.times, kind="stable")
    around = np.interp(times[kept], pit.times[along] - begun, pit.values[along])
    return Trace(np.maximum(times[kept], 0.0), values[kept], around)


def _wrapping(whole: WholeCook, piece: Piece, begun: float) -> "Wrapping | None":
    """Return how the piece is wrapped, else how the plan says it will be."""
    from pitjournal.analysis.forecast.asked import Wrapping

    wrap, unwrap = whole.first(EventKind.WRAP, piece), whole.last(EventKind.UNWRAP, piece)
    arm = whole.arm_of(piece)
    if wrap is not None and wrap.happened_at is not None:
        until = unwrap.happened_at.timestamp() - begun if unwrap and unwrap.happened_at else None
        kind = wrap.details.get("wrap") or (arm.wrap if arm else "") or "foil"
        since = wrap.happened_at.timestamp() - begun
        return Wrapping(since, kind, float("inf") if until is None else until)
    planned = _planned(whole, EventKind.WRAP, piece)
    if planned is not None and planned.planned_at is not None:
        kind = planned.details.get("wrap") or (arm.wrap if arm else "") or "foil"
        return Wrapping(planned.planned_at.timestamp() - begun, kind)
    return None


def _planned(whole: WholeCook, kind: EventKind, piece: Piece) -> Event | None:
    open_ones = (
        event
        for event in whole.events
        if event.kind == kind and event.happened_at is None and event.concerns(piece.id)
    )
    return next(open_ones, None)


def _told(
    whole: WholeCook, piece: Piece, on: datetime, one: "Forecast", words: tuple[str, ...]
) -> ComesOff:
    def moment(seconds: float | None) -> datetime | None:
        return None if seconds is None else on + timedelta(seconds=seconds)

    planned = _planned(whole, EventKind.OFF, piece)
    by = None if planned is None or planned.planned_at is None else planned.planned_at
    refused = one.refused
    return ComesOff(
        piece.id,
        piece.label,
        one.target,
        None if refused else moment(one.median),
        None if refused else moment(one.low50),
        None if refused else moment(one.high50),
        None if refused or by is None else one.chance_by((by - on).total_seconds()),
        refused,
        words,
    )
