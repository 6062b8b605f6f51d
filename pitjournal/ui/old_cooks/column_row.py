"""One column of the table: what it becomes, what was read of it, and its question."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QFrame, QSizePolicy, QVBoxLayout, QWidget

from pitjournal.files.old_cooks import ColumnAnswer, SheetColumn
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.words import Elided, row, words
from pitjournal.ui.look.theme import at_size, look, px, sized
from pitjournal.ui.old_cooks.column_words import becomes, choices

HEAD, FIRST, BECOMES = 92, 78, 184
YEARS = 14


class Sign(QWidget):
    """A tick for what is sure, a triangle for what is to look at, a dash for a note."""

    def __init__(self, column: SheetColumn) -> None:
        super().__init__()
        self._asked, self._note = column.uncertain, column.variable is None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return its size."""
        return QSize(px(20), px(20))

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        at_size(painter, self.rect())
        colour = theme.look if self._asked else theme.quiet if self._note else theme.right
        painter.setPen(QPen(QColor(colour), 2.2))
        if self._asked:
            corners = ((10, 3), (18, 17), (2, 17), (10, 3))
            painter.drawPolyline([QPointF(x, y) for x, y in corners])
            painter.drawLine(QPointF(10, 8), QPointF(10, 12))
            painter.drawPoint(QPointF(10, 14.6))
        elif self._note:
            painter.drawLine(QPointF(6, 10), QPointF(14, 10))
        else:
            painter.drawPolyline([QPointF(3, 10), QPointF(8, 15), QPointF(17, 5)])
        painter.end()


class ColumnRow(QFrame):
    """A column of the table, its question in the row.

    Signals
    -------
    answered(str, object)
        The cook said something (an `Answer`) of the column of that letter.
    """

    answered = Signal(str, object)

    def __init__(self, desk: Desk, column: SheetColumn) -> None:
        super().__init__()
        self.column = column
        self._years: Sequence[tuple[object, str, int | None]] = ()
        name = column.header or f"Column {column.letter}"
        self.setProperty("role", "note" if column.uncertain else "plain")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(tokens.S, 3, tokens.S, 3)
        layout.setSpacing(tokens.XS)
        head = _fixed(Elided(" ".join(name.split()), "strong"), HEAD)
        self.first = _fixed(Elided(" ".join(column.first.split()), "quiet"), FIRST)
        self.box = ChoiceBox(f"{name} becomes", choices(column, desk.catalogue), self._becomes)
        for part in self.box.findChildren(QWidget):
            if part is not self.box.box:
                part.hide()  # the heading over all rows says it
        self.box.set_value(column.variable or "")
        sized(self.box, width=BECOMES)
        said = column.question.words if column.question else column.said
        self.said = words(said, "error" if column.uncertain else "quiet")
        self.settle = button("Settle", self.open_question, "link", about=name, tip="F2")
        self.settle.setVisible(column.uncertain)
        line = row(head, self.first, self.box, Sign(column), self.said, self.settle, space=tokens.S)
        line.setStretch(4, 1)
        layout.addLayout(line)
        self.question = Choice(f"{name}: {said}", tall=False)
        self.question.hide()
        self.question.chosen.connect(self._settled)
        layout.addWidget(self.question)
        asked = f", to look at: {said}" if column.uncertain else f", {said}"
        self.setAccessibleName(f"Column {name}, becomes {becomes(column, desk.catalogue)}{asked}")

    def offer_years(self, last: int) -> None:
        """Offer years where the dates have none."""
        self._years = [(ColumnAnswer(year=last - ago), str(last - ago), -1) for ago in range(YEARS)]

    def open_question(self) -> None:
        """Ask in the row; a second time puts the question away."""
        question = self.column.question
        if question is None:
            return
        if self.question.isVisible():
            self.question.hide()
            return
        known: list[tuple[object, str, int | None]]
        known = [(answer, text, -1) for text, answer in question.choices]
        if not known and self.column.variable == "date":
            known = list(self._years)
        if not known:
            self.box.box.setFocus()
            self.box.box.showPopup()
            return
        self.question.offer(known)
        self.question.show()
        first = next(iter(self.question.findChildren(QWidget)), None)
        if first is not None:
            first.setFocus()

    def _settled(self, answer: object) -> None:
        self.answered.emit(self.column.letter, answer)

    def _becomes(self, variable: object) -> str:
        if variable != (self.column.variable or ""):
            self.answered.emit(self.column.letter, ColumnAnswer(variable=str(variable)))
        return ""


def _fixed(label: Elided, width: int) -> Elided:
    label.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    sized(label, width=width)
    return label
