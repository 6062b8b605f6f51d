"""Share a cook's summary: how much of the recipe leaves, what else, and where it goes."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.analysis.trends.language.written import write_sentence
from pitjournal.analysis.trends.question import Question, checked
from pitjournal.analysis.trends.stored import asked
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.errors import JournalError
from pitjournal.files.bundle.content import SUFFIX as BUNDLE
from pitjournal.files.formats import Format, format_for
from pitjournal.files.paper import usual_paper
from pitjournal.files.places import typed_path
from pitjournal.files.summary.content import Choice as Leaves
from pitjournal.files.summary.content import Detail, PrivatePart
from pitjournal.files.writing import named_after
from pitjournal.journal.bundles.gathering import bundle_bytes
from pitjournal.journal.bundles.what_leaves import what_leaves as what_bundle_leaves
from pitjournal.journal.commands.questions import in_order
from pitjournal.journal.jobs import Progress
from pitjournal.journal.sharing import recipes_of, whole_summary
from pitjournal.journal.sharing.class_sheet import class_sheet
from pitjournal.journal.sharing.class_sheet import what_leaves as what_sheet_leaves
from pitjournal.journal.sharing.facts import what_leaves
from pitjournal.journal.sharing.questions import ToAnswer, may_leave
from pitjournal.ui.desk import Desk
from pitjournal.ui.file_job import write_file
from pitjournal.ui.files_asked import FileKind, proposed, save_file
from pitjournal.ui.findings.share_extras import CLASS, ShareExtras
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.printing.pages import load_fonts
from pitjournal.ui.printing.printed import Sheets, sheets_of, sheets_of_report
from pitjournal.ui.summary_formats import (
    REPORT_FORMATS,
    SUMMARY_FORMATS,
    ReportToWrite,
    ToWrite,
)


class SharePanel(Overlay):
    """Private unless chosen; what leaves is listed before it is written."""

    def __init__(
        self, desk: Desk, over: QWidget, cook_id: str, question: Question | None = None
    ) -> None:
        super().__init__(over, "Share a summary", 720)
        self._desk, self._whole = desk, desk.journal.whole(cook_id)
        self._shelf = recipes_of(desk.journal)
        self.form = Choice("file")
        known = [(form.suffix, form.words, -1) for form in SUMMARY_FORMATS]
        sheet = (CLASS, "class sheet", -1)
        self.form.offer((*known, sheet, (BUNDLE, "data for another journal", -1)))
        self.form.choose(SUMMARY_FORMATS[0].suffix)
        self.form.chosen.connect(lambda *_: self._rename())
        self.extras = ShareExtras()
        self.detail = Choice("detail of recipes")
        self.detail.offer(
            (detail, f"recipes: {text}", -1)
            for detail, text in (
                (Detail.NAMES, "names only"),
                (Detail.RATIOS, "shares"),
                (Detail.GRAMS, "grams"),
            )
        )
        self.detail.choose(Detail.NAMES)
        self.detail.chosen.connect(lambda *_: self._list())
        self.parts = Choice("what else leaves", several=True)
        self._offer_parts()
        self.parts.chosen.connect(lambda *_: self._list())
        self._to_answer = _to_answer(desk, question)
        self.asked = Choice("questions to all cooks", several=True)
        self.asked.offer((n, one.name, -1) for n, one in enumerate(self._to_answer))
        self.asked.choose(*([] if question is None else [0]))
        self.asked.chosen.connect(lambda *_: self._list())
        self.leaves, self.stays = words(), words("", "quiet")
        name = named_after(self._whole.cook.title, ".pdf")
        self.target = QLineEdit(proposed(FileKind.SUMMARIES, name))
        self.target.setAccessibleName("file to write")
        self.problem = Problem()
        self.body.addWidget(self.form)
        self.body.addWidget(self.extras)
        self.body.addWidget(self.detail)
        self._parts_head = words("Private unless chosen", "heading")
        self.body.addWidget(self._parts_head)
        self.body.addWidget(self.parts)
        self._asked_head = words("What all cooks say to", "heading")
        self.body.addWidget(self._asked_head)
        self.body.addWidget(self.asked)
        self.body.addWidget(words("Leaves with it", "heading"))
        self.body.addWidget(self.leaves)
        self.body.addWidget(self.stays)
        self.body.addLayout(row(self.target, button("Choose…", self._choose)))
        self.body.addWidget(self.problem)
        self.write = button("Write it", self._write, "primary")
        self.print = button("Print…", self._print)
        self.body.addLayout(row(self.write, self.print, None))
        self._list()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the button ready."""
        super().open_panel(first or self.write)

    def _choice(self) -> Leaves:
        detail = next(iter(self.detail.values()), Detail.NAMES)
        parts = frozenset(part for part in self.parts.values() if isinstance(part, PrivatePart))
        clockless = self._as_bundle and PrivatePart.TIMES not in parts
        return Leaves(detail if isinstance(detail, Detail) else Detail.NAMES, parts, clockless)

    def _chosen(self) -> list[ToAnswer]:
        wanted = self.asked.values()
        return [one for n, one in enumerate(self._to_answer) if n in wanted]

    def _offer_parts(self) -> None:
        """Offer what may leave besides."""
        self.parts.offer((part, str(part), -1) for part in PrivatePart)

    @property
    def _as_bundle(self) -> bool:
        """Whether the cook's records leave, not a page about them."""
        return BUNDLE in self.form.values()

    @property
    def _as_sheet(self) -> bool:
        """Whether it is a sheet for a class."""
        return CLASS in self.form.values()

    def _list(self) -> None:
        choice, bundle, sheet = self._choice(), self._as_bundle, self._as_sheet
        for one in (self._asked_head, self.asked):
            one.setVisible(bool(self._to_answer) and not bundle and not sheet)
        for one in (self._parts_head, self.parts):
            one.setVisible(not sheet)
        self.print.setVisible(sheet or self.form.values() == (REPORT_FORMATS[0].suffix,))
        self.extras.ask_for(next(iter(self.form.values()), ""))
        if sheet:
            leaves, left_out = what_sheet_leaves(self._whole, choice, self._shelf)
        elif bundle:
            leaves, left_out = what_bundle_leaves([self._whole], self._shelf, choice)
        else:
            leaves, left_out = what_leaves(self._whole, choice, self._shelf)
        chosen = [] if bundle or sheet else self._chosen()
        _, more, stay_too = may_leave(chosen, self._desk.catalogue, choice)
        self.leaves.setText("; ".join((*leaves, *more)) + ".")
        stays = "; ".join((*left_out, *stay_too))
        self.stays.setText(f"Stays here: {stays}." if stays else "")

    def _rename(self) -> None:
        chosen = str(next(iter(self.form.values()), ".pdf"))
        suffix = REPORT_FORMATS[0].suffix if chosen == CLASS else chosen
        path = Path(self.target.text())
        if path.name:
            self.target.setText(str(path.with_suffix(suffix)))
        self._list()

    def _choose(self) -> None:
        chosen, _ = save_file(self, FileKind.SUMMARIES, "Write the summary", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _write(self) -> None:
        try:
            target = typed_path(self.target.text())
            make = self._made_as(target)
        except JournalError as error:
            self.problem.say(str(error))
            return
        load_fonts()
        write_file(
            self._desk,
            self,
            self.problem,
            self.write,
            FileKind.SUMMARIES,
            target,
            make,
            label="Write the summary",
        )

    def _made_as(self, target: Path) -> Callable[[Progress], bytes]:
        """Return what makes the bytes that a file's name asks for, on the worker."""
        choice, system, journal = self._choice(), self._desk.system, self._desk.journal
        cook_id, chosen, paper = self._whole.cook.id, self._chosen(), usual_paper(system)
        if target.suffix.lower() == BUNDLE:
            return lambda _: bundle_bytes(journal, [cook_id], choice, target.stem)
        if self._as_sheet:
            return self._sheet_as(format_for(target, REPORT_FORMATS), paper)
        form = format_for(target, SUMMARY_FORMATS)
        shape = self.extras.shape_chosen()

        def make(progress: Progress) -> bytes:
            made = whole_summary(journal, cook_id, choice, system, chosen=chosen)
            return form.make(ToWrite(made, paper, progress.report, shape))

        return make

    def _print(self) -> None:
        """Show the pages of the summary, or of the class sheet, before they are printed."""
        choice, system, journal = self._choice(), self._desk.system, self._desk.journal
        cook_id, chosen = self._whole.cook.id, self._chosen()
        try:
            pieces = self.extras.pieces_chosen() if self._as_sheet else None
        except JournalError as error:
            self.problem.say(str(error))
            return

        def made(_: Progress) -> Callable[[], Sheets]:
            if pieces is not None:
                report = class_sheet(journal, cook_id, pieces, choice, system)
                return lambda: sheets_of_report(report)
            summary = whole_summary(journal, cook_id, choice, system, chosen=chosen)
            return lambda: sheets_of(summary)

        paper = usual_paper(system)
        from pitjournal.ui.printing.print_panel import show_pages  # noqa: PLC0415 - seldom

        show_pages(self._desk, self, self.problem, self.print, paper, made)

    def _sheet_as(self, form: Format[ReportToWrite], paper: str) -> Callable[[Progress], bytes]:
        """Return what makes the bytes of a class sheet, on the worker."""
        choice, system, journal = self._choice(), self._desk.system, self._desk.journal
        cook_id, pieces = self._whole.cook.id, self.extras.pieces_chosen()

        def make(progress: Progress) -> bytes:
            made = class_sheet(journal, cook_id, pieces, choice, system)
            return form.make(ReportToWrite(made, paper, progress.report))

        return make


def _to_answer(desk: Desk, question: Question | None) -> list[ToAnswer]:
    """Return the questions there are to choose from: this one, and the saved ones."""
    found: list[ToAnswer] = []
    if question is not None:
        found.append(ToAnswer(write_sentence(question, desk.catalogue, desk.system), question))
    for saved in in_order(desk.journal.find(SavedQuestion)):
        try:
            known = checked(asked(saved.question), desk.catalogue)
        except JournalError:
            continue  # Trends says what is wrong with it
        if known != question:
            found.append(ToAnswer(saved.name, known))
    return found
