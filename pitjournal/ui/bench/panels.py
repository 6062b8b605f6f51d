"""Panels of the bench: when and what, feel, weigh, fuel, other."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from pitjournal.domain.event import WRAPS, EventKind
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.times.typed_times import Span
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.time_fields import LoggedField
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
        self.time.line.returnPressed.connect(self._enter)
        self.body.addLayout(row(self.keep, None))

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the time ready."""
        super().open_panel(first or self.time)
        self.time.line.selectAll()

    def _enter(self) -> None:
        """Keep it: the time is all that is typed here."""
        self._keep()

    def _some_ago(self, minutes: object) -> None:
        assert isinstance(minutes, int)
        self._at = self._desk.now() - timedelta(minutes=minutes)
        self.time.forget()
        self.time.set_value(self._at)

    def _typed(self, value: object, _typed: str) -> str:
        if isinstance(value, datetime):
            self._at = value
            self.ago.choose()
        return ""

    def _keep(self) -> None:
        self.time.commit()
        if self.time.problem:
            return
        uncertainty = next(iter(self.sure.values()), 0.0)
        assert uncertainty is None or isinstance(uncertainty, float)
        details = {"wrap": str(self.wrap.values()[0])} if self._wraps and self.wrap.values() else {}
        problem = self._take(When(self._at, uncertainty, details))
        if problem:
            self.time.say(problem)
            return
        self.close_panel()


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


def stage_now(whole: WholeCook, pieces: Sequence[Piece]) -> Stage:
    """Return the stage that is weighed next."""
    off = [piece for piece in pieces if whole.last(EventKind.OFF, piece)]
    if not off:
        return Stage.ON
    unweighed = any(whole.mass(piece, Stage.OFF) is None for piece in off)
    return Stage.OFF if unweighed else Stage.EDIBLE
