"""When the meat comes off: the third thing that a bench says, after the clock and what is next."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from PySide6.QtCore import Qt
from PySide6.QtGui import QMouseEvent

from pitjournal.domain.day.schedule import due
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.ahead import ComesOff
from pitjournal.ui.bench.ahead import why_no_time
from pitjournal.ui.bench.model import Life, PieceNow
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import Elided, column, words
from pitjournal.ui.look.theme import sized, tabular
from pitjournal.units import Dimension, UnitSystem, show

AS_PLANNED = timedelta(minutes=20)
"""So near to its planned time meat went on as planned."""

WIDTH = 200
"""What the card takes, px."""

ALL_OFF = "All off"


def off_words(
    whole: WholeCook, found: Sequence[ComesOff], pieces: Sequence[PieceNow], now: datetime
) -> tuple[str, str, str]:
    """Return what is said of when the meat comes off: over the time, the time, and below it."""
    zone = whole.cook.zone
    if pieces and all(one.life is Life.OFF for one in pieces):
        return ALL_OFF, "", ""
    there = [one.life for one in pieces if one.life in {Life.ON, Life.RIGHT, Life.OVER}]
    if there and Life.ON not in there:
        return "Comes off", "now", "all felt right" if len(there) > 1 else "it felt right"
    first = next((one for one in found if one.likely is not None), None)
    if first is not None and first.likely is not None:
        which = f"{first.label} off, most likely" if len(found) > 1 else "Off, most likely"
        between = ""
        if first.early is not None and first.late is not None:
            early, late = (show_moment(at, zone, now) for at in (first.early, first.late))
            between = f"{early} to {late}"
        return which, show_moment(first.likely, zone, now), between
    planned = next((e for e in due(whole.events) if e.kind == EventKind.OFF), None)
    if planned is not None and planned.planned_at is not None:
        refused = next((one.refused for one in found if one.refused), "")
        below = "as planned; past its target" if refused == "reached" else "as planned"
        return _as_planned(whole, planned, planned.planned_at, now, below)
    return "Comes off", "", "not known yet"


def _as_planned(
    whole: WholeCook, step: Event, planned: datetime, now: datetime, below: str
) -> tuple[str, str, str]:
    """Return the time planned, moved along where the meat went on at another time than planned."""
    zone, late = whole.cook.zone, went_on_late(whole, step)
    if abs(late) < AS_PLANNED:
        return "Comes off", show_moment(planned, zone, now), below
    early = "late" if late > timedelta(0) else "early"
    by = show(abs(late).total_seconds(), Dimension.DURATION, UnitSystem.US)
    said = f"went on {by} {early}"
    return "Comes off", show_moment(planned + late, zone, now), said


def went_on_late(whole: WholeCook, step: Event) -> timedelta:
    """Return how much later than planned the meat of a step went on; less than nothing: earlier."""
    for event in whole.events:
        planned, at = event.planned_at, event.happened_at
        same = not step.pieces or not event.pieces or set(step.pieces) & set(event.pieces)
        if event.kind == EventKind.ON and planned is not None and at is not None and same:
            return at - planned
    return timedelta(0)


def off_at(found: Sequence[ComesOff], piece_id: str, zone: str, now: datetime) -> str:
    """Return when a piece comes off as its card says it; "" where that is not known."""
    one = next((one for one in found if one.piece_id == piece_id), None)
    if one is None or one.likely is None:
        return ""
    return f"off {show_moment(one.likely, zone, now)}"


def ahead_of(found: Sequence[ComesOff], piece_id: str, zone: str, now: datetime) -> tuple[str, ...]:
    """Return what a piece's card says of when it comes off, in full and ever shorter.

    The half of the chances and the likeliest time, or why nobody can say; empty without a probe.
    """
    one = next((one for one in found if one.piece_id == piece_id), None)
    if one is None:
        return ()
    if one.likely is None or one.early is None:
        why = "at its target" if one.refused == "reached" else why_no_time(one.refused)
        return (f"{why[0].lower()}{why[1:]}",) if why else ()
    likely = show_moment(one.likely, zone, now)
    late = "later" if one.late is None else show_moment(one.late, zone, now)
    span = f"{show_moment(one.early, zone, now)}–{late}"
    return (
        f"off {span}, most likely {likely}",
        f"off {span}, likely {likely}",
        f"off {span}",
        f"off {likely}",
    )


def with_off(piece: PieceNow, found: Sequence[ComesOff], zone: str, now: datetime) -> PieceNow:
    """Return a piece with when it comes off, and how sure that is."""
    one = piece.piece.id
    return replace(piece, off=off_at(found, one, zone, now), ahead=ahead_of(found, one, zone, now))


class OffCard(Card):
    """When the meat comes off; a tap on it tells more."""

    def __init__(self, more: Callable[[], object]) -> None:
        super().__init__()
        self._more = more
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip("When it comes off, and what if: W")
        sized(self, width=WIDTH)
        self.over = Elided("", "heading")
        self.time = tabular(words("", "big", wrap=False))
        self.below = Elided("", "quiet")
        self._said = "", "", ""
        self._shortly = False
        self.body.addLayout(column(None, self.over, self.time, self.below, None, space=0))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Tell more."""
        if self.rect().contains(event.position().toPoint()):
            self._more()

    def show_cook(
        self,
        whole: WholeCook,
        found: Sequence[ComesOff],
        pieces: Sequence[PieceNow],
        now: datetime,
    ) -> None:
        """Show when it comes off."""
        over, time, below = off_words(whole, found, pieces, now)
        self.setVisible(over != ALL_OFF)  # what is next says it, with more to press beside it
        self._said = over, time, below
        self._show()

    def say_shortly(self, *, shortly: bool) -> None:
        """Say it in one line, where there is little room."""
        self._shortly = shortly
        self._show()

    def _show(self) -> None:
        over, time, below = self._said
        line = ", ".join(part for part in (f"{over} {time}".strip(), below) if part)
        self.over.show_text(line if self._shortly else over)
        self.time.setText(time)
        self.time.setVisible(bool(time) and not self._shortly)
        self.below.show_text(below)
        self.below.setVisible(bool(below) and not self._shortly)
