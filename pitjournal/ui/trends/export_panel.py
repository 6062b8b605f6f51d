"""Take an answer along: as a table, a picture, or lines that stay sharp."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.table import answer_as_csv
from pitjournal.domain.cook import CookStatus
from pitjournal.errors import JournalError
from pitjournal.files.formats import Format, format_for
from pitjournal.files.places import typed_path
from pitjournal.files.writing import named_after
from pitjournal.ui.charts.export import chart_as_png, chart_as_svg
from pitjournal.ui.desk import Desk
from pitjournal.ui.file_job import write_file
from pitjournal.ui.files_asked import FileKind, proposed, save_file
from pitjournal.ui.findings.share_panel import SharePanel
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay, open_alone
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.units import UnitSystem

IN_SUMMARY = "summary"


@dataclass(frozen=True)
class Taken:
    """What is taken along: an answer, the units it is shown in, its charts, its question, and what it rests on."""

    answer: Answer
    system: UnitSystem
    charts: QWidget
    sentence: str
    foot: str


class ExportPanel(Overlay):
    """Write what is shown to a file."""

    def __init__(self, over: QWidget, desk: Desk, taken: Taken) -> None:
        super().__init__(over, "Export", 640)
        self._desk, self._taken = desk, taken
        self.form = Choice("file")
        known = [(form.suffix, form.words, -1) for form in ANSWER_FORMATS]
        self.form.offer((*known, (IN_SUMMARY, "link in a cook's summary", -1)))
        self.form.choose(ANSWER_FORMATS[0].suffix)
        self.form.chosen.connect(lambda *_: self._rename())
        self.target = QLineEdit(proposed(FileKind.ANSWERS, named_after(taken.sentence, ".csv")))
        self.target.setAccessibleName("file to write")
        self.problem = Problem()
        self.write = button("Write it", self._write, "primary")
        self.body.addWidget(self.form)
        self.pick = button("Choose…", self._choose)
        self.cook = QLineEdit(_newest(desk))
        self.cook.setAccessibleName("whose summary")
        self.cook.returnPressed.connect(self._write)
        self.whose = words("Whose summary: a cook's number, or a part of its title", "quiet")
        self.whose.hide()
        self.cook.hide()
        self.body.addLayout(row(self.target, self.pick))
        self.body.addWidget(self.whose)
        self.body.addWidget(self.cook)
        self.body.addWidget(self.problem)
        self.body.addLayout(row(self.write, None))

    def _rename(self) -> None:
        suffix = str(next(iter(self.form.values()), ".csv"))
        along = suffix == IN_SUMMARY
        self.whose.setVisible(along)
        self.cook.setVisible(along)
        self.target.setVisible(not along)
        self.pick.setVisible(not along)
        self.write.setText("Choose what leaves" if along else "Write it")
        self.problem.say("")
        if along:
            return
        self.target.setText(str(Path(self.target.text()).with_suffix(suffix)))

    def _choose(self) -> None:
        chosen, _ = save_file(self, FileKind.ANSWERS, "Write the answer", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _share(self) -> None:
        """Go on to the cook's summary with the question chosen."""
        try:
            cook_id = self._desk.journal.cooks.find(self.cook.text())
        except JournalError as error:
            self.problem.say(error.message)
            return
        question = self._taken.answer.question
        desk, over = self._desk, self.window()
        self.close_panel()
        open_alone(SharePanel(desk, over, cook_id, question))

    def _write(self) -> None:
        if IN_SUMMARY in self.form.values():
            self._share()
            return
        try:
            target = typed_path(self.target.text())
            form = format_for(target, ANSWER_FORMATS)
        except JournalError as error:
            self.problem.say(str(error))
            return
        data = form.make(self._taken)  # painted here: widgets belong to the window's thread
        write_file(
            self._desk, self, self.problem, self.write, FileKind.ANSWERS, target, lambda _: data
        )


def _newest(desk: Desk) -> str:
    """Return the title of the newest cook that is done; "" where none is."""
    for line in desk.journal.cooks.page(most=50):
        if line.status is CookStatus.DONE:
            return line.title
    return ""


def _csv(taken: Taken) -> bytes:
    return answer_as_csv(taken.answer, taken.system)


def _png(taken: Taken) -> bytes:
    return chart_as_png(taken.charts, taken.sentence, taken.foot)


def _svg(taken: Taken) -> bytes:
    return chart_as_svg(taken.charts, taken.sentence, taken.foot)


ANSWER_FORMATS: tuple[Format[Taken], ...] = (
    Format(".csv", "table (CSV)", _csv),
    Format(".png", "picture (PNG)", _png),
    Format(".svg", "drawing (SVG)", _svg),
)
