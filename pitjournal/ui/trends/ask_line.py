"""The line a question is typed in: it goes on as you type, and shows where it is wrong."""

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QStringListModel, Qt, Signal
from PySide6.QtGui import QColor, QFont, QInputMethodEvent, QKeyEvent, QTextCharFormat
from PySide6.QtWidgets import QCompleter, QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.trends.language.grammar import SentenceError
from pitjournal.analysis.trends.language.link import sentence_in
from pitjournal.analysis.trends.language.sentence import completions, parse_sentence
from pitjournal.analysis.trends.language.sentence_parts import Sort, parts_of
from pitjournal.analysis.trends.language.written import same, write_sentence
from pitjournal.analysis.trends.question import Question
from pitjournal.domain.catalogue import Variable
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.words import Problem
from pitjournal.ui.look.theme import look

ENTER = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})
WALKS = frozenset({Qt.Key.Key_Down, Qt.Key.Key_Up, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp})


class AskLine(QWidget):
    """A sentence.

    Signals
    -------
    asked(object)
        A `Question` was typed.
    refused()
        What was typed is no question.
    """

    asked = Signal(object)
    refused = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(2)
        self.line = QLineEdit()
        self.line.setProperty("role", "sentence")
        self.line.setAccessibleName("question")
        self.line.setPlaceholderText("yield by wrap where cut is brisket since 2025")
        self.line.returnPressed.connect(self._ask)
        self.line.textEdited.connect(self._complete)
        self._known = QStringListModel(self)
        completer = QCompleter(self._known, self)
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setMaxVisibleItems(12)
        popup = completer.popup()
        if popup is not None:
            popup.setProperty("role", "popup")
        self.line.setCompleter(completer)
        self._walked = False
        if popup is not None:
            popup.installEventFilter(self)  # after the completer's own, so it is asked first
        self.line.textChanged.connect(self._colour)
        look().changed.connect(self._colour)
        self.problem = Problem()
        lines.addWidget(self.line)
        lines.addWidget(self.problem)

    def show_question(self, question: Question) -> None:
        """Show a question as its sentence; what was typed stays where it asks just that."""
        if not self._asks(question):
            self.line.setText(write_sentence(question, self._desk.catalogue, self._desk.system))
            self.line.setCursorPosition(0)
        self.problem.say("")

    def _asks(self, question: Question) -> bool:
        """Whether what stands in the line asks a question."""
        try:
            typed = parse_sentence(
                self.line.text(), self._desk.catalogue, self._desk.system, self._values
            )
        except SentenceError:
            return False
        return same(typed, question)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Enter ask what was typed, unless the cook walked to one of what is offered."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in WALKS:
                self._walked = True
            elif event.key() in ENTER and not self._walked:
                assert isinstance(watched, QWidget)
                watched.hide()
                self._ask()
                return True
        return super().eventFilter(watched, event)

    def _colour(self, *_: object) -> None:
        """Let what holds the sentence together step back, and what is asked for stand out.

        A line edit takes such formats as a part of what an input method says of its text.
        """
        theme, cursor = look().theme, self.line.cursorPosition()
        formats = []
        for start, end, sort in parts_of(self.line.text()):
            one = QTextCharFormat()
            one.setForeground(QColor(theme.quiet if sort is Sort.GLUE else theme.ink))
            one.setFontWeight(QFont.Weight.Bold if sort is Sort.ASKED else QFont.Weight.Normal)
            kind = QInputMethodEvent.AttributeType.TextFormat
            formats.append(QInputMethodEvent.Attribute(kind, start - cursor, end - start, one))
        QCoreApplication.sendEvent(self.line, QInputMethodEvent("", formats))

    def begin(self) -> None:
        """Be ready to be typed in."""
        self.line.setFocus()
        self.line.selectAll()

    def say(self, text: str) -> None:
        """Say what is wrong, or nothing."""
        self.problem.say(text)

    def _values(self, variable: Variable) -> list[str]:
        """Return what a variable has been, where the cooks are read already."""
        trends = self._desk.journal.trends
        return trends.values_of(variable) if trends.warm else []

    def _ask(self) -> None:
        text = sentence_in(self.line.text())
        if text != self.line.text():
            self.line.setText(text)
        try:
            question = parse_sentence(text, self._desk.catalogue, self._desk.system, self._values)
        except SentenceError as error:
            self.problem.say(str(error))
            if error.end > error.start:
                self.line.setSelection(error.start, error.end - error.start)
            self.refused.emit()
            return
        self.asked.emit(question)

    def _complete(self, text: str) -> None:
        self.problem.say("")
        self._walked = False
        self._known.setStringList(
            completions(text, self._desk.catalogue, self._desk.system, self._values)
        )
