"""Share a cook's summary: how much of the recipe leaves, what else, and where it goes."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QLineEdit, QWidget

from pitjournal.errors import JournalError
from pitjournal.files.summary import to_csv, to_html
from pitjournal.files.summary.content import Choice as Leaves
from pitjournal.files.summary.content import Detail, Part, Summary
from pitjournal.journal.jobs import Progress
from pitjournal.journal.sharing import whole_summary
from pitjournal.journal.sharing.facts import what_leaves
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.summary_pdf import write_pdf, write_png
from pitjournal.units import UnitSystem

FORMATS = (
    (".pdf", "PDF", -1),
    (".html", "one HTML file", -1),
    (".csv", "table (CSV)", -1),
    (".png", "picture", -1),
)


class SharePanel(Overlay):
    """Private unless chosen; what leaves is listed before it is written."""

    def __init__(self, desk: Desk, over: QWidget, cook_id: str) -> None:
        super().__init__(over, "Share a summary", 720)
        self._desk, self._whole = desk, desk.journal.whole(cook_id)
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
        self.leaves, self.stays = words(), words("", "quiet")
        name = (
            "".join(c if c.isalnum() or c in " -" else "" for c in self._whole.cook.title).strip()
            or "cook"
        )
        self.target = QLineEdit(str(Path.home() / f"{name}.pdf"))
        self.target.setAccessibleName("file to write")
        self.problem = Problem()
        self.body.addWidget(self.form)
        self.body.addWidget(self.detail)
        self.body.addWidget(words("Private unless chosen", "heading"))
        self.body.addWidget(self.parts)
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

    def _list(self) -> None:
        leaves, left_out = what_leaves(self._whole, self._choice())
        self.leaves.setText("; ".join(leaves) + ".")
        stays = "; ".join(left_out)
        self.stays.setText(f"Stays here: {stays}." if stays else "")

    def _rename(self) -> None:
        suffix = str(next(iter(self.form.values()), ".pdf"))
        self.target.setText(str(Path(self.target.text()).with_suffix(suffix)))

    def _choose(self) -> None:
        chosen, _ = QFileDialog.getSaveFileName(self, "Write the summary", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _write(self) -> None:
        target = Path(self.target.text()).expanduser()
        choice, system, journal = self._choice(), self._desk.system, self._desk.journal
        cook_id = self._whole.cook.id

        def work(_progress: Progress) -> Summary:
            return whole_summary(journal, cook_id, choice, system)

        def done(made: Summary) -> None:
            try:
                _write(made, target, system)
            except (JournalError, OSError) as error:
                self.problem.say(str(error))
                return
            self.close_panel()
            self._desk.bridge.told.emit(f"Written to {target}")

        self._desk.bridge.run("Write the summary", work, _WhileOpen(self, done))


class _WhileOpen:
    """Takes a worker's result only while the panel is still there."""

    def __init__(self, panel: SharePanel, done: Callable[[Summary], None]) -> None:
        self._panel, self._done = panel, done
        self._open = True
        panel.destroyed.connect(self._closed)

    def _closed(self, *_: object) -> None:
        self._open = False

    def __call__(self, made: Summary) -> None:
        if self._open:
            self._done(made)


def _write(made: Summary, target: Path, system: UnitSystem) -> None:
    paper = "letter" if system is UnitSystem.US else "a4"
    suffix = target.suffix.lower()
    if suffix == ".pdf":
        write_pdf(made, target, paper=paper)
    elif suffix == ".png":
        write_png(made, target, paper=paper)
    elif suffix in {".html", ".htm"}:
        target.write_text(to_html(made), encoding="utf-8")
    elif suffix == ".csv":
        target.write_text(
            "\N{ZERO WIDTH NO-BREAK SPACE}" + to_csv(made), encoding="utf-8", newline=""
        )
    else:
        raise JournalError(
            f"{target.name} could be anything.", "End it in .pdf, .html, .csv or .png."
        )
