"""A taster's answer in a triangle, duo–trio or pair: a tap on a code, or its three digits."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QWidget

from pitjournal.domain.scheme import ANSWER
from pitjournal.domain.tasting import Session
from pitjournal.files.tasting_sheets import ask
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap
from pitjournal.ui.look.parts.words import clear, column, row, words
from pitjournal.ui.look.theme import sized, tabular
from pitjournal.ui.tasting.model import served_of

Choose = Callable[[str], str]
"""Keeps the chosen sample's id; returns why not, or an empty text."""


class CodeField(QLineEdit):
    """The code that was read out; with the last digit it is taken.

    Signals
    -------
    finished()
        Enter: the next taster, please.
    """

    finished = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("code that was chosen")
        self.setPlaceholderText("or type its code")
        tabular(self)
        sized(self, most_width=2 * tokens.SCORE_WIDTH)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes on."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.finished.emit()
        else:
            super().keyPressEvent(event)


class AnswerSheet(QWidget):
    """The portions of one taster as they are served, and the one that was chosen.

    Signals
    -------
    finished()
        The cook goes on to the next taster.
    said(str)
        What is wrong with the code, or nothing.
    """

    finished = Signal()
    said = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.ask = words("", "large")
        self._line = QHBoxLayout()
        self._line.setSpacing(tokens.M)
        self.code = CodeField()
        self.code.textEdited.connect(self._typed)
        self.code.finished.connect(self.finished)
        self._choose: Choose = lambda _sample: ""
        self._ids: dict[str, str] = {}
        self.taps: dict[str, Tap] = {}
        self._key: tuple[str, str] = ("", "")
        self.setLayout(column(self.ask, self._line, row(self.code, None), space=tokens.M))

    def show_sheet(self, session: Session, taster: str, choose: Choose) -> None:
        """Show what a taster is served."""
        self._choose = choose
        self.ask.setText(ask(session, "Tap the code that was chosen."))
        key = session.tasting.id, taster
        if key != self._key:
            self._key = key
            self.code.clear()
            self._build(session, taster)
        for sample_id, tap in self.taps.items():
            chosen = (sample_id, taster, ANSWER) in session.given
            tap.make_primary(chosen)
            tap.say_below("chosen" if chosen else "")

    def _build(self, session: Session, taster: str) -> None:
        clear(self._line)
        self.taps = {}
        self._ids = {sample.code: sample.id for sample in served_of(session, taster)}
        if any(sample.reference for sample in session.served(taster)):
            self._line.addWidget(words("R, then", "big", wrap=False))
        for code, sample_id in self._ids.items():
            tap = Tap(code)
            tap.clicked.connect(self._taker(sample_id))
            self.taps[sample_id] = tap
            self._line.addWidget(tap)

    def _taker(self, sample_id: str) -> Callable[..., None]:
        def take(*_: object) -> None:
            self.said.emit(self._choose(sample_id))

        return take

    def _typed(self, text: str) -> None:
        code = text.strip()
        if len(code) < 3:
            self.said.emit("")
        elif code in self._ids:
            self.said.emit(self._choose(self._ids[code]))
            self.code.selectAll()
        else:
            codes = ", ".join(self._ids)
            self.said.emit(f"{code} is not among these: {codes}. Type it again.")
            self.code.selectAll()
