"""What every page works with: the open journal, its bridge, the cook's units and clock."""

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

from PySide6.QtCore import QObject, Signal

from pitjournal.domain.blind import SETTING as BLIND
from pitjournal.domain.blind import without_arms
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.day.on_time import time_on
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfKind, plain_name
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.journal.preferences import Preferences, save_preferences
from pitjournal.journal.steady_clock import SteadyClock
from pitjournal.ui.alarm_sound import AlarmSound
from pitjournal.ui.backing_up import BackingUp
from pitjournal.ui.bridge import Bridge
from pitjournal.ui.cold_pieces import ColdPieces
from pitjournal.ui.destination import Destination
from pitjournal.ui.follow import Follow
from pitjournal.ui.forecasts import Forecasts
from pitjournal.ui.upkeep import Upkeep
from pitjournal.ui.watch import Watch
from pitjournal.units import UnitSystem

AT_ONCE = 300
"""So few cooks are read in the time of a blink."""


class Desk(QObject):
    """One open journal as the window has it.

    Signals
    -------
    going(object)
        Go to a `Destination`: a place ("cooks", "cook", "trends", "shelf", "new cook") or a
        panel, with all it is gone to with.
    opening(str, bool)
        Open the journal in a folder; made there if it is new.
    restoring(str)
        Put a backup in the place of this journal.
    moving(str, str)
        Go on in another folder, with what waits to be saved.
    leaving()
        Close the window: what waits may be lost.
    units_changed()
        The cook wants the other units; pages show everything anew.
    """

    going = Signal(object)
    opening = Signal(str, bool)
    restoring = Signal(str)
    moving = Signal(str, str)
    leaving = Signal()
    units_changed = Signal()

    def __init__(
        self,
        journal: Journal,
        preferences: Preferences,
        clock: Callable[[], datetime] | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.journal = journal
        self.bridge = Bridge(journal, self)
        self.preferences = preferences
        self.steady = SteadyClock()
        self.clock = clock or self.steady.now
        self.sound = AlarmSound(self)
        self.follow = Follow(self.bridge, self.now, self)
        self.forecasts = Forecasts(self.bridge, self.now, self)
        self.cold = ColdPieces(self.bridge, self)
        self.watch = Watch(self.bridge, self.now, self.follow, self.forecasts, self.seen, self)
        self._catalogue: Catalogue | None = None
        self._used: dict[tuple[str, str], list[str]] = {}
        self._on_shelf: dict[ShelfKind, frozenset[str]] = {}
        self.bridge.changed.connect(self._forget)
        self._upkeep = Upkeep(self.bridge, self)
        self._backing_up = BackingUp(self.bridge, self)

    def now(self) -> datetime:
        """Return the time, aware."""
        return self.clock()

    @property
    def system(self) -> UnitSystem:
        """The units the cook reads and means."""
        return UnitSystem.METRIC if self.preferences.units == "metric" else UnitSystem.US

    @property
    def catalogue(self) -> Catalogue:
        """The variables of the journal."""
        if self._catalogue is None:
            self._catalogue = self.journal.catalogue()
        return self._catalogue

    def reads_at_once(self, keys: Iterable[str] = ()) -> bool:
        """Whether all cooks are in memory, or read faster than a worker could be asked to.

        Parameters
        ----------
        keys
            The variables that are read of them.
        """
        trends = self.journal.trends
        return trends.holds(keys) or (trends.up_to_date and self.few_cooks)

    @property
    def few_cooks(self) -> bool:
        """Whether what is asked of all cooks is answered faster than a worker could be asked."""
        return self.journal.cooks.count() < AT_ONCE

    def hides_arms(self, cook_id: str) -> bool:
        """Whether the arms of a cook are hidden at the bench."""
        return bool(self.journal.setting(BLIND + cook_id))

    def seen(self, whole: WholeCook) -> WholeCook:
        """Return a cook as the bench may show it: its arms hidden or not."""
        return without_arms(whole) if self.hides_arms(whole.cook.id) else whole

    def used(self, kind: type[Record], field: str) -> list[str]:
        """Return the texts used in a field so far, most used first; kept until one changes."""
        key = kind.KIND, field
        if key not in self._used:
            self._used[key] = self.journal.used(kind, field)
        return self._used[key]

    def on_shelf(self, kind: ShelfKind) -> frozenset[str]:
        """Return the plain names that are in use on the Shelf; kept until it changes."""
        if kind not in self._on_shelf:
            found = self.journal.shelf.items(kind)
            names = (plain_name(item.name) for item in found if not item.retired)
            self._on_shelf[kind] = frozenset(names)
        return self._on_shelf[kind]

    def _forget(self, changes: object) -> None:
        kinds = set(getattr(changes, "kinds", ()))
        self._used = {key: found for key, found in self._used.items() if key[0] not in kinds}
        if "shelf_item" in kinds:
            self._on_shelf.clear()
        if {"own_variable", "scheme", "tasting"} & kinds:
            self._catalogue = None

    def prefer(self, preferences: Preferences) -> None:
        """Take over preferences and keep them."""
        units = preferences.units != self.preferences.units
        self.preferences = preferences
        save_preferences(preferences)
        if units:
            self.units_changed.emit()

    def go(self, place: str, cook_id: str = "", page: str = "") -> None:
        """Go to a place; `page` names a page of a cook."""
        self.go_to(Destination(place=place, cook_id=cook_id, page=page))

    def go_to(self, there: Destination) -> None:
        """Go to a place with what is to be taken over there."""
        self.going.emit(there)

    def time_on(self, cook_id: str) -> timedelta | None:
        """Return how long the meat of a cook has been on; None before it goes on."""
        pieces = [piece.id for piece in self.journal.find(Piece, cook_id=cook_id)]
        ons_and_offs = [
            event
            for kind in (EventKind.ON, EventKind.OFF)
            for event in self.journal.find(Event, cook_id=cook_id, kind=kind)
        ]
        return time_on(ons_and_offs, pieces, self.now())

    def close(self) -> None:
        """Let go of the journal."""
        self.watch.stop()
        self.sound.stop()
        self.follow.stop()
        self.follow.settle()
        self._upkeep.close()
        self._backing_up.stop()
        self.bridge.close()
        self.journal.jobs.close()  # a backup comes after the work under way
        self._backing_up.at_close()
        self.journal.close()
