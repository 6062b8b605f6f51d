"""Take an answer along: as a table, a picture, or lines that stay sharp."""

import csv
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QLineEdit, QWidget

from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.table import table_of
from pitjournal.errors import JournalError
from pitjournal.ui.charts.export import save_chart
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row

FORMATS = (
    (".csv", "table (CSV)", -1),
    (".png", "picture (PNG)", -1),
    (".svg", "drawing (SVG)", -1),
)


@dataclass(frozen=True)
class Taken:
    """What is taken along: an answer, its charts, its question, and what it rests on."""

    answer: Answer
    charts: QWidget
    sentence: str
    foot: str


class ExportPanel(Overlay):
    """Write what is shown to a file."""

    def __init__(self, over: QWidget, desk: Desk, taken: Taken) -> None:
        super().__init__(over, "Export", 640)
        self._desk, self._taken = desk, taken
        self.form = Choice("file")
        self.form.offer(FORMATS)
        self.form.choose(".csv")
        self.form.chosen.connect(lambda *_: self._rename())
        name = "".join(c if c.isalnum() or c in " -" else "" for c in taken.sentence)[:60].strip()
        self.target = QLineEdit(str(Path.home() / f"{name or 'answer'}.csv"))
        self.target.setAccessibleName("file to write")
        self.problem = Problem()
        self.write = button("Write it", self._write, "primary")
        self.body.addWidget(self.form)
        self.body.addLayout(row(self.target, button("Choose…", self._choose)))
        self.body.addWidget(self.problem)
        self.body.addLayout(row(self.write, None))

    def _rename(self) -> None:
        suffix = str(next(iter(self.form.values()), ".csv"))
        self.target.setText(str(Path(self.target.text()).with_suffix(suffix)))

    def _choose(self) -> None:
        chosen, _ = QFileDialog.getSaveFileName(self, "Write the answer", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _write(self) -> None:
        target = Path(self.target.text()).expanduser()
        try:
            write_answer(target, self._taken)
        except (JournalError, OSError) as error:
            self.problem.say(str(error))
            return
        self.close_panel()
        self._desk.bridge.told.emit(f"Written to {target}")


def write_answer(target: Path, taken: Taken) -> None:
    """Write an answer as CSV, PNG or SVG, by the ending.

    Raises
    ------
    JournalError
        If the ending is another.
    OSError
        If the file cannot be written.
    """
    suffix = target.suffix.casefold()
    if suffix == ".csv":
        mark = "\N{ZERO WIDTH NO-BREAK SPACE}"
        with target.open("w", encoding="utf-8", newline="") as file:
            file.write(mark)
            csv.writer(file).writerows(table_of(taken.answer))
    elif suffix in {".png", ".svg"}:
        save_chart(taken.charts, target, taken.sentence, taken.foot)
    else:
        raise JournalError(f"{target.name} could be anything.", "End it in .csv, .png or .svg.")
