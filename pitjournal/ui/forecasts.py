"""When the meat of running cooks comes off: worked out off the window's thread, once a minute."""

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bridge import Bridge

if TYPE_CHECKING:
    from collections.abc import Callable

    from pitjournal.journal.queries.ahead import ComesOff, Outlook

CAUTION = "A forecast of a temperature, never of what is fit to eat."
LATER = "later than two days on"
"""For a moment that is not known, or beyond what a forecast looks at."""

EVERY = timedelta(seconds=60)
"""So often it is worked out again while somebody wants it."""


GONE_BY = "the time that it gave has gone by"


def still_ahead(one: "ComesOff", now: datetime) -> "ComesOff":
    """Return a forecast as it may be told now: none where all that it gave lies behind."""
    last = one.late if one.late is not None else one.surely_late
    if one.likely is None or last is None or last >= now:
        return one
    return type(one)(
        one.piece_id,
        one.label,
        one.target,
        refused=GONE_BY,
        rests_on=one.rests_on,
        by_feel=one.by_feel,
    )


class Forecasts(QObject):
    """What is known of each running cook; what is worked out is published whole.

    Signals
    -------
    changed(str)
        There is something new of a cook.
    """

    changed = Signal(str)

    def __init__(self, bridge: Bridge, now: "Callable[[], datetime]", parent: QObject) -> None:
        super().__init__(parent)
        self._bridge, self._now = bridge, now
        self._known: dict[str, tuple[tuple[ComesOff, ...], Outlook | None]] = {}
        self._asked: dict[str, tuple[datetime, str | None]] = {}
        self._busy: set[str] = set()

    def found(self, cook_id: str) -> "tuple[ComesOff, ...]":
        """Return when the pieces of a cook come off, as it was last worked out."""
        known = self._known[cook_id][0] if cook_id in self._known else ()
        return tuple(still_ahead(one, self._now()) for one in known)

    def outlook(self, cook_id: str) -> "Outlook | None":
        """Return what else is known of the piece that was asked about."""
        known = self._known[cook_id][1] if cook_id in self._known else None
        one = None if known is None else self.of(cook_id, known.piece_id)
        return known if one is None or one.refused != GONE_BY else None

    def of(self, cook_id: str, piece_id: str | None) -> "ComesOff | None":
        """Return when a piece comes off."""
        return next((one for one in self.found(cook_id) if one.piece_id == piece_id), None)

    def let_go_of_what_is_off(self, whole: WholeCook) -> None:
        """Say no more of pieces that came off since it was worked out."""
        found, ahead = self._known.get(whole.cook.id, ((), None))
        off = {one.id for one in whole.pieces if whole.last(EventKind.OFF, one) is not None}
        on = tuple(one for one in found if one.piece_id not in off)
        if len(on) < len(found):
            ahead = None if ahead is None or ahead.piece_id in off else ahead
            self._known[whole.cook.id] = on, ahead

    def want(self, whole: WholeCook, piece_id: str | None = None) -> None:
        """Work a cook out where that is a minute old, or another piece is asked about.

        Parameters
        ----------
        whole
            The cook, with its readings as far as they have come.
        piece_id
            Whose outlook is wanted; "" for that of the piece that comes off first, None for none.
        """
        cook, now = whole.cook, self._now()
        self.let_go_of_what_is_off(whole)
        if cook.status is not CookStatus.RUNNING or whole.pit_trace is None:
            if self._known.pop(cook.id, None) is not None:
                self.changed.emit(cook.id)
            return
        asked, of = self._asked.get(cook.id, (None, None))
        piece_id = of if piece_id is None else piece_id
        fresh = asked is not None and abs(now - asked) < EVERY and of == piece_id
        if fresh or cook.id in self._busy:
            return
        self._busy.add(cook.id)
        self._asked[cook.id] = now, piece_id
        journal = self._bridge.journal

        def work(_progress: object) -> "tuple[tuple[ComesOff, ...], Outlook | None]":
            found = journal.comes_off(whole)
            first = next((one.piece_id for one in found if one.likely is not None), "")
            wanted = piece_id or first
            if piece_id is None or not wanted:
                return found, None
            return found, journal.outlook(whole, wanted)

        def done(known: "tuple[tuple[ComesOff, ...], Outlook | None]") -> None:
            self._known[cook.id] = known
            self.changed.emit(cook.id)

        self._bridge.run(
            "Work out when it comes off",
            work,
            done,
            failed=lambda _why: None,
            asker=self,
            ended=lambda: self._busy.discard(cook.id),
            quiet=True,
        )
