"""Saved questions: ask one, name it, put it in order, pin it to the start page."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.trends.language.written import write_sentence
from pitjournal.analysis.trends.question import Question, checked
from pitjournal.analysis.trends.stored import asked, kept
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.errors import JournalError
from pitjournal.journal.commands.questions import MoveQuestion, SaveQuestion, in_order
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.overlay import Overlay, open_alone
from pitjournal.ui.look.parts.words import Problem, row, words

AT_ONCE, A_TURN = 12, 6
"""So many lines are made at once, and so many in each turn of the event loop after that."""


class SavedLine(QWidget):
    """One saved question: asked by its name, or changed."""

    def __init__(self, ask: Callable[[str], None], change: Callable[[SavedQuestion], None]) -> None:
        super().__init__()
        self._saved: SavedQuestion | None = None
        self._ask, self._change = ask, change
        self.ask = button("", self._asked, "link")
        self.change = button("Change", self._changed, "link")
        self.setLayout(row(self.ask, None, self.change))

    def show_saved(self, saved: SavedQuestion) -> None:
        """Show a question; what is said of it already is left alone."""
        if saved == self._saved:
            return
        self._saved = saved
        self.ask.setText(f"{saved.name} · pinned" if saved.pinned else saved.name)
        self.change.tell_about(saved.name)

    def _asked(self) -> None:
        if self._saved is not None:
            self._ask(self._saved.id)

    def _changed(self) -> None:
        if self._saved is not None:
            self._change(self._saved)


class SavedCard(Card):
    """The saved questions of a journal.

    Signals
    -------
    asked(object)
        A saved `Question` is asked.
    """

    asked = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__("Saved")
        self._desk = desk
        self.problem = Problem()
        self.lines = QVBoxLayout()
        self.empty = words("A question you come back to can be saved, by name, above.", "quiet")
        self._rows: list[SavedLine] = []
        self._saved: list[SavedQuestion] = []
        self._more = QTimer(self, interval=0, singleShot=True)
        self._more.timeout.connect(lambda: self._show(A_TURN))
        self.body.addWidget(self.problem)
        self.body.addWidget(self.empty)
        self.body.addLayout(self.lines)

    def refresh(self) -> None:
        """Show what is saved; lines that are there are shown anew, not made anew."""
        self.problem.say("")
        self._saved = list(in_order(self._desk.journal.find(SavedQuestion)))
        while len(self._rows) > len(self._saved):
            line = self._rows.pop()
            self.lines.removeWidget(line)
            line.hide()
            line.setParent(None)
            line.deleteLater()
        self._show(AT_ONCE)
        self.empty.setVisible(not self._saved)

    def _show(self, most: int) -> None:
        """Show what there is a line for, and make some lines more; the others in turns after."""
        for _ in range(min(most, len(self._saved) - len(self._rows))):
            self._rows.append(SavedLine(self.ask, self._change))
            self.lines.addWidget(self._rows[-1])
        for line, one in zip(self._rows, self._saved, strict=False):
            line.show_saved(one)
        if len(self._rows) < len(self._saved):
            self._more.start()

    def ask(self, question_id: str) -> None:
        """Ask a saved question; say so where it can't be asked."""
        found = self._desk.journal.find(SavedQuestion, id=question_id)
        if not found:
            self.problem.say("That question is no longer saved.")
            return
        try:
            question = checked(asked(found[0].question), self._desk.catalogue)
        except JournalError as error:
            self.problem.say(f"{found[0].name}: {error}")
            return
        self.problem.say("")
        self.asked.emit(question)

    def _change(self, saved: SavedQuestion) -> None:
        open_alone(SavedPanel(self.window(), self._desk, saved))


class SavedPanel(Overlay):
    """Name a saved question, move it, pin it, or take it away."""

    def __init__(self, over: QWidget, desk: Desk, saved: SavedQuestion) -> None:
        super().__init__(over, "Saved question", 560)
        self._desk, self._saved = desk, saved
        self.name = TextField("Name", self._rename)
        self.name.set_value(saved.name)
        self.pin = Choice("pinned")
        self.pin.offer(((True, "pinned to the start page", -1),))
        self.pin.choose(*([True] if saved.pinned else []))
        self.pin.chosen.connect(lambda *_: self._pin())
        self.body.addWidget(self.name)
        self.body.addWidget(words(self._sentence(saved.question), "quiet"))
        self.body.addWidget(self.pin)
        self.body.addLayout(
            row(
                button("Up", self._mover(-1)),
                button("Down", self._mover(1)),
                None,
                button("Take it away", self._remove, "danger"),
            )
        )

    def _sentence(self, question: Mapping[str, Any]) -> str:
        try:
            return write_sentence(asked(question), self._desk.catalogue, self._desk.system)
        except JournalError as error:
            return str(error)

    def _rename(self, value: object, _typed: str) -> str:
        name = str(value or "").strip()
        if not name:
            return "A name is needed."
        change = Change(SavedQuestion, self._saved.id, {"name": name}, "Name a question")
        return self._desk.bridge.attempt(change)

    def _pin(self) -> None:
        pinned = not self._saved.pinned
        self._saved = replace(self._saved, pinned=pinned)
        self.pin.choose(*([True] if pinned else []))
        label = "Pin a question" if pinned else "Unpin a question"
        self._desk.bridge.do(Change(SavedQuestion, self._saved.id, {"pinned": pinned}, label))

    def _mover(self, by: int) -> Callable[[], None]:
        def move() -> None:
            self._desk.bridge.do(MoveQuestion(self._saved.id, by))

        return move

    def _remove(self) -> None:
        self.close_panel()
        self._desk.bridge.do(Remove(SavedQuestion, self._saved.id, "Take a question away"))


class SavePanel(Overlay):
    """Give a question a name."""

    def __init__(self, over: QWidget, desk: Desk, question: Question) -> None:
        super().__init__(over, "Save this question", 560)
        self._desk, self._question = desk, question
        sentence = write_sentence(question, desk.catalogue, desk.system)
        self.name = TextField("Name", lambda *_: "", hint="which wrap for brisket")
        self.name.line.returnPressed.connect(self._keep)
        self.body.addWidget(words(sentence, "quiet"))
        self.body.addWidget(self.name)
        self.body.addLayout(row(button("Save it", self._keep, "primary"), None))

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the name ready."""
        super().open_panel(first or self.name.line)

    def _keep(self) -> None:
        name = self.name.line.text().strip()
        problem = self._desk.bridge.attempt(SaveQuestion(name, kept(self._question)))
        if problem:
            self.name.say(problem)
            return
        self.close_panel()
