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
FULL = "This row is full: {} was not taken. Enter goes to the next; click a score to change it."
FULL_SHEET = "This sheet is full: {} was not taken. Enter goes to the next taster."
RUNS_ON = "This row is full: {} goes to the next, {}. Enter now takes it back."
TAKEN_BACK = "{} after a full row was taken back, as Enter came before {} was full."
POINTS = frozenset(".,")


class ScoreField(QLineEdit):
    """One score. A digit that can only mean one score is kept at once, and the next is ready.

    Space goes on too; the one that follows such a digit goes no further, so that "7687" and
    "7 6 8 7" do the same. Enter ends the row, short or full; the last score of a row waits for
    it, and a digit too many is handed on and said. A point after a score that was kept at once
    goes on with that score, so that "6.5" is refused, or kept, as a whole.

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
    over(str)
        A digit came after the last score of the row.
    pointed(str)
        A point came: it belongs to the score before.
    touched()
        The cook clicked here, or came by the arrows.
    said(str)
        What is wrong with the score, or nothing.
    """

    ended = Signal()
    going = Signal()
    row_ended = Signal()
    rows = Signal(int)
    over = Signal(str)
    pointed = Signal(str)
    touched = Signal()
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

    def go_on_with(self, text: str) -> None:
        """Write on behind the score that stands here; it is not kept until it is whole."""
        begun = self.text()
        self.arrive(by_itself=False)
        if not self.keep(None):
            self._kept = ""
        self.setText(begun)
        self.insert(text)

    def _typed(self, text: str) -> None:
        self._came_by_itself = False
        if self.criterion.ends_at_once(text, self._samples):
            if self.commit():
                self.ended.emit()
        elif self.criterion.cannot_become(text, self._samples):
            self.commit()  # which says why; it stays to be typed over

    def empty(self) -> None:
        """Take the score back."""
        if self.text():
            self._mark("")
            self.setText("")
            self.setModified(True)
            self.commit()

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
                self.touched.emit()
                self.rows.emit(1 if key == Qt.Key.Key_Down else -1)
        elif event.text() in POINTS and self.row_is_full:
            self.go_on_with(event.text())
        elif event.text() in POINTS and self._came_by_itself and not self.isModified():
            self.pointed.emit(event.text())
        elif self.row_is_full and event.text().isprintable() and event.text():
            self.over.emit(event.text())
        else:
            self.row_is_full = False
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Select the score whole: a digit takes its place rather than standing beside it."""
        super().mouseReleaseEvent(event)
        self.touched.emit()
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
        self._too_many = ""
        self._ran_on: int | None = None  # the row that began with a digit after a full one
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
            self._key, self._too_many, self._ran_on = key, "", None
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
                field.row_ended.connect(self._ender(line - 1))
                field.over.connect(self._runner(place + 1))
                field.pointed.connect(self._pointer(place - 1))
                field.touched.connect(self._end_run)
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
            self._ran_on = None
            if place < len(self._order):
                self._too_many = ""
            if place >= len(self._order):
                self.finished.emit()
            else:
                self._order[place].arrive(by_itself=False)

        return go

    def _row(self, line: int) -> list[ScoreField]:
        """Return the fields of a row; none past the end."""
        across = len(self._order) // max(len(self._codes), 1)
        return self._order[line * across : (line + 1) * across]

    def _ender(self, line: int) -> Callable[[], None]:
        """Return what Enter does in a row: on to the next, or back if a digit ran on by mistake."""

        def end() -> None:
            fields = self._row(line)
            ran_on, self._ran_on = self._ran_on == line, None
            if ran_on and not all(field.text() for field in fields):
                self._take_back(fields)
            else:
                self._goer((line + 1) * len(fields))()

        return end

    def _end_run(self) -> None:
        self._ran_on, self._too_many = None, ""

    def _take_back(self, fields: Sequence[ScoreField]) -> None:
        gone = "".join(field.text() for field in fields)
        for field in fields:
            field.empty()
        fields[0].arrive(by_itself=False)
        self._tell(TAKEN_BACK.format(gone, fields[0].code))

    def _runner(self, place: int) -> Callable[[str], None]:
        """Return what takes a digit that came after a full row: the next, where that is blank."""

        def run(text: str) -> None:
            across = len(self._order) // len(self._codes)
            row = self._row(place // across)
            blank = row and not any(field.text() for field in row)
            if not blank or not text.isdecimal() or self._too_many:
                self._too_many += text
                self._tell((FULL if row else FULL_SHEET).format(self._too_many))
                return
            self._ran_on = place // across
            row[0].arrive(by_itself=False)
            row[0].insert(text)
            if not row[0].wrong:
                self._tell(RUNS_ON.format(text, row[0].code))

        return run

    def _pointer(self, place: int) -> Callable[[str], None]:
        def point(text: str) -> None:
            self._order[place].go_on_with(text)

        return point

    def _tell(self, text: str) -> None:
        self.said.emit(text)
        announce(self, text, urgent=True)

    def take_too_many(self) -> str:
        """Return what was typed after the sheet was full, and forget it."""
        too_many, self._too_many = self._too_many, ""
        return too_many

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
