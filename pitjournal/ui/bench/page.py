"""The bench: the clock, the next thing, the pieces, the chart, and ten taps."""

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtCore import QTimer
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout

from pitjournal.analysis.bench.live import PIT, live_of
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.times.moments import show_ago
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.bench import FinishAlarms, FinishCook, LogEvent
from pitjournal.journal.commands.records import Together
from pitjournal.ui.bench.alarms.alarm_bar import AlarmBar, next_alarm
from pitjournal.ui.bench.bench_panels import BenchPanels
from pitjournal.ui.bench.day import DayCard
from pitjournal.ui.bench.model import Due, PieceNow, in_order, piece_now, span_of, with_below
from pitjournal.ui.bench.off_card import OffCard, with_off
from pitjournal.ui.bench.panels import (
    When,
    WhenPanel,
)
from pitjournal.ui.bench.piece_selector import ALL, PieceSelector
from pitjournal.ui.bench.pieces import PieceColumn
from pitjournal.ui.bench.status_bar import ClockCard, DueCard, FireNow, StatusBar
from pitjournal.ui.bench.tapped import (
    all_off,
    all_on,
    due_tap,
    just_on,
    last_tapped,
    last_wrap,
    logged,
    targets,
)
from pitjournal.ui.bench.taps import OF_NOBODY, PANELS, TAPS, TapLine, side_tap, taps_of
from pitjournal.ui.bench.unsaved_taps import NOT_SAVED, tapped_of, with_unsaved
from pitjournal.ui.bench.wall.keeper import FROM_AFAR, WallKeeper, Wanted
from pitjournal.ui.cook.day_chart import DayChart
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.event_words import named_pieces
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.scroll import scroll, scroll_layout
from pitjournal.ui.look.parts.words import column, row
from pitjournal.ui.look.theme import high, px, sized
from pitjournal.ui.watch import Called
from pitjournal.units.first_letter import capital

LINKS_WIDTH = 880
"""Px at 100 % that the links over the chart need beside the pieces."""

FOLLOW, FOLLOWS = "Follow", "files that come in by themselves"


class BenchPage(CookPage):
    """Log at the cooker: one tap, one saved event."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.shown: WholeCook | None = None
        self.blind = False
        self.opens = BenchPanels(self)
        self.setAcceptDrops(True)
        self.setProperty("gloves", True)
        self._listen(desk)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(tokens.XL, tokens.M, tokens.XL, tokens.L)
        outer.setSpacing(tokens.M)
        self.alarm = AlarmBar(desk, self._do_alarm)
        upper = column(self.alarm, space=tokens.M)
        self.alarm.show_alarms()
        self.clock, self.fire, self.off = ClockCard(), FireNow(), OffCard(self.opens.ahead)
        self.due = DueCard(self._do_due, self._tick, self._finish)
        self.band = StatusBar(self.clock, self.due, self.off)
        upper.addWidget(self.band)
        desk.watch.changed.connect(self._make_room)
        self.pieces = PieceColumn()
        left = scroll(self.pieces, "pieces")
        sized(left, width=tokens.PIECES_WIDTH)
        self.pieces.hold_on(left)
        probe = button("Read a probe file", self.opens.read_probe, "link", tip="Ctrl+R")
        files = button(
            "Probe files", self.opens.probe_files, "link", about="with their clocks and places"
        )
        self._links = probe, files
        self.follow = button(FOLLOW, self.opens.follow, "link", about=FOLLOWS)
        afar = button(
            FROM_AFAR,
            self._from_afar,
            "link",
            about="of the bench, to be read from afar",
            tip="F11",
        )
        self.day = DayCard(
            desk,
            self.opens.correct,
            self.opens.remove,
            self.opens.mend,
            self.opens.open_photo,
            afar,
            files,
            probe,
            self.follow,
            ahead=self.opens.ahead,
        )
        self.day.body.addWidget(self.fire)
        middle = row(left, self.day, space=tokens.M)
        middle.setStretch(1, 1)
        upper.addLayout(middle, 1)
        outer.addWidget(scroll_layout(upper, "the cook"), 1)  # the taps below are always in sight
        self.alarm_tap = side_tap("Alarm", self.opens.alarms)
        self.alarm_tap.held.connect(self.opens.alarms)
        self.lock_tap = side_tap("Lock", self.opens.lock)
        self.selector = PieceSelector(
            desk.bridge, self.opens.hide_arms, self.alarm_tap, self.lock_tap
        )
        self.selector.changed.connect(self._tick)
        self.from_afar = WallKeeper(
            self,
            desk,
            self.selector,
            Wanted(self._tap, self.opens.feel, self._tick, self._do_alarm),
        )
        self.pieces.picked.connect(self.selector.pick)
        self.bar = self.selector.bar
        outer.addWidget(self.selector)
        self.tap_line = TapLine()
        self.tap_line.tapped.connect(self._tap)
        self.tap_line.held.connect(self._hold)
        self.taps = self.tap_line.taps
        outer.addWidget(self.tap_line)
        self._second = QTimer(self, interval=1000)
        self._second.timeout.connect(self._tick)

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        keys = "1234567890"
        taps = [
            Action(f"Tap {text.rstrip('…')}", keys[place], self._tapper(name))
            for place, (name, text) in enumerate(TAPS)
        ]
        held = [
            Action(f"{text}, at another time", f"Shift+F{place + 1}", self._holder(name))
            for place, (name, text) in enumerate(TAPS)
            if name not in PANELS
        ]
        return (
            *taps,
            *held,
            Action("All pieces", "A", lambda: self.selector.choose(ALL)),
            Action("Chart, log or photos", "Ctrl+J", self.day.turn_on),
            Action("Read a probe file", "Ctrl+R", self.opens.read_probe),
            Action("Probe files: clocks and places", "Ctrl+Shift+K", self.opens.probe_files),
            Action("Add photos", "Ctrl+P", self._tapper("photo")),
            Action("Log the last thing again", "R", self.repeat),
            Action("Fuel and wood", "Ctrl+Shift+F", self.opens.fuel),
            Action("Weather", "Ctrl+Shift+W", self.opens.weather),
            Action("Follow files that come in", "Ctrl+Shift+R", self.opens.follow),
            Action("Large tiles, to be read from afar", "F11", self._from_afar),
            Action("When it comes off, and what if", "W", self.opens.ahead),
            Action("Set an alarm", "T", self.opens.alarms),
            Action("Lock against stray touches", "L", self.opens.lock),
            Action("Hide or show the arms", "Ctrl+Shift+H", self.opens.hide_arms),
            Action("Hear the alarm", "H", self.alarm.hear.click),
            Action("Do what the alarm is for", "Shift+H", self.alarm.done.click),
            Action("Finish the cook", "Ctrl+Shift+D", self._finish),
        )

    @property
    def own_bar(self) -> MessageBar:
        """Return the line over the taps."""
        return self.bar

    def _listen(self, desk: Desk) -> None:
        """Hear of what comes while the page stands."""
        desk.follow.changed.connect(self._grown)
        desk.bridge.holding.connect(lambda _: self._grown())
        desk.cold.changed.connect(lambda _: self._tick())

    # what opens over it knows

    @property
    def chosen(self) -> tuple[str, ...]:
        """The pieces the next tap is for."""
        return self.selector.chosen

    @property
    def next_due(self) -> Due:
        """The next thing to do."""
        return self.due.due

    @property
    def chart(self) -> DayChart:
        """The chart of the day."""
        return self.day.chart

    def see(self, whole: WholeCook) -> WholeCook:
        """Return a cook as this screen shows it: what waits, followed files, arms hidden or not."""
        held = with_unsaved(self.desk.follow.whole(whole), self.desk.bridge.waiting)
        return self.desk.seen(held)

    def take(self, there: Destination) -> None:
        """Turn to the chart, the log or the photos, as asked."""
        self.day.turn(there.view)

    def show_photos(self) -> None:
        """Turn to the photos."""
        self.day.turn("photos")

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files."""
        self.opens.take_files(event)

    def dropEvent(self, event: QDropEvent) -> None:
        """Keep dropped pictures; anything else is read as a probe file."""
        self.opens.take_dropped(event.mimeData())

    # what it shows

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook, with its probes as far as they have come."""
        self.blind = self.desk.hides_arms(whole.cook.id)
        self.shown = self.see(whole)
        self.desk.cold.want(self.shown)
        self.selector.show_cook(self.shown, hidden=self.blind)
        self.day.show_cook(self.shown)
        self._tick()

    def _grown(self) -> None:
        if self.whole is not None and self.isVisible():
            self.shown = self.see(self.whole)
            self.desk.cold.want(self.shown)
            self.day.show_cook(self.shown)
            self._tick()

    def arrive(self) -> None:
        """Be shown: the clock runs."""
        super().arrive()
        self._second.start()
        self.from_afar.come_back(self.shown)

    def _from_afar(self) -> None:
        self.from_afar.open(self.shown)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make room for what matters most."""
        super().resizeEvent(event)
        self._make_room()

    def _make_room(self) -> None:
        """Let an alarm take the place of the band where the window is low."""
        low = self.height() < high(tokens.BENCH_HEIGHT, 4)
        self.band.setVisible(self.alarm.isHidden() or not low)
        self.day.keep_low(low=low)
        probe, files = self._links  # Other… has both too
        probe.setVisible(not low)
        files.setVisible(self.width() >= px(LINKS_WIDTH))

    def leave(self) -> None:
        """Be left: the clock stands still."""
        super().leave()
        self._second.stop()

    def _now_pieces(self, whole: WholeCook) -> list[PieceNow]:
        now = self.desk.now()
        return [piece_now(whole, piece, self.desk.system, now) for piece in whole.pieces]

    def _tick(self) -> None:
        whole = self.shown
        if whole is None:
            return
        now = self.desk.now()
        live = live_of(whole, self.desk.watch.readings, now)
        pieces = [piece_now(whole, p, self.desk.system, now, live.get(p.id)) for p in whole.pieces]
        cold, zone = self.desk.cold.found(whole.cook.id), whole.cook.zone
        pieces = with_below(pieces, cold, self.desk.system, zone, now)
        self.clock.show_cook(whole, now)
        self.fire.show_cook(whole, now, self.desk.system, live.get(PIT))
        self.due.show_cook(whole, now, pieces)
        self.desk.forecasts.let_go_of_what_is_off(whole)
        found = self.desk.forecasts.found(whole.cook.id)
        pieces = [with_off(p, found, zone, now) for p in pieces]
        self.off.show_cook(whole, found, pieces, now)
        self.pieces.show_pieces(in_order(pieces, self.due.due.pieces), self.selector.chosen)
        self.from_afar.show(whole, now, self.due.due, pieces, live, found)
        self._say_last_read(whole, now)
        self.day.show_ahead(whole, self.chosen)
        self.day.show_ribbon(whole, now)
        self.alarm_tap.say_below(next_alarm(self.desk, whole))
        tap = due_tap(whole, self.due.due, self.chosen, pieces)
        self.tap_line.show_cook(whole, now, tap, all_on=all_on(whole, self.chosen))
        meant = {name: self._meant_words(whole, name, pieces) for name in self.taps}
        held = tapped_of(self.desk.bridge.waiting, whole.cook.id)
        unsaved = {one.kind if isinstance(one, Event) else "feel" for one in held}
        self.tap_line.show_meant({**meant, **dict.fromkeys(taps_of(unsaved), NOT_SAVED)})

    def _meant_words(self, whole: WholeCook, name: str, pieces: Sequence[PieceNow]) -> str:
        """Return for whom a tap is, where that is not plainly everyone."""
        if name in OF_NOBODY or len(whole.pieces) < 2:
            return ""
        kind = self._kind(name)
        meant = targets(whole, self.selector.chosen, kind, pieces)
        if not meant and (kind not in {EventKind.ON, EventKind.OFF} or all_off(whole, ())):
            return ""
        return named_pieces(whole, meant)

    def _say_last_read(self, whole: WholeCook, now: datetime) -> None:
        """Say how long ago the probes that are followed said something."""
        last = self.desk.follow.last_grew(whole)
        ago = "" if last is None else show_ago(max((now - last).total_seconds(), 0.0))
        said = f"Last read {ago}" if ago else FOLLOW
        if said != self.follow.text():
            self.follow.setText(said)

    # taps

    def _tapper(self, name: str) -> Callable[..., None]:
        return lambda *_: self._tap(name)

    def _holder(self, name: str) -> Callable[..., None]:
        return lambda *_: self._hold(name)

    def _tap(self, name: str) -> None:
        whole = self.shown
        if whole is None:
            return
        panels = {
            "feel": self.opens.feel,
            "weigh": self.opens.weigh,
            "photo": self.opens.photo,
            "other": self.opens.other,
        }
        if name in panels:
            panels[name]()
        elif name == "lit" and whole.first(EventKind.LIT) is not None:
            self.opens.fuel()
        elif self._kind(name) == EventKind.OFF and just_on(whole, self.desk.now()):
            self.desk.bridge.refused.emit("On was tapped just now. In a moment it is Off.")
        elif self._kind(name) == EventKind.OFF and all_off(whole, self.chosen):
            self.desk.bridge.refused.emit("That is off already. In the log its time can be mended.")
        else:
            self.log(self._kind(name))

    def _kind(self, name: str) -> str:
        if name == "on" and self.shown is not None and all_on(self.shown, self.chosen):
            return EventKind.OFF
        return name

    def _hold(self, name: str) -> None:
        whole = self.shown
        if whole is None or name in PANELS:
            self._tap(name)
            return
        kind = self._kind(name)

        def take(when: When) -> str:
            return self.desk.bridge.attempt(self._logged(whole, kind, when), self)

        meant = targets(whole, self.selector.chosen, kind, self._now_pieces(whole))
        heading = f"{capital(kind)}, {named_pieces(whole, meant)}"
        wrap = last_wrap(whole) if kind == EventKind.WRAP else None
        span, zone = span_of(whole, self.desk.now()), whole.cook.zone
        panel = WhenPanel(self.window(), self.desk, heading, zone, take, wrap=wrap, span=span)
        self.opens.open(panel)

    def log(self, kind: str, *too: Command, pieces: Sequence[str] | None = None) -> None:
        """Log an event now, for the chosen pieces or for these; `too` is the same step."""
        whole = self.shown
        if whole is None:
            return
        details = {"wrap": last_wrap(whole)} if kind == EventKind.WRAP else {}
        when = When(self.desk.now(), 0.0, details)
        command: Command = self._logged(whole, kind, when, pieces)
        if too:
            command = Together((command, *too), command.label)
        self.desk.bridge.do(command, self)

    def _logged(
        self, whole: WholeCook, kind: str, when: When, pieces: Sequence[str] | None = None
    ) -> LogEvent:
        chosen = self.selector.chosen if pieces is None else tuple(pieces)
        meant = targets(whole, chosen, kind, self._now_pieces(whole))
        return logged(whole, kind, meant, when, self.desk.now())

    def repeat(self) -> None:
        """Log again, now, what was logged last."""
        whole = self.shown
        last = last_tapped(whole) if whole is not None else None
        if whole is None or last is None:
            self.desk.bridge.refused.emit("Nothing is logged yet that could be repeated.")
            return
        now = self.desk.now()
        when = When(now, 0.0, dict(last.details))
        self.desk.bridge.do(logged(whole, last.kind, last.pieces, when, now), self)

    # the rest

    def _do_alarm(self, called: Called) -> None:
        """Do what an alarm is for, where a tap does it; else take the cook's word for it."""
        whole = self.shown
        if whole is not None and called.whole.cook.id != whole.cook.id:
            self.desk.go("cook", called.whole.cook.id, "bench")
            return
        if called.does in {*PANELS, EventKind.LIT} or not called.does:
            self.desk.watch.finish(called)
            if called.does:
                self._guided(called.does, called.pieces)
            return
        self._guided(called.does, called.pieces, FinishAlarms(called.due(), called.made))

    def _do_due(self) -> None:
        if self.due.due.tap:
            self._guided(self.due.due.tap, self.due.due.pieces)

    def _guided(self, tap: str, pieces: Sequence[str], *too: Command) -> None:
        """Do what the window says is next, for whom it says; then "For" is everyone again."""
        whole = self.shown
        if whole is None:
            return
        if tap in PANELS or (tap == EventKind.LIT and whole.first(EventKind.LIT) is not None):
            if pieces:
                self.selector.take(tuple(pieces))
            self._tap(tap)
        else:
            self.log(tap, *too, pieces=pieces)
        self.selector.take(())

    def _finish(self) -> None:
        if self.shown is not None:
            self.desk.follow.settle()
            self.desk.bridge.do(FinishCook(self.shown.cook.id), self)
            self.desk.go("cook", self.shown.cook.id, "tasting")
