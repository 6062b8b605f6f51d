"""The bench: the clock, the next thing, the pieces, the chart, and ten taps."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QFileDialog,
    QHBoxLayout,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from pitjournal.analysis.derived import fuel_used
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import DonenessCheck, Event, EventKind, Note, Photo
from pitjournal.domain.moments import show_ago, show_time
from pitjournal.domain.record import Record
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.bench import CorrectEvent, FinishCook, LogEvent
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.journal.jobs import Progress
from pitjournal.ui.bench.log import LogList, entries
from pitjournal.ui.bench.model import (
    Life,
    PieceNow,
    event_words,
    everyone,
    next_due,
    piece_now,
    running_time,
    whom,
)
from pitjournal.ui.bench.panels import (
    FeelPanel,
    OtherPanel,
    WeighPanel,
    When,
    WhenPanel,
    stage_now,
)
from pitjournal.ui.bench.photos import PhotoPanel, PhotoStrip
from pitjournal.ui.bench.pieces import PieceColumn
from pitjournal.ui.bench.traces import TraceReader, show_day
from pitjournal.ui.charts.trace_chart import TraceChart
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap, button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Action, Overlay
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import Elided, column, row, words
from pitjournal.ui.plan.fire import FireCard
from pitjournal.units import Dimension, show, unit_label

PICTURES = "Pictures (*.jpg *.jpeg *.png *.heic *.heif);;All files (*)"
LATER = timedelta(minutes=10)
ALL = "all"
NARROW = 1100
"""Below this width the taps have room for few words, px."""

TAPS = (
    ("feel", "Feel"),
    ("on", "On"),
    ("lid", "Lid"),
    ("flip", "Flip"),
    ("spritz", "Spritz"),
    ("wrap", "Wrap"),
    ("lit", "Lit"),
    ("weigh", "Weigh"),
    ("photo", "Photo"),
    ("other", "Other…"),
)


class BenchPage(CookPage):
    """Log at the cooker: one tap, one saved event."""

    own_bar = True

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.setAcceptDrops(True)
        self._reader = TraceReader(desk.journal.samples)
        self._chosen: tuple[str, ...] = ()
        self._snoozed: dict[str, datetime] = {}
        self._panel: Overlay | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(tokens.XL, tokens.M, tokens.XL, tokens.L)
        outer.setSpacing(tokens.M)
        outer.addLayout(self._top())
        outer.addLayout(self._middle(), 1)
        outer.addLayout(self._for_line())
        outer.addLayout(self._tap_line())
        self._second = QTimer(self, interval=1000)
        self._second.timeout.connect(self._tick)

    # what is on it

    def _top(self) -> QHBoxLayout:
        clock = Card()
        self.clock = words("", "clock", wrap=False, tabular=True)
        self.running = words("", "strong", wrap=False)
        self.serving = words("", "quiet", wrap=False)
        clock.body.addLayout(
            row(self.clock, column(None, self.running, self.serving, None, space=2), space=20)
        )
        self.due_card = Card(role="due")
        self.due = Elided("", "large")
        self.due.setProperty("role", "strong")
        self.due_words = words("", wrap=True)
        self.do_it = button("Do it", self._do_due, "primary")
        self.later = button("Later", self._snooze)
        self.finish = button("Finish the cook", self._finish, "primary")
        said = column(None, self.due, self.due_words, None, space=4)
        line = row(self.do_it, self.later, self.finish)
        box = QHBoxLayout()
        box.addLayout(said, 1)
        box.addLayout(line)
        self.due_card.body.addLayout(box)
        self.fire_card = Card("Fire")
        self.fire = words("", "strong", wrap=False)
        self.fire_words = words("", "quiet", wrap=False)
        self.fire_card.body.addWidget(self.fire)
        self.fire_card.body.addWidget(self.fire_words)
        for card in (clock, self.due_card, self.fire_card):
            card.setFixedHeight(tokens.BAND_HEIGHT)
        top = row(clock, self.due_card, self.fire_card, space=tokens.M)
        top.setStretch(1, 1)
        return top

    def _middle(self) -> QHBoxLayout:
        self.pieces = PieceColumn()
        self.pieces.picked.connect(self._pick_piece)
        left = scroll(self.pieces, "pieces")
        left.setFixedWidth(tokens.PIECES_WIDTH)
        card = Card().tall()
        self.view = Choice("what is shown")
        self.view.offer((("chart", "chart", -1), ("log", "log", -1), ("photos", "photos", -1)))
        self.view.choose("chart")
        self.view.chosen.connect(self._turn)
        probe = button("Read a probe file", self._read_probe, "link", tip="Ctrl+R")
        clocks = button("Clocks", self._clocks, "link", name="clocks of the probe files")
        top = row(self.view, clocks, probe, space=tokens.L)
        top.setStretch(0, 1)
        card.body.addLayout(top)
        self.stack = QStackedWidget()
        self.chart = TraceChart(unit_label(Dimension.TEMPERATURE, self.desk.system))
        self.log = LogList(self._correct, self._remove)
        self.photos = PhotoStrip(self.desk, self._open_photo)
        self.stack.addWidget(self.chart)
        self.stack.addWidget(scroll(self.log, "log"))
        self.stack.addWidget(scroll(self.photos, "photos"))
        card.body.addWidget(self.stack, 1)
        middle = row(left, card, space=tokens.M)
        middle.setStretch(1, 1)
        return middle

    def _for_line(self) -> QHBoxLayout:
        self.whom = Choice("for which pieces")
        self.whom.chosen.connect(self._choose)
        self.bar = MessageBar(self.desk.bridge)
        self.bar.setMaximumHeight(tokens.CONTROL_HEIGHT + tokens.S)
        line = row(words("For", "strong", wrap=False), self.whom, self.bar, space=tokens.M)
        line.setStretch(1, 1)
        line.setAlignment(self.whom, Qt.AlignmentFlag.AlignVCenter)
        holder = QWidget()
        holder.setFixedHeight(tokens.CONTROL_HEIGHT + tokens.S)
        holder.setLayout(line)
        return row(holder)

    def _tap_line(self) -> QHBoxLayout:
        self.taps: dict[str, Tap] = {}
        line = row(space=tokens.S)
        for name, text in TAPS:
            tap = Tap(text)
            tap.clicked.connect(self._tapper(name))
            tap.held.connect(self._holder(name))
            self.taps[name] = tap
            line.addWidget(tap)
        return line

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
            if name not in {"feel", "weigh", "photo", "other"}
        ]
        return (
            *taps,
            *held,
            Action("All pieces", "A", lambda: self._choose(ALL)),
            Action("Chart, log or photos", "Ctrl+J", self._next_view),
            Action("Read a probe file", "Ctrl+R", self._read_probe),
            Action("Clocks of the probe files", "Ctrl+Shift+K", self._clocks),
            Action("Add photos", "Ctrl+P", self._tapper("photo")),
            Action("Fuel", "Ctrl+Shift+F", self._fuel),
            Action("Finish the cook", "Ctrl+Shift+D", self._finish),
        )

    # what it shows

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook."""
        ids = {piece.id for piece in whole.pieces}
        self._chosen = tuple(piece for piece in self._chosen if piece in ids)
        self._offer(whole)
        self._show_pieces(whole)
        show_day(self.chart, self._reader, whole, self.desk.system)
        self.log.show_entries(entries(whole, self.desk.system), whole.cook.zone, self.desk.now())
        self.photos.show_cook(whole)
        self._show_fire(whole)
        self._tick()

    def arrive(self) -> None:
        """Be shown: the clock runs."""
        super().arrive()
        self._second.start()

    def leave(self) -> None:
        """Be left: the clock stands still."""
        super().leave()
        self._second.stop()

    def _offer(self, whole: WholeCook) -> None:
        count = len(whole.pieces)
        options: list[tuple[object, str, int | None]] = [(ALL, everyone(count), -1)]
        if len(whole.arms) > 1:
            options += [(a.id, a.name, whole.arm_index(a.id)) for a in whole.arms]
        value = self._choice_value(whole)
        if value not in {option[0] for option in options}:
            label = whom(whole, self._chosen)
            options.append((value, label, -1))
        self.whom.offer(options)
        self.whom.choose(value)

    def _choice_value(self, whole: WholeCook) -> object:
        if not self._chosen or len(self._chosen) == len(whole.pieces):
            return ALL
        for arm in whole.arms:
            if {p.id for p in whole.pieces_of(arm)} == set(self._chosen):
                return arm.id
        return "some"

    def _now_pieces(self, whole: WholeCook) -> list[PieceNow]:
        return [piece_now(whole, piece, self.desk.system) for piece in whole.pieces]

    def _show_pieces(self, whole: WholeCook) -> None:
        self.pieces.show_pieces(self._now_pieces(whole), self._chosen)

    def _show_fire(self, whole: WholeCook) -> None:
        used, system = fuel_used(whole), self.desk.system
        lit = whole.first(EventKind.LIT)
        added = [load for load in whole.fuel_loads if load.at is not None]
        self.fire.setText(
            show(used, Dimension.MASS, system) + " used" if used is not None else "no fuel weighed"
        )
        parts = []
        if lit is not None and lit.happened_at is not None:
            parts.append(f"lit {show_time(lit.happened_at, whole.cook.zone)}")
        if added and added[-1].at is not None and whole.cook.status is CookStatus.RUNNING:
            ago = (self.desk.now() - added[-1].at).total_seconds()
            parts.append(f"fed {show_ago(ago)}")
        if whole.cook.set_point is not None:
            parts.append(f"set {show(whole.cook.set_point, Dimension.TEMPERATURE, system)}")
        self.fire_words.setText(" · ".join(parts[:2]))

    def _tick(self) -> None:
        whole = self.whole
        if whole is None:
            return
        now, cook = self.desk.now(), whole.cook
        self.clock.setText(show_time(now, cook.zone))
        self.running.setText(running_time(whole, now))
        serve = cook.serve_at
        said = "" if serve is None else f"serve at {show_time(serve, cook.zone)}"
        self.serving.setText(said or {CookStatus.DONE: "done"}.get(cook.status, ""))
        self._show_due(whole, now)
        self._show_taps(whole, now)

    def _show_due(self, whole: WholeCook, now: datetime) -> None:
        pieces = self._now_pieces(whole)
        due = next_due(whole, now, pieces)
        snoozed = self._snoozed.get(due.heading)
        if snoozed is not None and now < snoozed:
            due = replace(due, heading="Nothing is due", words="You said later.", tap="")
        if whole.cook.status is CookStatus.DONE:
            due = replace(due, heading="This cook is done", words="Later notes count too.", tap="")
        self._due = due
        self.due.show_text(due.heading)
        self.due_words.setText(due.words)
        self.do_it.setVisible(bool(due.tap))
        self.do_it.setText({"feel": "Probe", "weigh": "Weigh"}.get(due.tap, due.tap.capitalize()))
        self.later.setVisible(bool(due.tap))
        off = bool(pieces) and all(p.life is Life.OFF for p in pieces)
        self.finish.setVisible(off and whole.cook.status is CookStatus.RUNNING)

    def _show_taps(self, whole: WholeCook, now: datetime) -> None:
        lit = whole.first(EventKind.LIT) is not None
        self.taps["lit"].setText("Fuel" if lit else "Lit")
        self.taps["on"].setText("Off" if self._all_on(whole) else "On")
        for name in ("lid", "flip", "spritz", "wrap"):
            last = whole.last(EventKind(name))
            ago = ""
            if last is not None and last.happened_at is not None:
                if whole.cook.status is CookStatus.DONE:
                    ago = show_time(last.happened_at, whole.cook.zone)
                else:
                    ago = show_ago((now - last.happened_at).total_seconds())
            self.taps[name].say_below(ago or ("in foil" if name == "wrap" else ""))
        self.taps["feel"].say_below("then 1–7" if self.width() < NARROW else "probe, then 1–7")
        for name, tap in self.taps.items():
            tap.make_primary(name == self._due.tap or (name == "on" and self._due.tap == "off"))

    def _all_on(self, whole: WholeCook) -> bool:
        targets = [p for p in whole.pieces if not self._chosen or p.id in self._chosen]
        return bool(targets) and all(whole.first(EventKind.ON, p) is not None for p in targets)

    # choosing

    def _pick_piece(self, piece_id: str) -> None:
        chosen = set(self._chosen) ^ {piece_id} if self._is_loose() else {piece_id}
        assert self.whole is not None
        self._chosen = tuple(p.id for p in self.whole.pieces if p.id in chosen)
        self._offer(self.whole)
        self._show_pieces(self.whole)
        self._tick()

    def _is_loose(self) -> bool:
        """Whether single pieces are chosen, so that one more joins them."""
        return self.whole is not None and self._choice_value(self.whole) == "some"

    def _choose(self, value: object) -> None:
        whole = self.whole
        if whole is None or value == "some":
            return
        self._chosen = tuple(p.id for p in whole.pieces if p.arm_id == value)
        self._offer(whole)
        self._show_pieces(whole)
        self._tick()

    # taps

    def _tapper(self, name: str) -> Callable[..., None]:
        return lambda *_: self._tap(name)

    def _holder(self, name: str) -> Callable[..., None]:
        return lambda *_: self._hold(name)

    def _tap(self, name: str) -> None:
        whole = self.whole
        if whole is None:
            return
        panels = {
            "feel": self._feel,
            "weigh": self._weigh,
            "photo": self._photo,
            "other": self._other,
        }
        if name in panels:
            panels[name]()
        elif name == "lit" and whole.first(EventKind.LIT) is not None:
            self._fuel()
        else:
            self._log(self._kind(name))

    def _kind(self, name: str) -> str:
        if name == "on" and self.whole is not None and self._all_on(self.whole):
            return EventKind.OFF
        return name

    def _hold(self, name: str) -> None:
        whole = self.whole
        if whole is None or name in {"feel", "weigh", "photo", "other"}:
            self._tap(name)
            return
        kind = self._kind(name)

        def take(when: When) -> str:
            return self._log_at(kind, when)

        heading = f"{kind[:1].upper()}{kind[1:]}, {whom(whole, self._chosen)}"
        wrap = self._last_wrap() if kind == EventKind.WRAP else None
        self._open(WhenPanel(self.window(), self.desk, heading, whole.cook.zone, take, wrap=wrap))

    def _last_wrap(self) -> str:
        whole = self.whole
        last = whole.last(EventKind.WRAP) if whole else None
        return last.details.get("wrap", "foil") if last else "foil"

    def _log(self, kind: str) -> None:
        details = {"wrap": self._last_wrap()} if kind == EventKind.WRAP else {}
        command = self._event(kind, When(self.desk.now(), 0.0, details))
        if command is not None:
            self.desk.bridge.do(command, self)

    def _log_at(self, kind: str, when: When) -> str:
        command = self._event(kind, when)
        return self.desk.bridge.attempt(command, self) if command is not None else ""

    def _event(self, kind: str, when: When) -> Command | None:
        whole = self.whole
        if whole is None:
            return None
        event = Event(
            cook_id=whole.cook.id,
            kind=kind,
            happened_at=when.at,
            entered_at=self.desk.now(),
            pieces=self._targets(whole, kind),
            uncertainty=when.uncertainty,
            details=when.details,
        )
        at = show_time(when.at, whole.cook.zone)
        label = f"{event_words(event)}, {whom(whole, event.pieces)}, {at}"
        return LogEvent(event, label)

    def _targets(self, whole: WholeCook, kind: str) -> tuple[str, ...]:
        """Return the pieces a tap is for: with all chosen, "off" takes those still on."""
        if self._chosen or kind not in {EventKind.ON, EventKind.OFF}:
            return self._chosen
        wanted = {Life.WAITING} if kind == EventKind.ON else {Life.ON, Life.RIGHT, Life.OVER}
        there = tuple(p.piece.id for p in self._now_pieces(whole) if p.life in wanted)
        return () if len(there) == len(whole.pieces) else there

    # panels

    def _open(self, panel: Overlay) -> None:
        panel.open_panel()

    def _feel(self) -> None:
        whole = self.whole
        if whole is None or not whole.pieces:
            self.desk.bridge.refused.emit("There is no piece yet. Add one on the Plan.")
            return
        wanted = self._due.pieces if self._due.tap == "feel" else self._chosen
        first = next((p for p in whole.pieces if p.id in wanted), whole.pieces[0])
        self._open(FeelPanel(self.window(), self.desk, whole, first))

    def _weigh(self) -> None:
        whole = self.whole
        if whole is not None:
            stage = stage_now(whole, whole.pieces)
            self._open(WeighPanel(self.window(), self.desk, whole.cook.id, stage))

    def _fuel(self) -> None:
        panel = Overlay(self.window(), "Fuel and wood", 560)
        card = FireCard(self.desk, lambda: self.whole)
        panel.body.addWidget(card)

        def show_again(*_: object) -> None:
            if self.whole is not None:
                card.show_cook(self.whole)

        show_again()
        self.desk.bridge.saved.connect(show_again)
        panel.destroyed.connect(lambda *_: self.desk.bridge.saved.disconnect(show_again))
        panel.open_panel(card.fuel)

    def _other(self) -> None:
        if self.whole is not None:
            self._open(OtherPanel(self.window(), self.desk, self.whole, self._log))

    def _photo(self) -> None:
        names, _ = QFileDialog.getOpenFileNames(self, "Photos", "", PICTURES)
        if names:
            self.add_photos([Path(name) for name in names])

    def add_photos(self, paths: Sequence[Path]) -> None:
        """Read photos off this thread, then keep them as one step."""
        whole = self.whole
        if whole is None:
            return
        cook_id = whole.cook.id
        piece = self._chosen[0] if len(self._chosen) == 1 else None

        def work(progress: Progress) -> Command:
            from pitjournal.journal.attaching import attach_photos  # noqa: PLC0415 - Pillow

            progress.report(None, f"{len(paths)} files")
            data = [(path.name, path.read_bytes()) for path in paths]
            return attach_photos(self.desk.journal, cook_id, data, piece)

        def done(command: Command) -> None:
            self.desk.bridge.do(command, self)
            self.view.choose("photos")
            self._turn("photos")

        self.desk.bridge.run("Read the photos", work, done)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Keep dropped pictures; anything else is read as a probe file."""
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        pictures = [
            p for p in paths if p.suffix.lower() in {".jpg", ".jpeg", ".png", ".heic", ".heif"}
        ]
        if pictures:
            self.add_photos(pictures)

    def _open_photo(self, photo: Photo) -> None:
        if self.whole is not None:
            self._open(PhotoPanel(self.window(), self.desk, self.whole, photo))

    def _read_probe(self) -> None:
        if self.whole is not None:
            self.desk.go("probe file", self.whole.cook.id)

    def _clocks(self) -> None:
        from pitjournal.ui.bench.clock_panel import ClockPanel  # noqa: PLC0415 - seldom needed

        if self.whole is not None:
            self._open(ClockPanel(self.window(), self.desk, self.whole))

    # the log

    def _correct(self, record: Record) -> None:
        whole = self.whole
        if whole is None:
            return
        zone = whole.cook.zone
        if isinstance(record, Event):
            event = record

            def take(when: When) -> str:
                command = CorrectEvent(event.id, when.at, when.uncertainty, "Correct the time")
                return self.desk.bridge.attempt(command, self)

            heading = f"When was it? {event_words(event)}"
            panel = WhenPanel(
                self.window(),
                self.desk,
                heading,
                zone,
                take,
                at=event.happened_at,
                uncertainty=event.uncertainty,
            )
        elif isinstance(record, DonenessCheck | Note):
            kind, record_id = type(record), record.id

            def move(when: When) -> str:
                command = Change(kind, record_id, {"at": when.at}, "Correct the time")
                return self.desk.bridge.attempt(command, self)

            panel = WhenPanel(self.window(), self.desk, "When was it?", zone, move, at=record.at)
        else:
            return
        self._open(panel)

    def _remove(self, record: Record) -> None:
        what = event_words(record).lower() if isinstance(record, Event) else "an entry"
        self.desk.bridge.do(Remove(type(record), record.id, f"Remove {what}"), self)

    # the rest

    def _turn(self, name: object) -> None:
        self.stack.setCurrentIndex(("chart", "log", "photos").index(str(name)))

    def _next_view(self) -> None:
        names = ("chart", "log", "photos")
        name = names[(self.stack.currentIndex() + 1) % len(names)]
        self.view.choose(name)
        self._turn(name)

    def _do_due(self) -> None:
        if self._due.pieces:
            self._chosen = self._due.pieces
        tap = "on" if self._due.tap == "off" else self._due.tap
        if tap in self.taps:
            self._tap(tap)
        elif tap:
            self._log(tap)

    def _snooze(self) -> None:
        self._snoozed[self._due.heading] = self.desk.now() + LATER
        self._tick()

    def _finish(self) -> None:
        if self.whole is not None:
            self.desk.bridge.do(FinishCook(self.whole.cook.id), self)
            self.desk.go("cook", self.whole.cook.id, "tasting")
