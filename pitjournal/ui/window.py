"""The window: the rail, the place that is seen, and what lies over it."""

import gc
import logging
import traceback
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from types import TracebackType

from PySide6.QtCore import QTimer
from PySide6.QtGui import (
    QCloseEvent,
    QGuiApplication,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QApplication, QHBoxLayout, QStackedWidget, QWidget

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.errors import JournalError
from pitjournal.fault_words import fault_text
from pitjournal.files import apart
from pitjournal.journal import Changes
from pitjournal.journal.fault_log import to_send
from pitjournal.store.faults import refusal
from pitjournal.ui.clock_watch import ClockWatch
from pitjournal.ui.cook.place import PAGES, CookPlace, since
from pitjournal.ui.cooks.page import CooksPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.find_and_do import everywhere, find_box, unnamed
from pitjournal.ui.keeping.unsaved import UnsavedPanel
from pitjournal.ui.keyed_window import KeyedWindow
from pitjournal.ui.later import Ahead
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.ask_panel import AskPanel
from pitjournal.ui.look.parts.messages import MessageBar, place_at_foot
from pitjournal.ui.look.parts.overlay import (
    Action,
    Overlay,
    panels_over,
    put_away_all,
    top_panel,
)
from pitjournal.ui.look.parts.window_panels import BugPanel, KeysPanel, TablesPanel, charts_on
from pitjournal.ui.look.parts.words import column
from pitjournal.ui.look.theme import look, sized
from pitjournal.ui.page import Page
from pitjournal.ui.rail import RUNNING, Rail
from pitjournal.ui.tasting.unsee_panel import UnseePanel

log = logging.getLogger(__name__)

OF_COOKS = frozenset({"cook", "new cook", "compare", "old cooks"})
"""Places that the rail shows as Cooks."""

UNDER = {**dict.fromkeys(OF_COOKS, "cooks"), "contest": "season"}
"""What the rail shows for a place that has no button of its own."""

AHEAD = ("new cook", "trends", "shelf", "compare", "old cooks", "season")
"""Places that are made before they are gone to, after the pages of a cook."""

MOST_RUNNING = 4
"""So many running cooks have a button on the rail."""

FIRST = 300
"""Milliseconds after the window was made: it is painted by then, and looks for what is due."""


def _nothing() -> None:
    return


class Window(KeyedWindow):
    """One open journal.

    Parameters
    ----------
    desk
        The open journal.
    makers
        Makes a place by name, when it is first gone to.
    panels
        Makes a panel by name ("settings", "probe file", …), with the cook it is for.
    """

    def __init__(
        self,
        desk: Desk,
        makers: Mapping[str, Callable[[Desk], Page]],
        panels: Mapping[str, Callable[[Desk, "Window", str], Overlay | None]],
    ) -> None:
        super().__init__(desk)
        self._makers, self._panels = makers, panels
        self._places: dict[str, Page] = {}
        self._bugs: set[str] = set()
        self.setWindowTitle(f"{desk.journal.name} – Pitjournal")
        self.setMinimumSize(tokens.LEAST_WIDTH, tokens.LEAST_HEIGHT)
        self.resize(1280, 800)
        self.rail = Rail()
        self.rail.chosen.connect(self._from_rail)
        self.stack = QStackedWidget()
        inner = QWidget()
        inner.setObjectName("paper")
        layout = QHBoxLayout(inner)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        self._foot = QWidget()  # so that the bar covers nothing
        sized(self._foot, lines=1, height=tokens.BAR_HEIGHT)
        layout.addWidget(self.rail)
        beside = column(self.stack, self._foot, space=0)
        beside.setStretch(0, 1)
        layout.addLayout(beside, 1)
        self.setCentralWidget(inner)
        self.bar = MessageBar(desk.bridge, parent=self)
        self._place_bar = place_at_foot(self.bar, inner)
        self.bar.shown.connect(self._place_bar)
        desk.bridge.unseeing.connect(lambda: self._open(UnseePanel(desk.bridge, self)))
        desk.bridge.elsewhere.connect(self._ask_elsewhere)
        desk.bridge.seen_cook = self._seen_cook
        desk.bridge.changed.connect(self._hear)
        desk.going.connect(self.go_to)
        desk.leaving.connect(self.close)
        desk.watch.changed.connect(self._show_alarm)
        desk.watch.rang.connect(self._ring)
        self._clock_watch = ClockWatch(desk, self, self._open)
        self._tick = QTimer(self, interval=10_000)
        self._tick.timeout.connect(self._show_running)
        self._tick.timeout.connect(self._look_at_clock)
        self._tick.start()
        self.ahead = Ahead(desk.bridge, self)
        self._make_ahead()
        self._bind((*self._everywhere(), *self._unnamed()))
        self.go("cooks")
        self._show_running()
        self._soon = QTimer(self, interval=FIRST, singleShot=True)
        self._soon.timeout.connect(self._look_around)
        self._soon.start()

    def _look_around(self) -> None:
        """Look from now on at what is due and what comes in by itself."""
        self.desk.watch.start()
        self.desk.follow.start()

    def _make_ahead(self) -> None:
        """Have the places made while nobody asks for anything, so that a first visit is quick."""
        # Making the statements takes longer than asking them, and can be done without a cook.
        self.ahead.add(lambda: self.desk.journal.wholes(["none"]), _nothing)
        load = getattr(self._makers["cook"], "load", _nothing)
        self.ahead.add(load, partial(self._place, "cook"))
        for name, _ in PAGES:
            self.ahead.add(
                self._of_cook(CookPlace.load, name), self._of_cook(CookPlace.prepare, name)
            )
            self.ahead.add(_nothing, self._of_cook(CookPlace.settle, name))
            self.ahead.add(_nothing, self._of_cook(CookPlace.spare, name))
        for name in AHEAD:
            load = getattr(self._makers[name], "load", _nothing)
            self.ahead.add(load, partial(self._place, name))
            self.ahead.add(_nothing, partial(self._read_ahead, name))
        self.ahead.start(FIRST)

    def _read_ahead(self, name: str) -> None:
        self._places[name].read_ahead()

    def _of_cook(self, do: Callable[[CookPlace, str], object], name: str) -> Callable[[], object]:
        def run() -> object:
            place = self._places["cook"]  # not made here: the worker runs this too
            assert isinstance(place, CookPlace)
            return do(place, name)

        return run

    # going about

    def go(self, place: str, cook_id: str = "", page: str = "") -> None:
        """Go to a place, or open a panel."""
        self.go_to(Destination(place=place, cook_id=cook_id, page=page))

    def go_to(self, there: Destination) -> None:
        """Go to a place with what is to be taken over there, or open a panel."""
        place = there.place
        if place in self._panels:
            self.open_panel(place, there.cook_id)
            return
        put_away_all(self)
        current = self.stack.currentWidget()
        if isinstance(current, Page):
            current.leave()
        made = self._place(place)
        try:
            made.meet(there)
        except JournalError as error:
            self.desk.bridge.refused.emit(str(error))
            return
        focus = self.focusWidget()
        if made is not current and focus is not None and self.stack.isAncestorOf(focus):
            focus.clearFocus()  # or Qt looks for one on the next place, and scrolls there
        self.stack.setCurrentWidget(made)
        made.arrive()
        made.take(there)
        if made is not current and made.first_field is not None:
            made.first_field.setFocus()
        self.rail.choose(UNDER.get(place, place))
        self._turned()

    def _turned(self) -> None:
        """Take the keys of the page that is seen, and say what was saved in its place."""
        self._bind_page(self.place)
        self.cover_changed()

    def _place(self, name: str) -> Page:
        if name not in self._places:
            made = self._places[name] = self._makers[name](self.desk)
            self.stack.addWidget(made)
            made.turned.connect(self._turned)
        return self._places[name]

    @property
    def place(self) -> Page:
        """The place that is seen."""
        found = self.stack.currentWidget()
        assert isinstance(found, Page)
        return found

    @property
    def cooks(self) -> CooksPage:
        """The list of cooks."""
        found = self._place("cooks")
        assert isinstance(found, CooksPage)
        return found

    def _from_rail(self, name: str) -> None:
        if name.startswith(RUNNING):
            self.go("cook", name.removeprefix(RUNNING), "bench")
            return
        if name != "running":
            self.go(name)
            return
        ringing = self.desk.watch.ringing
        if ringing:
            self.go("cook", ringing[0].whole.cook.id, "bench")
            return
        running = self.running()
        if running is not None:
            self.go("cook", running.id, "bench")

    def _seen_cook(self) -> str:
        """Return the id of the cook that is seen, or an empty text."""
        place = self.stack.currentWidget()
        return place.cook_id if isinstance(place, CookPlace) else ""

    def _ask_elsewhere(self, what: str, other: str) -> None:
        """Ask before a step of a cook that is not seen is undone."""
        undo = self.desk.bridge.undo_at_any_rate
        said = f"The newest step is of another cook than the one you look at: {what}, in {other}."
        self._open(AskPanel(self, "Undo it there?", said, ("Undo it there", "Leave it"), undo))

    def running(self) -> Cook | None:
        """Return the cook that is running, the newest if there are several."""
        return next(iter(self._all_running()), None)

    def _all_running(self) -> list[Cook]:
        """Return the cooks that are running, the newest first."""
        found = self.desk.journal.find(Cook, status=CookStatus.RUNNING)
        return sorted(found, key=lambda cook: cook.starts_at, reverse=True)

    def _look_at_clock(self) -> None:
        """Say that the clock was set, once no panel is in use."""
        if top_panel(self) is None:
            self._clock_watch.look()

    def _show_running(self) -> None:
        apart.tidy()
        cooks = self._all_running()
        said = [(cook.id, self._clock_of(cook), f"Cook {cook.number}") for cook in cooks]
        self.rail.running.show_cook(*(said[0][1:] if said else ("", "")))
        self.rail.show_besides(said[1:MOST_RUNNING])

    def _clock_of(self, cook: Cook) -> str:
        """Return how long the meat of a cook has been on."""
        on, now = self.desk.time_on(cook.id), self.desk.now()
        return since(cook.starts_at if on is None else now - on, now)

    # alarms

    def _show_alarm(self) -> None:
        ringing = self.desk.watch.ringing
        self.rail.running.show_alarm(ringing[0].words if ringing else "")

    def _ring(self) -> None:
        self.desk.sound.ring(self.desk.preferences.sound)
        QApplication.alert(self)

    # hearing

    def _hear(self, changes: Changes) -> None:
        for page in self._places.values():
            page.hear(changes)
        if changes.kinds & {"cook", "event"}:
            self._show_running()

    def cover_changed(self) -> None:
        """Let the keys of what is covered rest; one bar says what was saved."""
        covered = top_panel(self) is not None
        own = self.place.own_bar
        self._foot.setVisible(own is None)
        if own is not None:
            own.silence(silent=covered)
        self.bar.silence(silent=own is not None and not covered)
        self._place_bar()
        self._heed_letters()

    def showEvent(self, event: QShowEvent) -> None:
        """Take the style sheet of now, if that changed before there was this window."""
        look().restyling.catch_up_all()
        super().showEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the bar at the foot."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._place_bar)

    # keys

    def _everywhere(self) -> Sequence[Action]:
        return everywhere(
            self.desk,
            find=self._find_box,
            keys=self._show_keys,
            running=lambda: self._from_rail("running"),
            tables=self._show_tables,
        )

    def _unnamed(self) -> Sequence[Action]:
        return unnamed(self.desk)

    def _show_keys(self) -> None:
        groups = (("On this page", self.place.actions_here()), ("Everywhere", self._everywhere()))
        self._open(KeysPanel(self, groups))

    def _show_tables(self) -> None:
        self._open(TablesPanel(self, charts_on(self.place)))

    def _find_box(self) -> None:
        actions = (*self.place.actions_here(), *self._everywhere())
        self._open(find_box(self, self.desk, actions))

    # panels

    def open_panel(self, name: str, cook_id: str = "") -> None:
        """Open a panel over the page."""
        made = self._panels[name](self.desk, self, cook_id)
        if made is not None:
            self._open(made)
        self.rail.choose(self._name_here())

    def _name_here(self) -> str:
        here = self.stack.currentWidget()
        name = next((name for name, page in self._places.items() if page is here), "")
        return UNDER.get(name, name)

    def _open(self, panel: Overlay) -> None:
        """Show a panel over those that are open, but for an older one of its kind."""
        for other in panels_over(self):
            if type(other) is type(panel):
                other.close_panel()
        panel.open_panel()

    @property
    def panel(self) -> Overlay | None:
        """The panel that lies uppermost."""
        return top_panel(self)

    # faults

    def show_bug(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Log a fault, and show it the first time; the window lives on."""
        if isinstance(error, JournalError):
            self.desk.bridge.refused.emit(str(error))
            return
        refused = refusal(error)
        if refused is not None:  # a disk's, of something that goes on by itself
            log.warning("the disk refused\n%s", fault_text(error))
            self.desk.bridge.tell_once("", str(refused))
            return
        details = fault_text(error)
        log.error("a fault of the program\n%s", details)
        where = f"{kind.__name__} {traceback.extract_tb(trace)[-1:] if trace else ''}"
        if where in self._bugs:
            return
        self._bugs.add(where)

        def copy() -> None:
            QGuiApplication.clipboard().setText(to_send(details))

        self._open(BugPanel(self, details, copy))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Save what stands in a field, then let go; what is not saved yet keeps it open."""
        self.place.leave()
        self.desk.bridge.save_unsaved()
        if self.desk.bridge.unsaved:
            self._open(UnsavedPanel(self.desk, self))
            event.ignore()
            return
        self.let_keys_go()
        self._tick.stop()
        self._soon.stop()
        self.ahead.stop()
        gc.unfreeze()
        self.hide()  # a backup of a large journal takes a second, and nobody has to watch it
        self.desk.close()
        apart.close()
        event.accept()
