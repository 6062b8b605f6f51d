"""Write a season, or chosen cooks, as one report: what leaves is listed before it is written."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.errors import JournalError
from pitjournal.files.formats import format_for
from pitjournal.files.paper import usual_paper
from pitjournal.files.places import typed_path
from pitjournal.files.summary.content import Choice as Leaves
from pitjournal.files.summary.content import PrivatePart
from pitjournal.files.summary.report import Report
from pitjournal.files.writing import named_after
from pitjournal.journal.jobs import Progress
from pitjournal.journal.sharing.season import (
    PARTS,
    cooks_and_contests,
    report_of_cooks,
    report_of_year,
    what_leaves,
)
from pitjournal.ui.desk import Desk
from pitjournal.ui.file_job import write_file
from pitjournal.ui.files_asked import FileKind, proposed, save_file
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.printing.pages import load_fonts
from pitjournal.ui.printing.printed import Sheets, sheets_of_report
from pitjournal.ui.summary_formats import REPORT_FORMATS, ReportToWrite
from pitjournal.units.figures import counted

CALLED = {PrivatePart.PLACE: "where contests were", PrivatePart.COSTS: "costs and prizes"}
"""What may leave besides, as it is chosen."""


class ReportPanel(Overlay):
    """Of a year, or of the cooks that were chosen."""

    def __init__(
        self, desk: Desk, over: QWidget, year: int | None, cook_ids: Sequence[str] = ()
    ) -> None:
        named = f"season {year}" if year is not None else counted(len(cook_ids), "cook")
        super().__init__(over, f"Report on {named}", 720)
        self._desk, self._year, self._cook_ids = desk, year, tuple(cook_ids)
        self._of = cooks_and_contests(desk.journal, year, cook_ids)
        self.form = Choice("file")
        self.form.offer((form.suffix, form.words, -1) for form in REPORT_FORMATS)
        self.form.choose(REPORT_FORMATS[0].suffix)
        self.form.chosen.connect(lambda *_: self._rename())
        self.parts = Choice("what else leaves", several=True)
        self.parts.offer((part, CALLED[part], -1) for part in PARTS)
        self.parts.chosen.connect(lambda *_: self._list())
        self.leaves, self.stays = words(), words("", "quiet")
        self.target = QLineEdit(
            proposed(FileKind.SUMMARIES, named_after(named, REPORT_FORMATS[0].suffix))
        )
        self.target.setAccessibleName("file to write")
        self.problem = Problem()
        self.write = button("Write it", self._write, "primary")
        self.print = button("Print…", self._print)
        self.body.addWidget(
            words(
                "What was asked and found, what stays open, fuel, yields, contests, and the "
                "cooks that would tell most next.",
                "quiet",
            )
        )
        self.body.addWidget(self.form)
        self.body.addWidget(words("Private unless chosen", "heading"))
        self.body.addWidget(self.parts)
        self.body.addWidget(words("Leaves with it", "heading"))
        self.body.addWidget(self.leaves)
        self.body.addWidget(self.stays)
        self.body.addLayout(row(self.target, button("Choose…", self._choose)))
        self.body.addWidget(self.problem)
        self.body.addLayout(row(self.write, self.print, None))
        self._list()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the button ready."""
        super().open_panel(first or self.write)

    def _choice(self) -> Leaves:
        chosen = self.parts.values()
        return Leaves(parts=frozenset(part for part in PARTS if part in chosen))

    def _list(self) -> None:
        leaves, stays = what_leaves(self._desk.journal, *self._of, self._choice())
        self.leaves.setText("; ".join(leaves) + ".")
        self.stays.setText(f"Stays here: {'; '.join(stays)}.")

    def _rename(self) -> None:
        suffix = str(next(iter(self.form.values()), REPORT_FORMATS[0].suffix))
        stem, dot, _ = self.target.text().rpartition(".")
        if dot:
            self.target.setText(f"{stem}{suffix}")

    def _choose(self) -> None:
        chosen, _ = save_file(self, FileKind.SUMMARIES, "Write the report", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _write(self) -> None:
        try:
            target = typed_path(self.target.text())
            form = format_for(target, REPORT_FORMATS)
        except JournalError as error:
            self.problem.say(str(error))
            return
        choice, paper = self._choice(), usual_paper(self._desk.system)

        def make(progress: Progress) -> bytes:
            report = self._report(choice, progress)
            return form.make(ReportToWrite(report, paper, progress.report))

        load_fonts()
        write_file(
            self._desk,
            self,
            self.problem,
            self.write,
            FileKind.SUMMARIES,
            target,
            make,
            label="Write the report",
        )

    def _print(self) -> None:
        """Show the pages before they are printed."""
        choice = self._choice()

        def made(progress: Progress) -> Callable[[], Sheets]:
            report = self._report(choice, progress)
            return lambda: sheets_of_report(report)

        paper = usual_paper(self._desk.system)
        from pitjournal.ui.printing.print_panel import show_pages  # noqa: PLC0415 - seldom

        show_pages(self._desk, self, self.problem, self.print, paper, made)

    def _report(self, choice: Leaves, progress: Progress) -> Report:
        journal, system = self._desk.journal, self._desk.system
        if self._year is not None:
            return report_of_year(journal, self._year, choice, system, progress)
        return report_of_cooks(journal, self._cook_ids, choice, system, progress)
