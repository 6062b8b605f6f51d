"""A taster's sheet: three-digit codes in serving order, a field for each criterion."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from pitjournal.domain.scheme import Criterion
from pitjournal.domain.tasting import Sample, Session
from pitjournal.errors import JournalError
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.spoken import announce
from pitjournal.ui.look.parts.words import clear, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.tasting.model import served_of

Keep = Callable[[str, str, float | None], str]
"""Keeps a score by sample id and criterion; returns why not, or an empty text."""

_ENTERS = {Qt.Key.Key_Return, Qt.Key.Key_Enter}
FULL = "This row is full. Enter goes to the next; click a score to change it."


class ScoreField(QLineEdit):
    """One score. A digit that can only mean one score is kept at once, and the next is ready.

    Space goes on too; the one that follows such a digit goes no further, so that "7687" and
    "7 6 8 7" do the same. Enter ends the row, short or full; the last score of a row waits for
    it, and a digit too many is said rather than kept in the place of another.

    Signals
    -------
    ended()
        The score is whole: the next field may be ready.
    going()
        The cook goes on to the next field.
    row_ended()
        The cook goes on to the next row.
    rows(int)
        The cook goes on by so many rows.
    said(str)
        What is wrong with the score, or nothing.
    """

    ended = Signal()
    going = Signal()
    row_ended = Signal()
    rows = Signal(int)
    said = Signal(str)

    def __init__(self, code: str, criterion: Criterion, samples: int) -> None:
        super().__init__()
        self.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        sized(self, width=tokens.SCORE_WIDTH)
        self.criterion, self._samples = criterion, samples
        self._came_by_itself = self.row_is_full = False
        self.stand_for(code, lambda _value: "")
        self.textEdited.connect(self._typed)
        self.editingFinished.connect(self.commit)

    def stand_for(self, code: str, keep: Callable[[float | None], str]) -> None:
        """Be a score of this sample from now on, with nothing in it."""
        self.code, self.keep, self._kept = code, keep, ""
        self.setAccessibleName(f"{code}, {self.criterion.name}")
        if self.wrong:
            self._mark("")
        self.clear()
        self.setModified(False)

    @property
    def wrong(self) -> bool:
        """Whether what stands here was refused."""
        return bool(self.property("wrong"))

    def show_score(self, value: float | None) -> None:
        """Show a score, unless the cook is typing here or has something to mend."""
        self._kept = self.criterion.shown(value)
        if not self.wrong and not (self.hasFocus() and self.isModified()):
            self.setText(self._kept)

    def arrive(self, *, by_itself: bool) -> None:
        """Be ready to be typed over."""
        self._came_by_itself, self.row_is_full = by_itself, False
        self.show()  # one that was only just made takes no focus before it is seen
        self.setFocus()
        self.selectAll()

    def _typed(self, text: str) -> None:
        self._came_by_itself = False
        if self.criterion.ends_at_once(text, self._samples):
            if self.commit():
                self.ended.emit()
        elif self.criterion.cannot_become(text, self._samples):
            self.commit()  # which says why; it stays to be typed over

    def commit(self) -> bool:
        """Save what stands here; whether it could be."""
        if not self.isModified() or (self.text().strip() == self._kept and not self.wrong):
            return not self.wrong
        try:
            value = self.criterion.read(self.text())
        except JournalError as error:
            return self._mark(f"{self.code}, {self.criterion.name}: {error}")
        problem = self.keep(value)
        if problem:
            return self._mark(problem)
        self._kept = self.criterion.shown(value)
        self.setModified(False)
        self._mark("")
        self.setText(self._kept)
        return True

    def _mark(self, problem: str) -> bool:
        self.setAccessibleDescription(problem)
        self.setToolTip(problem)
        if self.wrong != bool(problem):
            self.setProperty("wrong", bool(problem))
            self.style().polish(self)
        self.said.emit(problem)
        if problem:
            self.selectAll()
        return not problem

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go on with Space, end the row with Enter, and go by rows with the arrows."""
        key = Qt.Key(event.key())
        if key in _ENTERS:
            if self.commit():
                self.row_ended.emit()
        elif key == Qt.Key.Key_Space:
            came, self._came_by_itself = self._came_by_itself, False
            if not (came and not self.isModified()) and self.commit():
                self.going.emit()
        elif key in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            if self.commit():
                self.rows.emit(1 if key == Qt.Key.Key_Down else -1)
        elif self.row_is_full and event.text().isprintable() and event.text():
            self.said.emit(FULL)
            announce(self, FULL, urgent=True)
        else:
            self.row_is_full = False
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Select the score whole: a digit takes its place rather than standing beside it."""
        super().mouseReleaseEvent(event)
        self.row_is_full = False
        self.selectAll()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Be left: whoever comes back means this score."""
        super().focusOutEvent(event)
        self.row_is_full = False

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Be ready to be typed over."""
        super().focusInEvent(event)
        if event.reason() is not Qt.FocusReason.OtherFocusReason:
            self._came_by_itself = False
        self.selectAll()


class Sheet(QWidget):
    """All fields of one taster, read out row by row.

    Signals
    -------
    finished()
        The cook went on past the last field.
    said(str)
        What is wrong with a score, or nothing.
    """

    finished = Signal()
    said = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(tokens.M)
        self._grid.setVerticalSpacing(tokens.S)
        self._key: tuple[object, ...] = ()
        self._made: tuple[object, ...] = ()
        self._codes: list[QLabel] = []
        self.fields: dict[tuple[str, str], ScoreField] = {}
        self._order: list[ScoreField] = []

    def show_sheet(self, session: Session, taster: str, keep: Keep) -> None:
        """Show a taster's sheet; fields are made anew only for a sheet of another shape."""
        served = served_of(session, taster)
        key = (session.tasting.id, taster, tuple(s.id for s in served))
        if key != self._key:
            self._key = key
            samples = session.tasting.meets(taster)
            made = (session.tasting.id, session.tasting.asked.criteria, samples, len(served))
            if made != self._made:
                self._made = made
                self._build(session.tasting.asked.criteria, samples, len(served))
            self._fill(served, keep)
        for (sample_id, criterion), field in self.fields.items():
            field.show_score(session.given.get((sample_id, taster, criterion)))

    def save(self) -> None:
        """Save the score that is being typed, before the sheet becomes another's."""
        for field in self._order:
            if field.isModified() and not field.wrong:
                field.commit()

    def _fill(self, served: Sequence[Sample], keep: Keep) -> None:
        """Let the fields stand for these samples."""
        self.fields = {}
        fields = iter(self._order)
        for code, sample in zip(self._codes, served, strict=True):
            code.setText(sample.code)
            for _ in range(len(self._order) // len(served)):
                field = next(fields)
                field.stand_for(sample.code, _keeper(keep, sample.id, field.criterion.name))
                self.fields[sample.id, field.criterion.name] = field

    def _build(self, criteria: Sequence[Criterion], samples: int, lines: int) -> None:
        clear(self._grid)
        self._codes, self._order = [], []
        middle = Qt.AlignmentFlag.AlignHCenter
        for place, criterion in enumerate(criteria, 1):
            self._grid.addWidget(words(criterion.name, "heading", wrap=False), 0, place, middle)
        for line in range(1, lines + 1):
            code = words("", "big", wrap=False, tabular=True)
            self._codes.append(code)
            self._grid.addWidget(code, line, 0)
            for across, criterion in enumerate(criteria, 1):
                field = ScoreField("", criterion, samples)
                place = len(self._order)
                last = across == len(criteria)
                field.ended.connect(_waiter(field) if last else self._stepper(place, 1))
                field.going.connect(self._goer(place + 1))
                field.row_ended.connect(self._goer(line * len(criteria)))
                field.rows.connect(self._stepper(place, len(criteria)))
                field.said.connect(self.said)
                self._order.append(field)
                self._grid.addWidget(field, line, across, middle)
        self._grid.setColumnStretch(len(criteria) + 1, 1)

    def _stepper(self, place: int, size: int) -> Callable[..., None]:
        def step(by: int = 1) -> None:
            following = place + size * by
            if 0 <= following < len(self._order):
                self._order[following].arrive(by_itself=size == 1)

        return step

    def _goer(self, place: int) -> Callable[[], None]:
        """Return what goes to a place on the sheet, or past its end."""

        def go() -> None:
            if place >= len(self._order):
                self.finished.emit()
            else:
                self._order[place].arrive(by_itself=False)

        return go

    def first_blank(self) -> ScoreField | None:
        """Return the first field without a score."""
        return next((field for field in self._order if not field.text()), None)

    def first_wrong(self) -> ScoreField | None:
        """Return the first field with something to mend."""
        return next((field for field in self._order if field.wrong), None)


def _keeper(keep: Keep, sample_id: str, criterion: str) -> Callable[[float | None], str]:
    return lambda value: keep(sample_id, criterion, value)


def _waiter(field: ScoreField) -> Callable[[], None]:
    def wait() -> None:
        field.row_is_full = True

    return wait
