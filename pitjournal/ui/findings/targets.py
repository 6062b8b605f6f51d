"""Contest target and home target side by side, and the panel in which both are edited."""

from collections.abc import Sequence

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.analysis.findings.leeway import span
from pitjournal.analysis.findings.targets import TargetArm, disagreement
from pitjournal.domain.targets import SETTING, Target, targets_text
from pitjournal.errors import JournalError
from pitjournal.journal.commands.bench import Choose
from pitjournal.ui.desk import Desk
from pitjournal.ui.findings.model import Shown
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.table import FactTable, Head
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.units import Dimension, UnitSystem, show, show_interval

EDITED = "What counts as right at each table is yours to say: a range of feels from 1 to 7."


class TargetsCard(Card):
    """What was seen of each arm by each target; nothing where nothing was felt or scored."""

    def __init__(self, desk: Desk) -> None:
        self.edit = button("Change the targets", self._edit, "link")
        super().__init__("For a contest and at home", side=self.edit)
        self._desk = desk
        self.table = FactTable("contest and home target")
        self.body.addWidget(self.table)
        self.note = words("", "quiet")
        self.body.addWidget(self.note)
        self.body.addStretch(1)

    def show_targets(self, shown: Shown) -> None:
        """Show a cook's."""
        found = [aim for aim in shown.found.targets if aim.known]
        self.setVisible(bool(found))
        heads, rows = targets_table(shown)
        self.table.show_rows(heads, rows)
        about = [f"{aim.target.name.capitalize()}: {aim.target.words}." for aim in found]
        self.note.setText(" ".join([*about, disagreement(shown.found.targets)]).strip())

    def _edit(self) -> None:
        TargetsPanel(self._desk, self.window()).open_panel()


def targets_table(shown: Shown) -> tuple[list[Head], list[tuple[str, Sequence[str]]]]:
    """Return a column an arm, and for each target a row a measure."""
    aims = [aim for aim in shown.found.targets if aim.known]
    heads: list[Head] = [(arm.arm, arm.look) for arm in aims[0].arms] if aims else []
    rows: list[tuple[str, Sequence[str]]] = []
    for aim in aims:
        name, feels = aim.target.name, aim.target.range
        stays = [_stay(arm, shown.system) for arm in aim.arms]
        rows.append((f"{name}: at {feels} for at least", stays))
        rows.append((f"{name}: came off at {feels}", [_off(arm) for arm in aim.arms]))
        if aim.score is not None:
            what = aim.score.dimension
            cells = [
                "–" if arm.score is None else show(arm.score, what, shown.system)
                for arm in aim.arms
            ]
            rows.append((f"{aim.target.name}: {aim.score.label}", cells))
    return heads, rows


def _stay(arm: TargetArm, system: UnitSystem) -> str:
    bounds = span(arm.least)
    if bounds is None:
        return "–"
    if bounds[0] == bounds[1]:
        return show(bounds[0], Dimension.DURATION, system)
    return show_interval(*bounds, Dimension.DURATION, system)


def _off(arm: TargetArm) -> str:
    return f"{arm.off[0]} of {arm.off[1]}" if arm.off[1] else "–"


class TargetsPanel(Overlay):
    """The range of feels of each target."""

    def __init__(self, desk: Desk, over: QWidget) -> None:
        super().__init__(over, "What counts as right", 620)
        self._desk = desk
        self.body.addWidget(words(EDITED))
        self.fields: dict[str, tuple[QLineEdit, QLineEdit]] = {}
        self._targets = desk.journal.targets()
        for target in self._targets:
            ends = self._field(target, "from", target.low), self._field(target, "to", target.high)
            self.fields[target.name] = ends
            name = words(f"{target.name.capitalize()}: feel from", wrap=False)
            self.body.addLayout(row(name, ends[0], words("to", wrap=False), ends[1], None))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.save = button("Save", self._save, "primary")
        self.shipped = button("As they came", self._forget, "link")
        self.body.addLayout(row(self.save, self.shipped, None))

    def _field(self, target: Target, end: str, value: int) -> QLineEdit:
        line = QLineEdit(str(value))
        line.setAccessibleName(f"{target.name}, feel {end}")
        sized(line, width=tokens.SCORE_WIDTH)
        line.returnPressed.connect(self._save)
        return line

    def _save(self) -> None:
        made = []
        for target in self._targets:
            low, high = (field.text().strip() for field in self.fields[target.name])
            if not (low.isdecimal() and high.isdecimal()):
                self.problem.say(f"{target.name}: a feel is a whole number from 1 to 7.")
                return
            made.append(Target(target.name, int(low), int(high), target.words, target.weighted))
        try:
            kept = targets_text(made)
        except JournalError as error:
            self.problem.say(str(error))
            return
        self._keep(kept, "Change the targets")

    def _forget(self) -> None:
        self._keep("", "Take the targets as they came")

    def _keep(self, value: str, label: str) -> None:
        problem = self._desk.bridge.attempt(Choose(SETTING, value, label), self)
        self.problem.say(problem)
        if not problem:
            self.close_panel()
