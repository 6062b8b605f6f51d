"""A taster's sheet: three-digit codes in serving order, a field for each criterion."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from pitjournal.domain.tasting import Sample, Tasting
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.words import clear, words
from pitjournal.ui.tasting.model import Given

Keep = Callable[[str, str, float | None], str]
"""Keeps a score by sample id and criterion; returns why not, or an empty text."""


class ScoreField(QLineEdit):
    """One score. A digit that can only mean one score is kept at once, and the next is ready."""

    def __init__(self, name: str, low: float, high: float) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.setFixedWidth(tokens.SCORE_WIDTH)
        self.low, self.high = low, high
        self.keep: Callable[[float | None], str] = lambda _value: ""
        self.step: Callable[[int], None] = lambda _by: None
        self._kept = ""
        self.textEdited.connect(self._typed)
        self.editingFinished.connect(self._leave)

    def show_score(self, value: float | None) -> None:
        """Show a score."""
        self._kept = "" if value is None else f"{value:g}"
        if not (self.hasFocus() and self.isModified()):
            self.setText(self._kept)

    def _typed(self, text: str) -> None:
        whole = text.strip()
        fits = whole.isdecimal() and self.low <= float(whole) <= self.high
        if fits and float(whole) * 10 > self.high and self._save(float(whole)):
            self.step(1)

    def _leave(self) -> None:
        if not self.isModified() or self.text().strip() == self._kept:
            return
        text = self.text().strip().replace(",", ".")
        try:
            value = float(text) if text else None
        except ValueError:
            self._refuse(f"A score is a number from {self.low:g} to {self.high:g}.")
            return
        self._save(value)

    def _save(self, value: float | None) -> bool:
        problem = self.keep(value)
        if problem:
            self._refuse(problem)
            return False
        self._kept = "" if value is None else f"{value:g}"
        self.setModified(False)
        self._mark("")
        return True

    def _refuse(self, problem: str) -> None:
        self._mark(problem)
        self.setText(self._kept)
        self.setModified(False)
        self.selectAll()

    def _mark(self, problem: str) -> None:
        self.setToolTip(problem)
        self.setAccessibleDescription(problem)
        self.setProperty("wrong", bool(problem))
        self.style().polish(self)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move with Enter and the arrows."""
        steps = {Qt.Key.Key_Return: 1, Qt.Key.Key_Enter: 1, Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}
        step = steps.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        self._leave()
        self.step(step)

    def focusInEvent(self, event: object) -> None:
        """Be ready to be typed over."""
        super().focusInEvent(event)  # type: ignore[arg-type]
        self.selectAll()


class Sheet(QWidget):
    """All fields of one taster, read out row by row."""

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(tokens.M)
        self._grid.setVerticalSpacing(tokens.S)
        self._key: tuple[object, ...] = ()
        self.fields: dict[tuple[str, str], ScoreField] = {}
        self._order: list[ScoreField] = []

    def show_sheet(
        self, session: Tasting, taster: str, samples: Sequence[Sample], scores: Given, keep: Keep
    ) -> None:
        """Show a taster's sheet; fields are made anew only for another sheet."""
        key = (session.id, taster, tuple(s.id for s in samples), session.criteria)
        if key != self._key:
            self._key = key
            self._build(session, samples, keep)
        for (sample_id, criterion), field in self.fields.items():
            field.show_score(scores.get((sample_id, taster, criterion)))

    def _build(self, session: Tasting, samples: Sequence[Sample], keep: Keep) -> None:
        clear(self._grid)
        self.fields, self._order = {}, []
        middle = Qt.AlignmentFlag.AlignHCenter
        for place, criterion in enumerate(session.criteria, 1):
            self._grid.addWidget(words(criterion, "heading", wrap=False), 0, place, middle)
        for line, sample in enumerate(samples, 1):
            code = words(sample.code, "big", wrap=False, tabular=True)
            self._grid.addWidget(code, line, 0)
            for place, criterion in enumerate(session.criteria, 1):
                field = ScoreField(f"{sample.code}, {criterion}", session.low, session.high)
                field.keep = _keeper(keep, sample.id, criterion)
                field.step = self._stepper(len(self._order))
                self.fields[sample.id, criterion] = field
                self._order.append(field)
                self._grid.addWidget(field, line, place, middle)
        self._grid.setColumnStretch(len(session.criteria) + 1, 1)

    def _stepper(self, place: int) -> Callable[[int], None]:
        def step(by: int) -> None:
            following = place + by
            if 0 <= following < len(self._order):
                self._order[following].setFocus()

        return step

    def first_blank(self) -> QWidget | None:
        """Return the first field without a score."""
        return next((field for field in self._order if not field.text()), None)


def _keeper(keep: Keep, sample_id: str, criterion: str) -> Callable[[float | None], str]:
    return lambda value: keep(sample_id, criterion, value)
