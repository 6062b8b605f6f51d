"""Write a card for one who helps, or for all of them."""

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.analysis.plan.hands import hands_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.formats import format_for
from pitjournal.files.paper import usual_paper
from pitjournal.files.places import typed_path
from pitjournal.files.summary.report import Report
from pitjournal.files.summary.report_text import report_to_text
from pitjournal.files.writing import named_after
from pitjournal.ui.desk import Desk
from pitjournal.ui.file_job import write_file
from pitjournal.ui.files_asked import FileKind, proposed, save_file
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.plan.hand_card import hand_cards
from pitjournal.ui.printing.pages import load_fonts
from pitjournal.ui.summary_formats import HAND_FORMATS, ReportToWrite

EVERYONE = ""
SEEN = 220
"""How high the card is seen before it is written, px."""


class HandsPanel(Overlay):
    """The cards of all who help: read, copied into a message, printed."""

    def __init__(self, desk: Desk, over: QWidget, whole: WholeCook) -> None:
        super().__init__(over, "A card for each who helps", 720)
        self._desk, self._whole = desk, whole
        names = hands_of(whole)
        self.whose = Choice("whose card")
        options: list[tuple[object, str, int | None]] = [(name, name, -1) for name in names]
        self.whose.offer((*options, (EVERYONE, "all of them", -1)))
        self.whose.choose(names[0])
        self.whose.chosen.connect(lambda *_: self._show())
        self.body.addWidget(self.whose)
        self.card = words("", tabular=True)
        holder = QWidget()
        holder.setLayout(column(self.card, None))
        area = scroll(holder, "the card")
        sized(area, height=SEEN)
        self.body.addWidget(area)
        self.form = Choice("file")
        self.form.offer((form.suffix, form.words, -1) for form in HAND_FORMATS)
        self.form.choose(HAND_FORMATS[0].suffix)
        self.form.chosen.connect(lambda *_: self._rename())
        self.body.addWidget(self.form)
        self.target = QLineEdit()
        self.target.setAccessibleName("file to write")
        self.body.addLayout(row(self.target, button("Choose…", self._choose)))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.write = button("Write it", self._write, "primary")
        copy = button("Copy the card", self._copy, "link")
        self.body.addLayout(row(self.write, None, copy, space=tokens.M))
        self._show()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the button ready."""
        super().open_panel(first or self.write)

    @property
    def report(self) -> Report:
        """The cards that are chosen."""
        whose = str(next(iter(self.whose.values()), EVERYONE))
        hands = hands_of(self._whole) if whose == EVERYONE else (whose,)
        return hand_cards(self._whole, hands, self._desk.system)

    def _suffix(self) -> str:
        return str(next(iter(self.form.values()), HAND_FORMATS[0].suffix))

    def _show(self) -> None:
        self.card.setText(report_to_text(self.report))
        whose = str(next(iter(self.whose.values()), EVERYONE))
        name = f"{whose or 'hands'} {self._whole.cook.title}"
        self.target.setText(proposed(FileKind.PAPER, named_after(name, self._suffix())))

    def _rename(self) -> None:
        stem, dot, _ = self.target.text().rpartition(".")
        if dot:
            self.target.setText(f"{stem}{self._suffix()}")

    def _choose(self) -> None:
        chosen, _ = save_file(self, FileKind.PAPER, "Write the card", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _copy(self) -> None:
        from PySide6.QtGui import QGuiApplication  # noqa: PLC0415 - seldom

        QGuiApplication.clipboard().setText(report_to_text(self.report))
        self._desk.bridge.told.emit("Copied the card")

    def _write(self) -> None:
        try:
            target = typed_path(self.target.text())
            form = format_for(target, HAND_FORMATS)
        except JournalError as error:
            self.problem.say(str(error))
            return
        report, paper = self.report, usual_paper(self._desk.system)
        load_fonts()
        write_file(
            self._desk,
            self,
            self.problem,
            self.write,
            FileKind.PAPER,
            target,
            lambda progress: form.make(ReportToWrite(report, paper, progress.report)),
            label="Write the card",
        )
