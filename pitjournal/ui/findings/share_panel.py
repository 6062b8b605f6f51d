"""Share a cook's summary: how much of the recipe leaves, what else, and where it goes."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.analysis.trends.question import Question, checked
from pitjournal.analysis.trends.stored import asked
from pitjournal.analysis.trends.written import write_sentence
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.errors import JournalError
from pitjournal.files.places import typed_path
from pitjournal.files.summary import to_csv, to_html
from pitjournal.files.summary.content import Choice as Leaves
from pitjournal.files.summary.content import Detail, Part, Summary
from pitjournal.files.writing import named_after, write_bytes
from pitjournal.journal.commands.questions import in_order
from pitjournal.journal.jobs import Progress
from pitjournal.journal.sharing import recipes_of, whole_summary
from pitjournal.journal.sharing.facts import what_leaves
from pitjournal.journal.sharing.questions import ToAnswer, may_leave
from pitjournal.ui.bridge import is_there
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import Kind, note, proposed, save_file
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.summary_pdf import load_fonts, pdf_of, png_of
from pitjournal.units import UnitSystem

FORMATS = (
    (".pdf", "PDF", -1),
    (".html", "one HTML file", -1),
    (".csv", "table (CSV)", -1),
    (".png", "picture", -1),
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
        self.form.offer(FORMATS)
        self.form.choose(".pdf")
        self.form.chosen.connect(lambda *_: self._rename())
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
        self.parts.offer((part, str(part), -1) for part in Part)
        self.parts.chosen.connect(lambda *_: self._list())
        self._to_answer = _to_answer(desk, question)
        self.asked = Choice("questions to all cooks", several=True)
        self.asked.offer((n, one.name, -1) for n, one in enumerate(self._to_answer))
        self.asked.choose(*([] if question is None else [0]))
        self.asked.chosen.connect(lambda *_: self._list())
        self.leaves, self.stays = words(), words("", "quiet")
        name = named_after(self._whole.cook.title, ".pdf")
        self.target = QLineEdit(proposed(Kind.SUMMARIES, name))
        self.target.setAccessibleName("file to write")
        self.problem = Problem()
        self.body.addWidget(self.form)
        self.body.addWidget(self.detail)
        self.body.addWidget(words("Private unless chosen", "heading"))
        self.body.addWidget(self.parts)
        if self._to_answer:
            self.body.addWidget(words("What all cooks say to", "heading"))
            self.body.addWidget(self.asked)
        self.body.addWidget(words("Leaves with it", "heading"))
        self.body.addWidget(self.leaves)
        self.body.addWidget(self.stays)
        self.body.addLayout(row(self.target, button("Choose…", self._choose)))
        self.body.addWidget(self.problem)
        self.write = button("Write it", self._write, "primary")
        self.body.addLayout(row(self.write, None))
        self._list()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the button ready."""
        super().open_panel(first or self.write)

    def _choice(self) -> Leaves:
        detail = next(iter(self.detail.values()), Detail.NAMES)
        parts = frozenset(part for part in self.parts.values() if isinstance(part, Part))
        return Leaves(detail if isinstance(detail, Detail) else Detail.NAMES, parts)

    def _chosen(self) -> list[ToAnswer]:
        wanted = self.asked.values()
        return [one for n, one in enumerate(self._to_answer) if n in wanted]

    def _list(self) -> None:
        choice = self._choice()
        leaves, left_out = what_leaves(self._whole, choice, self._shelf)
        _, more, stay_too = may_leave(self._chosen(), self._desk.catalogue, choice)
        self.leaves.setText("; ".join((*leaves, *more)) + ".")
        stays = "; ".join((*left_out, *stay_too))
        self.stays.setText(f"Stays here: {stays}." if stays else "")

    def _rename(self) -> None:
        suffix = str(next(iter(self.form.values()), ".pdf"))
        path = Path(self.target.text())
        if path.name:
            self.target.setText(str(path.with_suffix(suffix)))

    def _choose(self) -> None:
        chosen, _ = save_file(self, Kind.SUMMARIES, "Write the summary", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _write(self) -> None:
        try:
            target = typed_path(self.target.text())
            make = _maker(target, self._desk.system)
        except JournalError as error:
            self.problem.say(str(error))
            return
        choice, system, journal = self._choice(), self._desk.system, self._desk.journal
        cook_id, chosen = self._whole.cook.id, self._chosen()

        load_fonts()

        def work(progress: Progress) -> None:
            made = whole_summary(journal, cook_id, choice, system, chosen=chosen)
            data = make(made, progress)
            progress.report(1.0)
            write_bytes(target, data)

        bridge = self._desk.bridge

        def done(_: None) -> None:
            if is_there(self):
                self.close_panel()
            note(Kind.SUMMARIES, target)
            bridge.told.emit(f"Written to {target}")

        def failed(why: str) -> None:
            if is_there(self):
                self.problem.say(why)
            else:
                bridge.refused.emit(f"Not written to {target}: {why}")

        def ended() -> None:
            if is_there(self):
                self.write.setEnabled(True)

        self.write.setEnabled(False)
        # the desk asks: what was to be written is written though the panel is closed meanwhile
        bridge.run("Write the summary", work, done, failed, asker=self._desk, ended=ended)


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


Make = Callable[[Summary, Progress], bytes]


def _maker(target: Path, system: UnitSystem) -> Make:
    """Return what makes the bytes of a file of this name, on the worker.

    Raises
    ------
    JournalError
        If the name ends in nothing that can be written.
    """
    paper = "letter" if system is UnitSystem.US else "a4"
    suffix = target.suffix.lower()
    makers: dict[str, Make] = {
        ".pdf": lambda made, progress: pdf_of(made, paper, progress.report)[0],
        ".png": lambda made, _: png_of(made, paper)[0],
        ".html": lambda made, _: to_html(made).encode(),
        ".csv": lambda made, _: ("\N{ZERO WIDTH NO-BREAK SPACE}" + to_csv(made)).encode(),
    }
    makers[".htm"] = makers[".html"]
    if suffix not in makers:
        raise JournalError(
            f"{target.name} could be anything.", "End it in .pdf, .html, .csv or .png."
        )
    return makers[suffix]
