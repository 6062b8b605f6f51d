"""When the pieces of a running cook will come off; for a worker."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.analysis.forecast.asked import ForecastAsked, Trace, Wrapping
    from pitjournal.analysis.forecast.by_feel import Right
    from pitjournal.analysis.forecast.forecast import Forecast
    from pitjournal.analysis.forecast.what_if import WhatIf
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
    surely_early, surely_late
        The span that holds nine in ten of the chances.
    probe_from
        When to start probing: 10 °F below the target; None where that is not known.
    by_feel
        Whether the target is where one's own pieces felt right, and not a temperature alone.
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
    surely_early: datetime | None = None
    surely_late: datetime | None = None
    probe_from: datetime | None = None
    by_feel: bool = False


@dataclass(frozen=True)
class OnTheWay:
    """When a temperature on the way, °C, is reached: likely, and the two spans; None unknown."""

    celsius: float
    likely: datetime | None
    early: datetime | None
    late: datetime | None
    surely_early: datetime | None
    surely_late: datetime | None


@dataclass(frozen=True)
class Outlook:
    """What else a forecast says of a piece.

    Attributes
    ----------
    piece_id
        Which.
    fan
        Temperatures on the way to the target, lowest first: the fan to draw from the last reading.
    stall_begins, stall_ends
        The stall by the rule that a finished trace is judged by; None where none is seen.
    stalled
        Whether it has begun.
    what_ifs
        What a change now would do to the most likely time.
    """

    piece_id: str
    fan: tuple[OnTheWay, ...]
    stall_begins: datetime | None
    stall_ends: datetime | None
    stalled: bool
    what_ifs: "tuple[WhatIf, ...]"


def comes_off(journal: "Journal", whole: WholeCook) -> tuple[ComesOff, ...]:
    """Return the forecast of each piece that is on and has a probe, soonest first."""
    found = [one for piece in whole.pieces if (one := _piece(journal, whole, piece)) is not None]
    return tuple(sorted(found, key=lambda one: (one.likely is None, one.likely, one.label)))


def outlook(journal: "Journal", whole: WholeCook, piece_id: str) -> Outlook | None:
    """Return what else is known of a piece that is on; None where nothing is.

    Parameters
    ----------
    journal, whole
        The journal, and its running cook.
    piece_id
        Which piece.
    """
    from pitjournal.analysis.forecast.fan import fan, stall_ahead
    from pitjournal.analysis.forecast.what_if import what_if

    piece = next((one for one in whole.pieces if one.id == piece_id), None)
    question = None if piece is None else _question(journal, whole, piece)
    if question is None:
        return None
    asked = question.asked
    ahead = fan(asked)
    stall = stall_ahead(asked, ahead)
    return Outlook(
        piece_id,
        tuple(
            OnTheWay(
                one.target,
                *(
                    question.moment(at)
                    for at in (one.median, one.low50, one.high50, one.low90, one.high90)
                ),
            )
            for one in ahead
        ),
        None if stall is None else question.moment(stall.begins),
        None if stall is None else question.moment(stall.ends),
        stall is not None and stall.begun,
        what_if(asked),
    )


@dataclass(frozen=True)
class _Question:
    """What is asked of a piece that is on: at which moment it went on, and where it feels right."""

    asked: "ForecastAsked"
    on: datetime
    right: "Right | None"
    words: tuple[str, ...]

    def moment(self, seconds: float | None) -> datetime | None:
        """Return a moment from s since on."""
        return None if seconds is None else self.on + timedelta(seconds=seconds)


def _piece(journal: "Journal", whole: WholeCook, piece: Piece) -> ComesOff | None:
    question = _question(journal, whole, piece)
    if question is None:
        return None
    from pitjournal.analysis.forecast.by_feel import EARLY, by_feel
    from pitjournal.analysis.forecast.forecast import forecast

    asked, right = question.asked, question.right
    if right is not None:
        felt = by_feel(asked, right)
        return _comes_off(whole, piece, question, felt.right, felt.probe_from)
    (target,) = asked.targets
    probing, one = forecast(replace(asked, targets=(target - EARLY, target)))
    return _comes_off(whole, piece, question, one, probing.median)


def _question(journal: "Journal", whole: WholeCook, piece: Piece) -> _Question | None:
    on, off = whole.first(EventKind.ON, piece), whole.last(EventKind.OFF, piece)
    meat, pit = whole.meat_trace(piece), whole.pit_trace
    if on is None or on.happened_at is None or off is not None or meat is None or pit is None:
        return None
    from pitjournal.analysis.forecast.asked import ForecastAsked
    from pitjournal.analysis.forecast.forecast import rests_on
    from pitjournal.analysis.forecast.own_past import past_of, right_by_feel, usual_off
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
    right = right_by_feel(frame, piece.cut, whole.cook.id)
    usual = usual_off(frame, piece.cut, whole.cook.id)
    target = right.middle if right is not None else usual
    asked = ForecastAsked(
        trace,
        cut.shape,
        piece.thickness or (cut.thickness.low + cut.thickness.high) / 2.0,
        whole.mass(piece, Stage.ON) or whole.mass(piece, Stage.TRIMMED),
        whole.cook.set_point,
        _wrapping(whole, piece, begun),
        past_of(frame, piece.cut, cooker, whole.cook.id),
        ((cut.off.low + cut.off.high) / 2.0 if target is None else target,),
    )
    words = rests_on(asked, ", ".join(filter(None, (cut.name, cooker))))
    if right is not None:
        words.append(f"{right.pieces} of your pieces that felt right as they came off")
    return _Question(asked, on.happened_at, right, tuple(words))


def asked_at(
    journal: "Journal", whole: WholeCook, piece: Piece, until: float
) -> "ForecastAsked | None":
    """Return what would have been asked of a piece at a moment, by its readings until then.

    Parameters
    ----------
    journal, whole
        The journal, and the cook as it was known then.
    piece
        Which; not off yet.
    until
        The moment, s since 1970.
    """
    question = _question(journal, whole, piece)
    if question is None:
        return None
    trace = question.asked.trace
    seen = trace.seconds <= until - question.on.timestamp()
    cut = replace(trace, seconds=trace.seconds[seen], meat=trace.meat[seen], pit=trace.pit[seen])
    return replace(question.asked, trace=cut)


def _trace(journal: "Journal", whole: WholeCook, piece: Piece, begun: float) -> "Trace | None":
    import numpy as np

    from pitjournal.analysis.forecast.asked import Trace
    from pitjournal.analysis.traces.readings import samples_of

    meat = samples_of(whole.meat_trace(piece), journal.files.samples)
    pit = samples_of(whole.pit_trace, journal.files.samples)
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


def _comes_off(
    whole: WholeCook,
    piece: Piece,
    question: _Question,
    one: "Forecast",
    probe_from: float | None,
) -> ComesOff:
    def moment(seconds: float | None) -> datetime | None:
        return None if one.refused else question.moment(seconds)

    planned = _planned(whole, EventKind.OFF, piece)
    by = None if planned is None or planned.planned_at is None else planned.planned_at
    in_time = None
    if by is not None and not one.refused:
        in_time = one.chance_by((by - question.on).total_seconds())
    return ComesOff(
        piece.id,
        piece.label,
        one.target,
        moment(one.median),
        moment(one.low50),
        moment(one.high50),
        in_time,
        one.refused,
        question.words,
        moment(one.low90),
        moment(one.high90),
        moment(probe_from),
        question.right is not None,
    )
