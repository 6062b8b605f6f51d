"""The pieces of a cook in a grid: what each is, and what it weighed."""

from collections.abc import Callable
from string import ascii_uppercase

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from pitjournal.analysis.plan.meat_note import asks_of
from pitjournal.analysis.plan.past import Past
from pitjournal.analysis.plan.rub_fuel_cost import cost_sum
from pitjournal.domain.cuts import cut_names
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.plausible import PIECE
from pitjournal.domain.record import Record
from pitjournal.domain.rules import unlikely_mass
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import Weigh
from pitjournal.journal.commands.records import Add, Change, Remove
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox, Form, RecordRow, Rows
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.ask_panel import AskPanel
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import WideCard
from pitjournal.ui.look.parts.fields import Field, QuantityField
from pitjournal.ui.look.parts.scroll import Sideways
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.look.theme import look, px, sized
from pitjournal.ui.plan.sums import Sums
from pitjournal.units import Dimension, show
from pitjournal.units.first_letter import capital

STAGES = (Stage.BOUGHT, Stage.TRIMMED, Stage.TREATED, Stage.ON)
"""Weighed before the fire; the others are weighed at the bench."""

_COLUMNS: tuple[tuple[str, int, int], ...] = (
    ("", 86, 0),
    ("arm", 102, 6),
    ("cut", 110, 7),
    ("from", 70, 4),
    ("thick", 78, 4),
    *((str(stage), 100, 4) for stage in STAGES),
    ("slot", 72, 4),
    ("", 26, 0),
)
"""Heading, least width (px), and share of the width that is left; 0 for one that is fixed."""


def _place(layout: QHBoxLayout, field: QWidget, width: int, share: int) -> None:
    """Give every line the same columns, whatever stands in them."""
    sized(field, least_width=width)
    if share:
        field.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
    else:
        sized(field, most_width=width)
    layout.addWidget(field, share)


STEPS = {
    Qt.Key.Key_Return: 1,
    Qt.Key.Key_Enter: 1,
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Up: -1,
}
"""The keys that lead from a weight to that of another piece."""


class WeightField(QuantityField):
    """A piece's weight at a stage; an unlikely one is kept, and asked about.

    Signals
    -------
    stepped(int)
        The cook wants the weight of the next piece, 1, or of the one before, -1.
    """

    stepped = Signal(int)

    def __init__(self, desk: Desk, stage: Stage, whole: Callable[[], WholeCook | None]) -> None:
        self._desk, self.stage, self._whole = desk, stage, whole
        self.piece: Piece | None = None
        super().__init__(
            f"weight {stage}",
            Dimension.MASS,
            desk.system,
            self._keep,
            bare=True,
            hint="–",
            within=PIECE,
        )
        self.line.installEventFilter(self)

    def show_piece(self, piece: Piece) -> None:
        """Show a piece's weight, as it was typed."""
        self.piece = piece
        self.belong_to(f"{piece.id} {self.stage}")
        whole = self._whole()
        weighings = whole.weighings if whole else ()
        found = [w for w in weighings if w.piece_id == piece.id and w.stage is self.stage]
        mass = found[0].mass if found else None
        self.typed = found[0].typed.get("mass", "") if found else ""
        self.set_value(mass)
        if mass is not None:
            self.ask(mass)

    def _keep(self, value: object, typed: str) -> str:
        if self.piece is None:
            return ""
        mass = value if isinstance(value, float) else None
        label = f"Weigh {self.piece.label} {self.stage}"
        command = Weigh(
            self.piece.cook_id,
            self.piece.id,
            self.stage,
            mass,
            self._desk.now() if mass is not None else None,
            {"mass": typed} if mass is not None else {},
            label,
        )
        problem = self._desk.bridge.attempt(command, self)
        if not problem or mass is None or self.is_typed(mass):
            return problem
        taken = show(mass, Dimension.MASS, self._desk.system)
        return f"{problem} “{typed}” was taken as {taken}: type the unit with it."

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let typing replace what stood there, and Enter and the arrows go to another piece."""
        if watched is self.line and event.type() is QEvent.Type.FocusIn:
            QTimer.singleShot(0, self.line, self._select)  # once the press that led here is over
        elif watched is self.line and isinstance(event, QKeyEvent) and self.isVisible():
            step = STEPS.get(Qt.Key(event.key()), 0)
            if event.type() is QEvent.Type.KeyPress and step:
                self.stepped.emit(step)
                return True
        return super().eventFilter(watched, event)

    def _select(self) -> None:
        if self.line.hasFocus() and not self.line.isModified():
            self.line.selectAll()

    def _commit(self, *, leaving: bool) -> None:
        super()._commit(leaving=leaving)
        if leaving and isinstance(self.value, float) and not self.problem:
            self.ask(self.value)

    def ask(self, mass: float) -> None:
        """Ask about a weight that is unlikely."""
        whole = self._whole()
        if whole is None or self.piece is None:
            return
        others = {stage: whole.mass(self.piece, stage) for stage in Stage if stage != self.stage}
        known = {stage: found for stage, found in others.items() if found is not None}
        self.say(unlikely_mass(known, self.stage, mass))


class PieceRow(RecordRow):
    """One piece."""

    def __init__(self, desk: Desk, whole: Callable[[], WholeCook | None]) -> None:
        super().__init__()
        look().restyling.part_by_part([self])
        self._desk, self._whole = desk, whole
        self._piece: Piece | None = None
        form = self._form = Form(desk, "a piece")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 2, 0, 2)
        layout.setSpacing(6)
        self._mark = Mark()
        head = QWidget()
        sized(head, width=_COLUMNS[0][1])
        inner = QHBoxLayout(head)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(4)
        inner.addWidget(self._mark)
        self.label = form.text("label", "Label", bare=True, empty="?")
        inner.addWidget(self.label)
        self.arm = ChoiceBox("Arm", (), self._move, bare=True)
        self.cut = form.text("cut", "Cut", used=cut_names(), bare=True, empty="not said")
        self.pack = form.text("pack", "Pack", bare=True)
        self.pair = form.text("pair", "Slab or pair", bare=True)
        self.thick = form.quantity(
            "thickness_1", "Thickness", Dimension.LENGTH, bare=True, hint="–"
        )
        self.weights = [WeightField(desk, stage, whole) for stage in STAGES]
        self.slot = form.text("slot", "Slot", bare=True)
        self.away = button("×", self._remove, "link", about="the piece")
        fields = (
            head,
            self.arm,
            self.cut,
            self.pack,
            self.thick,
            *self.weights,
            self.slot,
            self.away,
        )
        for field, (_, width, share) in zip(fields, _COLUMNS, strict=True):
            _place(layout, field, width, share)
            if field is self.pack:  # halves stand in the same column
                _place(layout, self.pair, width, share)
        self.cells: tuple[QWidget, ...] = fields
        self.fields = self.findChildren(Field)
        for field in self.fields:  # below a cell it would push the rows away under the hand
            field.apart = True

    def called(self, record: Record) -> str:
        """Return the piece's label."""
        return record.label if isinstance(record, Piece) else ""

    def show_record(self, record: Record) -> None:
        """Show a piece."""
        whole = self._whole()
        if not isinstance(record, Piece) or whole is None:
            return
        self._piece = record
        self._form.show(record)
        self.pair.setVisible(bool(record.pair))
        self.pack.setVisible(not record.pair)
        self._mark.show_arm(whole.arm_index(record.arm_id), record.label)
        self.arm.offer(((None, "none"), *((arm.id, arm.name) for arm in whole.arms)))
        self.arm.set_value(record.arm_id)
        for field in self.weights:
            field.show_piece(record)

    def _move(self, arm_id: object) -> str:
        assert self._piece is not None
        label = f"Put {self._piece.label} into another arm"
        return self._desk.bridge.attempt(Change(Piece, self._piece.id, {"arm_id": arm_id}, label))

    def _remove(self) -> None:
        """Remove the piece; one with a log is asked about."""
        piece, whole = self._piece, self._whole()
        if piece is None or whole is None:
            return
        remove = Remove(Piece, piece.id, f"Remove {piece.label}")
        has = has_log(whole, piece)
        if not has:
            self._desk.bridge.do(remove)
            return
        said = f"With it go its {has}. Undo brings all of it back."
        answers = (f"Remove {piece.label}", "Leave it")
        do_it = lambda: self._desk.bridge.do(remove)  # noqa: E731 - one thing to do
        AskPanel(self.window(), f"Remove {piece.label}?", said, answers, do_it).open_panel()


class PiecesCard(WideCard):
    """All pieces, a line each."""

    def __init__(self, desk: Desk, whole: Callable[[], WholeCook | None]) -> None:
        self._desk, self._whole = desk, whole
        super().__init__("Pieces", side=button("Add a piece", self._add, "link"))
        heads = QHBoxLayout()
        heads.setSpacing(6)
        self._heads = [words(name, "heading", wrap=False) for name, _, _ in _COLUMNS]
        for head, (_, width, share) in zip(self._heads, _COLUMNS, strict=True):
            _place(heads, head, width, share)
        lines = QVBoxLayout()
        lines.setSpacing(0)
        self.table = Sideways(column(heads, lines), "pieces")
        self.body.addWidget(self.table)
        self.rows = Rows(lines, self._make_row)
        self.empty = words("No meat yet. Add the first piece.")
        self.body.addWidget(self.empty)
        self.wrong = words("", "error")
        self.body.addWidget(self.wrong)
        self.asks = words("", "error")
        self.body.addWidget(self.asks)
        self.sums = Sums("what a portion costs")
        hint = words("Weights in any unit: 3 lb 4 oz, 1.5 kg.", "quiet", wrap=False)
        self.body.addLayout(row(hint, None))
        self.body.addWidget(self.sums)
        self.body.addStretch(1)

    def _make_row(self) -> PieceRow:
        made = PieceRow(self._desk, self._whole)
        for place, field in enumerate(made.weights):
            field.stepped.connect(lambda step, place=place: self._step(made, place, step))
        for one in made.fields:
            one.said.connect(self._say_wrong)
        return made

    def _step(self, from_row: PieceRow, column: int, step: int) -> None:
        """Go to the weight of another piece at the same stage; the last one is only kept."""
        rows = [one for one in self.rows.rows if one.isVisibleTo(self)]
        place = rows.index(from_row) + step
        going = rows[place] if 0 <= place < len(rows) else None
        from_row.weights[column].commit()
        if isinstance(going, PieceRow):
            going.weights[column].setFocus()

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's pieces."""
        self.rows.show(whole.pieces)
        self._say_wrong()
        QTimer.singleShot(0, self, self._fit)  # once the rows have their places
        self.empty.setVisible(not whole.pieces)
        self.asks.setText("\n".join(asks_of(whole.pieces)))
        self.asks.setVisible(bool(self.asks.text()))

    def _say_wrong(self) -> None:
        """Say below the table what is wrong in it, each with its field's name."""
        fields = [f for one in self.rows.rows if isinstance(one, PieceRow) for f in one.fields]
        said = [
            f"{capital(field.line.accessibleName())}: {field.problem}"
            for field in fields
            if field.problem and field.isVisibleTo(self)
        ]
        self.wrong.setText("\n".join(said))
        self.wrong.setVisible(bool(said))

    def _fit(self) -> None:
        """Give each column the width that its widest cell needs, in every line and the head."""
        rows = [one for one in self.rows.rows if isinstance(one, PieceRow)]
        for place, (head, (_, width, share)) in enumerate(zip(self._heads, _COLUMNS, strict=True)):
            cells = [one.cells[place] for one in rows]
            if share:
                hints = [cell.minimumSizeHint().width() for cell in cells]
                least = max(px(width), head.sizeHint().width(), *hints, 0)
                for part in (head, *cells):
                    part.setMinimumWidth(least)
        self.table.fit()

    def show_past(self, past: Past | None) -> None:
        """Say what a portion costs, by what past cooks left to eat."""
        whole = self._whole()
        if whole is not None:
            found = cost_sum(whole, past, self._desk.system)
            self.sums.show_sums((found,) if found else ())

    def _add(self) -> None:
        whole = self._whole()
        if whole is None:
            return
        last = whole.pieces[-1] if whole.pieces else None
        place = max((piece.position for piece in whole.pieces), default=-1) + 1
        made = Piece(
            cook_id=whole.cook.id,
            position=place,
            label=next_label([piece.label for piece in whole.pieces], last),
            cut=last.cut if last else "not said",
            arm_id=last.arm_id if last else None,
            slot=str(place + 1),
        )
        self._desk.bridge.do(Add((made,), f"Add {made.label}"), self)


def has_log(whole: WholeCook, piece: Piece) -> str:
    """Return what was recorded of a piece, in words; an empty text where nothing was."""
    samples = {sample.id for sample in whole.samples if sample.piece_id == piece.id}
    own = [e for e in whole.events if e.happened_at is not None and e.pieces == (piece.id,)]
    counts = (
        (len(own), "entry", "entries"),
        (len(whole.checks_of(piece)), "check", "checks"),
        (sum(w.piece_id == piece.id for w in whole.weighings), "weight", "weights"),
        (sum(t.piece_id == piece.id for t in whole.traces), "trace", "traces"),
        (sum(score.sample_id in samples for score in whole.scores), "score", "scores"),
    )
    said = [f"{count} {one if count == 1 else several}" for count, one, several in counts if count]
    return ", ".join(said)


def next_label(taken: list[str], last: Piece | None) -> str:
    """Return a free label after the last: B3 after B2."""
    letter = last.label[:1] if last and last.label[:1].isalpha() else ascii_uppercase[0]
    number = 1
    while f"{letter}{number}" in taken:
        number += 1
    return f"{letter}{number}"
