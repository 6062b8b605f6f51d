"""What each piece gives when it is carved, and which go into the box, in which order."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout

from pitjournal.analysis.plan.carving import carved
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import Form, RecordRow, Rows
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import sized
from pitjournal.units import Dimension

LABEL, TURN = 150, 96
"""The widths of a piece's name and of its turn, px."""


class CarvingRow(RecordRow):
    """One piece: how it is served, its turn into the box, what it gives."""

    CALLED = "piece"

    def __init__(self, desk: Desk, how: Callable[[str], str]) -> None:
        super().__init__()
        self._how = how
        self.form = Form(desk, "the piece")
        self.name = words("", wrap=False)
        self.turn = self.form.quantity(
            "box", "Turn into the box", Dimension.COUNT, bare=True, hint="box", whole=True
        )
        self.gives = self.form.text(
            "gives", "What it gives", bare=True, hint="six slices, burnt ends…"
        )
        sized(self.name, least_width=LABEL)
        sized(self.turn, width=TURN)
        line = row(self.name, self.turn, self.gives, space=6)
        line.setStretch(2, 1)
        line.setContentsMargins(0, 2, 0, 2)
        self.setLayout(line)

    def called(self, record: Record) -> str:
        """Return the label of the piece."""
        return record.label if isinstance(record, Piece) else ""

    def show_record(self, record: Record) -> None:
        """Show a piece."""
        assert isinstance(record, Piece)
        self.name.setText(f"{record.label} · {self._how(record.id)}")
        self.form.show(record)


class CarvingCard(Card):
    """The pieces of a cook that is turned in, in the order they are carved in."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("To carve, piece by piece")
        self._served: dict[str, str] = {}
        hint = "Number the pieces that go into the box in the order you would take them."
        self.body.addWidget(words(hint, "quiet"))
        lines = QVBoxLayout()
        lines.setSpacing(0)
        self.body.addLayout(lines)
        self.rows = Rows(lines, lambda: CarvingRow(desk, lambda one: self._served.get(one, "")))
        self.body.addStretch(1)
        self.hide()

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's pieces; out of sight where nothing is turned in."""
        self.setVisible(bool(whole.turn_ins and whole.pieces))
        groups = carved(whole) if whole.turn_ins else ()
        self._served = {piece.id: group.served for group in groups for piece in group.pieces}
        order = {piece.id: place for place, group in enumerate(groups) for piece in group.pieces}
        pieces = sorted(whole.pieces, key=lambda p: (order.get(p.id, 0), p.position))
        self.rows.show(pieces if whole.turn_ins else ())
