"""Opens the bench at arm's length, keeps it up to date, and brings it back after a restart."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from PySide6.QtWidgets import QWidget

from pitjournal.analysis.bench.live import Live
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.ahead import ComesOff
from pitjournal.ui.bench.alarms.alarm_bar import AlarmBar
from pitjournal.ui.bench.model import Due, PieceNow
from pitjournal.ui.bench.off_card import off_words
from pitjournal.ui.bench.piece_selector import PieceSelector
from pitjournal.ui.bench.wall.tiles import targets_of, tile_of, whole_degrees
from pitjournal.ui.bench.wall.wall import Seen, Wall, WallActions
from pitjournal.ui.desk import Desk
from pitjournal.ui.watch import Called

FROM_AFAR = "Large tiles"


@dataclass(frozen=True)
class Wanted:
    """What is wanted of the bench.

    A tap by its name, a feel of pieces, another look, and what an alarm is for.
    """

    tap: Callable[[str], object]
    feel: Callable[[Sequence[str]], object]
    look_again: Callable[[], object]
    answer: Callable[[Called], None]


class WallKeeper:
    """The bench at arm's length of a page.

    Parameters
    ----------
    page
        The bench, over whose window it lies.
    desk
        The desk.
    selector
        Holds for which pieces the bench's next tap is.
    wanted
        What it wants of the bench.
    """

    def __init__(self, page: QWidget, desk: Desk, selector: PieceSelector, wanted: Wanted) -> None:
        self._page, self._desk, self._selector, self._wanted = page, desk, selector, wanted
        self._does = WallActions(self.tap, desk.bridge.undo, self.put_away)
        self.wall: Wall | None = None
        self._cook_id = ""

    def tap(self, name: str, pieces: Sequence[str]) -> None:
        """Do a tap for some pieces, whichever were chosen before; those are again after it."""
        before = self._selector.chosen
        self._selector.take(tuple(pieces))
        if name == "feel":
            self._wanted.feel(pieces)
        else:
            self._wanted.tap(name)
        self._selector.take(before)

    def open(self, whole: WholeCook | None) -> None:
        """Fill the window with tiles, until the cook goes back; also after a restart."""
        if self.wall is None and whole is not None and whole.pieces:
            self.wall = Wall(self._page.window(), self._does)
            self.wall.destroyed.connect(self._gone)
            alarm = AlarmBar(self._desk, self._answer)
            self.wall.above.addWidget(alarm)
            alarm.show_alarms()
            self._cook_id = whole.cook.id
            self._remember(whole.cook.id)
            self._wanted.look_again()
            first = next(iter(self.wall.tiles.values()), None)
            self.wall.open_panel(first)

    def _answer(self, called: Called) -> None:
        """Do what an alarm is for; one of another cook leads away from here."""
        if called.whole.cook.id != self._cook_id:
            self.put_away()
        self._wanted.answer(called)

    def put_away(self) -> None:
        """Go back to the bench."""
        wall, self.wall = self.wall, None
        self._remember("")
        if wall is not None:
            wall.leave()

    def come_back(self, whole: WholeCook | None) -> None:
        """Open it again where it was open when the program ended."""
        wanted = self._desk.preferences.from_afar
        running = whole is not None and whole.cook.status is CookStatus.RUNNING
        if self.wall is None and running and whole is not None and wanted == whole.cook.id:
            self.open(whole)

    def _gone(self) -> None:
        self.wall = None

    def _remember(self, cook_id: str) -> None:
        if self._desk.preferences.from_afar != cook_id:
            self._desk.prefer(replace(self._desk.preferences, from_afar=cook_id))

    def show(  # noqa: PLR0917 - all that a bench knows
        self,
        whole: WholeCook,
        now: datetime,
        due: Due,
        pieces: Sequence[PieceNow],
        live: Mapping[str, Live],
        found: Sequence[ComesOff],
    ) -> None:
        """Show a cook as it is now, while it is open."""
        if self.wall is None:
            return
        system = self._desk.system
        targets = targets_of(whole, found)
        tiles = [
            tile_of(whole, p, live.get(p.piece.id), targets.get(p.piece.id), system, now)
            for p in pieces
        ]
        over, time, below = off_words(whole, found, pieces, now)
        seen = Seen(
            show_time(now, whole.cook.zone),
            due.heading,
            due.words,
            over,
            time,
            below,
            "on" if due.tap == EventKind.OFF else due.tap,
            lit=whole.first(EventKind.LIT) is not None,
        )
        known = sorted(set(targets.values()))
        fills = (
            f"ring fills to {whole_degrees(known[0], system)}, then probe"
            if known
            else "ring fills once the cut is known"
        )
        self.wall.show_seen(whole, seen, tiles, fills)
