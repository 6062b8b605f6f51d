"""The lists of a plan: to buy, the night before, to pack; and the card to print."""

from pathlib import Path

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.plan.lists import Listed
from pitjournal.analysis.plan.past import Past
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.formats import Format, format_for
from pitjournal.files.paper import usual_paper
from pitjournal.files.places import typed_path
from pitjournal.files.writing import named_after
from pitjournal.ui.desk import Desk
from pitjournal.ui.file_job import write_file
from pitjournal.ui.files_asked import FileKind, proposed, save_file
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import Problem, clear, row, words
from pitjournal.ui.plan.card import BUY, CARVE, PACK, PREPARE, lists_of
from pitjournal.ui.plan.plan_formats import CALENDAR, CARD, Day
from pitjournal.ui.printing.pages import load_fonts


class ListsPanel(Overlay):
    """Turns between the lists; copies one, or prints them all with the day."""

    def __init__(self, desk: Desk, over: QWidget, whole: WholeCook, past: Past | None) -> None:
        super().__init__(over, "Lists", 700)
        self._desk, self._whole, self._past = desk, whole, past
        self._lists = lists_of(desk.journal, whole, past, desk.system)
        self.which = Choice("which list")
        self.which.offer(
            (
                (BUY, "to buy", -1),
                (PREPARE, "the night before", -1),
                (PACK, "to pack", -1),
                (CARVE, "to carve", -1),
            )
        )
        self.which.choose(BUY)
        self.which.chosen.connect(lambda *_: self._show())
        self.body.addWidget(self.which)
        holder = QWidget()
        self._lines = QVBoxLayout(holder)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(tokens.S)
        area = scroll(holder, "the list")
        area.setMinimumHeight(300)
        self.body.addWidget(area)
        self.body.addWidget(words("The day to print, with its lists", "heading"))
        self.target = QLineEdit(proposed(FileKind.PAPER, named_after(whole.cook.title, "day.pdf")))
        self.target.setAccessibleName("file to print into")
        self.body.addLayout(row(self.target, button("Choose…", self._choose)))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.print = button("Print the card", self._print, "primary")
        self.calendar = button("Write a calendar file", self._write_calendar)
        self.body.addLayout(
            row(self.print, self.calendar, None, button("Copy this list", self._copy, "link"))
        )
        self._show()

    @property
    def shown(self) -> Listed:
        """The list that is seen."""
        return self._lists[str(next(iter(self.which.values()), BUY))]

    def _show(self) -> None:
        clear(self._lines)
        for line in self.shown.lines:
            self._lines.addWidget(words(f"•  {line}"))
        if not self.shown.lines:
            self._lines.addWidget(words("Nothing. Work the day out first.", "quiet"))
        self._lines.addStretch(1)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.shown.text)
        self._desk.bridge.told.emit("Copied the list")

    def _choose(self) -> None:
        chosen, _ = save_file(self, FileKind.PAPER, "Print the card", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _print(self) -> None:
        target = self._target()
        if target is None:
            return
        try:
            form = format_for(target, (CARD,))
        except JournalError as error:
            self.problem.say(error.hint)
            return
        self._put(target, form, self.print)

    def _write_calendar(self) -> None:
        """Write the steps beside the card, under its name."""
        card = self._target()
        if card is not None:
            target = card.with_suffix(CALENDAR.suffix) if card.name else card
            self._put(target, CALENDAR, self.calendar)

    def _put(self, target: Path, form: Format[Day], presses: QAbstractButton) -> None:
        desk, system = self._desk, self._desk.system
        paper, now = usual_paper(system), desk.now()
        day = Day(desk.journal, self._whole, self._past, system, paper, now)
        load_fonts()
        write_file(
            desk, self, self.problem, presses, FileKind.PAPER, target, lambda _: form.make(day)
        )

    def _target(self) -> Path | None:
        try:
            return typed_path(self.target.text())
        except JournalError as error:
            self.problem.say(str(error))
            return None
