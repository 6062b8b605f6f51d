"""Panels of the bench: when and what, feel, weigh, fuel, other."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from pitjournal.analysis.findings.leeway import piece_windows
from pitjournal.domain.event import FEEL_WORDS, WRAPS, DonenessCheck, EventKind
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.typed_times import Span
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import CheckDoneness
from pitjournal.ui.charts.window_chart import WindowChart, WindowRow
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.buttons import Tap, button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import LoggedField, QuantityField, TextField
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.plan.pieces import WeightField
from pitjournal.units import Dimension, show

AGO = ((0, "now"), (5, "5 min ago"), (10, "10 min ago"), (20, "20 min ago"), (60, "1 h ago"))
SURE = ((0.0, "exact"), (300.0, "± 5 min"), (1800.0, "± 30 min"), (None, "about then"))


@dataclass(frozen=True)
class When:
    """When something happened, how sure that is, and the details."""

    at: datetime
    uncertainty: float | None
    details: dict[str, str] = field(default_factory=dict)


class WhenPanel(GlovePanel):
    """Say when it was: now, some minutes ago, a time; and how sure."""

    def __init__(
        self,
        over: QWidget,
        desk: Desk,
        heading: str,
        zone: str,
        take: Callable[[When], str],
        *,
        at: datetime | None = None,
        uncertainty: float | None = 0.0,
        wrap: str | None = None,
        span: Span | None = None,
    ) -> None:
        super().__init__(over, heading, 620)
        self._desk, self._take = desk, take
        self._at = at or desk.now()
        self.ago = Choice("when")
        self.ago.offer((minutes, text, -1) for minutes, text in AGO)
        self.ago.chosen.connect(self._some_ago)
        if at is None:
            self.ago.choose(0)
        self.time = LoggedField("Time", zone, desk.now, self._typed, span)
        self.time.set_value(self._at)
        self.sure = Choice("how sure")
        self.sure.offer((value, text, -1) for value, text in SURE)
        self.sure.choose(uncertainty)
        self.wrap = Choice("wrapped in")
        self.wrap.offer((name, name, -1) for name in WRAPS)
        if wrap is not None:
            self.body.addWidget(words("In what?", "heading"))
            self.body.addWidget(self.wrap)
            self.wrap.choose(wrap)
        self._wraps = wrap is not None
        self.body.addWidget(words("When was it?", "heading"))
        self.body.addWidget(self.ago)
        self.body.addWidget(self.time)
        self.body.addWidget(words("How sure is the time?", "heading"))
        self.body.addWidget(self.sure)
        self.keep = button("Keep it", self._keep, "primary")
        self.time.line.returnPressed.connect(self._to_keep)
        self.body.addLayout(row(self.keep, None))

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the time ready."""
        super().open_panel(first or self.time)
        self.time.line.selectAll()

    def _to_keep(self) -> None:
        """Go on from the time to what keeps it, which the next Enter does."""
        self.time.commit()
        if not self.time.error.text():
            self.keep.setFocus()

    def _some_ago(self, minutes: object) -> None:
        assert isinstance(minutes, int)
        self._at = self._desk.now() - timedelta(minutes=minutes)
        self.time.line.setModified(False)
        self.time.set_value(self._at)

    def _typed(self, value: object, _typed: str) -> str:
        if isinstance(value, datetime):
            self._at = value
            self.ago.choose()
        return ""

    def _keep(self) -> None:
        self.time.commit()
        if self.time.error.text():
            return
        uncertainty = next(iter(self.sure.values()), 0.0)
        assert uncertainty is None or isinstance(uncertainty, float)
        details = {"wrap": str(self.wrap.values()[0])} if self._wraps and self.wrap.values() else {}
        problem = self._take(When(self._at, uncertainty, details))
        if problem:
            self.time.say(problem)
            return
        self.close_panel()


class FeelPanel(GlovePanel):
    """A probe and a feel, piece after piece: type the temperature, tap the feel."""

    def __init__(
        self,
        over: QWidget,
        desk: Desk,
        whole: WholeCook,
        first: Piece,
        see: Callable[[WholeCook], WholeCook],
    ) -> None:
        super().__init__(over, "Probe and feel", 720)
        self._desk, self._whole, self._see = desk, whole, see
        self._internal: float | None = None
        self._typed = self._saved_for = ""
        self.pieces = Choice("piece")
        self.pieces.offer((p.id, p.label, _mark(whole, p)) for p in whole.pieces)
        self.pieces.choose(first.id)
        self.pieces.chosen.connect(lambda *_: self._show())
        self.internal = QuantityField(
            "Internal temperature", Dimension.TEMPERATURE, desk.system, self._noted
        )
        self.internal.line.returnPressed.connect(self._to_feel)
        used = ("middle", "thick end", "thin end", "between bones", "flat", "point")
        self.point = TextField("Where", lambda *_: "", used=used, hint="the same place each time")
        self.body.addWidget(self.pieces)
        line = row(self.internal, self.point, space=tokens.M)
        self.body.addLayout(line)
        self.body.addWidget(
            words(
                "How does it feel? Tap, or Enter and 1–7: 1–2 under, 3–5 right, 6–7 over", "heading"
            )
        )
        self.taps = []
        taps = row(space=tokens.S)
        for score, text in FEEL_WORDS.items():
            tap = Tap(str(score))
            tap.say_below(text.replace("just right, ", ""))
            tap.clicked.connect(self._keeper(score))
            self.taps.append(tap)
            taps.addWidget(tap)
        self.body.addLayout(taps)
        self.said = words("", "quiet")
        below = row(self.said, button("Keep the temperature only", lambda: self._keep(None)))
        below.setStretch(0, 1)
        self.body.addLayout(below)
        self.windows = WindowChart()
        self.body.addWidget(self.windows)
        self._show()
        self.listen(desk.bridge.holding, self._hear_held)

    def _hear_held(self, count: int) -> None:
        """Say it anew once all that waited is saved."""
        if not count and self._saved_for:
            self._whole = self._see(self._desk.journal.whole(self._whole.cook.id))
            self._show()
            self.said.setText(f"✓ saved for {self._saved_for}. {self.said.text()}")

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the temperature ready."""
        super().open_panel(first or self.internal)

    def _to_feel(self) -> None:
        """Go on from the temperature to the feel, which 1 to 7 give there."""
        if not self.internal.error.text():
            self.taps[0].setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take 1 to 7 as the feel, where no field takes them as text."""
        if event.text() in {str(score) for score in FEEL_WORDS}:
            self._keep(int(event.text()))
            return
        super().keyPressEvent(event)

    def _piece(self) -> Piece:
        chosen = self.pieces.values()
        return next(p for p in self._whole.pieces if p.id in chosen)

    def _show(self) -> None:
        checks = self._whole.checks_of(self._piece())
        last = checks[-1] if checks else None
        said = "Not probed yet."
        if last is not None:
            at = show(last.internal, Dimension.TEMPERATURE, self._desk.system)
            feel = "" if last.feel is None else f", feel {last.feel}"
            said = f"Before: {at}{feel}."
        self.said.setText(said)
        self._draw()

    def _draw(self) -> None:
        """Draw how long each piece was right so far: the chosen one, then the others felt."""
        rows = window_rows(self._whole, self._piece().id)
        self.windows.setVisible(bool(rows))
        self.windows.show_rows(rows)

    def _noted(self, value: object, typed: str) -> str:
        self._internal = value if isinstance(value, float) else None
        self._typed = typed
        return ""

    def _keeper(self, score: int) -> Callable[..., None]:
        return lambda *_: self._keep(score)

    def _keep(self, score: int | None) -> None:
        self.internal.commit()
        if self.internal.error.text():
            return
        piece = self._piece()
        check = DonenessCheck(
            cook_id=self._whole.cook.id,
            piece_id=piece.id,
            at=self._desk.now(),
            internal=self._internal,
            feel=score,
            point=self.point.line.text().strip(),
            typed={"internal": self._typed} if self._internal is not None else {},
        )
        problem = self._desk.bridge.attempt(CheckDoneness(check, f"Probe {piece.label}"), self)
        if problem:
            self.internal.say(problem)
            return
        self._internal = None
        self.internal.set_value(None)
        self._whole = self._see(self._desk.journal.whole(self._whole.cook.id))
        order = [p.id for p in self._whole.pieces]
        following = order[(order.index(piece.id) + 1) % len(order)]
        self.pieces.choose(following)
        self._show()
        tick = "Not saved yet" if self._desk.bridge.held else "✓ saved"
        self._saved_for = piece.label
        self.said.setText(f"{tick} for {piece.label}. {self.said.text()}")
        self.internal.setFocus()


class WeighPanel(GlovePanel):
    """Weigh piece after piece at a stage; pickup and yield appear at once."""

    def __init__(
        self,
        over: QWidget,
        desk: Desk,
        cook_id: str,
        stage: Stage,
        see: Callable[[WholeCook], WholeCook],
    ) -> None:
        super().__init__(over, "Weigh", 640)
        self._desk, self._cook_id, self._see = desk, cook_id, see
        self.stages = Choice("stage")
        self.stages.offer((stage_, str(stage_), -1) for stage_ in Stage)
        self.stages.choose(stage)
        self.stages.chosen.connect(lambda *_: self._rebuild())
        self.body.addWidget(self.stages)
        self._holder = QWidget()
        self.body.addWidget(self._holder)
        self.fields: list[WeightField] = []
        self._lines: dict[str, QLabel] = {}
        self._rebuild()
        self.listen(desk.bridge.changed, self._heard)

    def _heard(self, _changes: object) -> None:
        self._show()

    def _whole(self) -> WholeCook:
        return self._see(self._desk.journal.whole(self._cook_id))

    def _rebuild(self) -> None:
        stage = next(iter(self.stages.values()), Stage.OFF)
        assert isinstance(stage, Stage)
        whole = self._whole()
        columns = row(space=tokens.XL)  # each read down to its end
        self.fields, self._lines = [], {}
        count = len(whole.pieces)
        rows = (count + 1) // 2 if count > 8 else max(count, 1)
        for place, piece in enumerate(whole.pieces):
            line = WeightField(self._desk, stage, self._whole)
            line.show_piece(piece)
            line.tell_about(piece.label)
            said = words("", "quiet")
            self._lines[piece.id] = said
            below = place % rows
            if not below:
                part = QWidget()
                grid = QGridLayout(part)
                grid.setContentsMargins(0, 0, 0, 0)
                columns.addWidget(part, 1)
                columns.setAlignment(part, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(Mark(whole.arm_index(piece.arm_id), piece.label), below, 0)
            grid.addWidget(words(piece.label, "strong", wrap=False), below, 1)
            grid.addWidget(line, below, 2)
            grid.addWidget(said, below, 3)
            self.fields.append(line)
        for place, field_ in enumerate(self.fields):
            field_.stepped.connect(lambda step, place=place: self._step(place, step))
        holder = QWidget()
        holder.setLayout(columns)
        self.body.replaceWidget(self._holder, holder)
        self._holder.hide()
        self._holder.deleteLater()
        self._holder = holder
        self._show()
        if self.fields:
            self.fields[0].setFocus()

    def _step(self, place: int, step: int) -> None:
        """Keep a weight and go to that of another piece, if there is one."""
        self.fields[place].commit()
        if 0 <= place + step < len(self.fields):
            self.fields[place + step].setFocus()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the first weight ready."""
        super().open_panel(first or (self.fields[0] if self.fields else None))

    def _show(self) -> None:
        whole = self._whole()
        for piece in whole.pieces:
            if piece.id in self._lines:
                said = shares(whole, piece, self._desk).replace(" ", "\N{NO-BREAK SPACE}")
                self._lines[piece.id].setText(said.replace(",\N{NO-BREAK SPACE}", ", "))


def shares(whole: WholeCook, piece: Piece, desk: Desk) -> str:
    """Return a piece's pickup and yield in words, as far as they are known."""
    masses = {stage: whole.mass(piece, stage) for stage in Stage}
    if desk.hides_arms(whole.cook.id):
        masses[Stage.TREATED] = None  # what a piece took up names its arm
    before = masses[Stage.TRIMMED] or masses[Stage.BOUGHT]
    parts = []
    for text, mass, less in (
        ("pickup", masses[Stage.TREATED], before),
        ("yield", masses[Stage.OFF], 0.0),
    ):
        if mass is not None and before:
            share = (mass - less) / before if less else mass / before
            parts.append(f"{text} {show(share, Dimension.FRACTION, desk.system)}")
    return ", ".join(parts)


MOST_ROWS = 6
"""Pieces whose windows have room below the taps."""


def window_rows(whole: WholeCook, first: str) -> list[WindowRow]:
    """Return the bounds of the pieces that were right, min since the first feel, one first."""
    timed = [window for window in piece_windows(whole) if window.axis == "time"]
    found = [w for w in timed if w.first_right is not None or w.first_over is not None]
    found.sort(key=lambda window: window.piece_id != first)

    def minutes(seconds: float | None) -> float | None:
        return None if seconds is None else seconds / 60

    return [
        WindowRow(
            window.label,
            window.look,
            minutes(window.last_under),
            minutes(window.first_right),
            minutes(window.last_right),
            minutes(window.first_over),
            window.off_right,
        )
        for window in found[:MOST_ROWS]
    ]


def _mark(whole: WholeCook, piece: Piece) -> int:
    found = whole.arm_index(piece.arm_id)
    return -1 if found is None else found


def stage_now(whole: WholeCook, pieces: Sequence[Piece]) -> Stage:
    """Return the stage that is weighed next."""
    off = [piece for piece in pieces if whole.last(EventKind.OFF, piece)]
    if not off:
        return Stage.ON
    unweighed = any(whole.mass(piece, Stage.OFF) is None for piece in off)
    return Stage.OFF if unweighed else Stage.EDIBLE
