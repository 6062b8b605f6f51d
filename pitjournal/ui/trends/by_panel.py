"""Choose what to group by, and where a number is cut."""

from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray
from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.analysis.trends.columns.grouping import sensible_edges
from pitjournal.analysis.trends.columns.round_steps import counts_in, round_steps
from pitjournal.analysis.trends.language.written import exact
from pitjournal.analysis.trends.question import By, Part
from pitjournal.domain.catalogue import Catalogue, Kind, Variable
from pitjournal.errors import JournalError
from pitjournal.ui.charts.spread_chart import SpreadChart, SpreadStep
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.page import scrolled
from pitjournal.ui.trends.drawing import in_minutes, named
from pitjournal.units import Dimension, UnitSystem, from_display, parse, to_display
from pitjournal.units.first_letter import capital


def spread_of(
    variable: Variable, shown: NDArray[np.float64], system: UnitSystem, height: int
) -> SpreadChart:
    """Return a chart of how many pieces lie where, by values in the unit shown."""
    edges = round_steps(shown, minutes=in_minutes(variable))
    counts = counts_in(shown, edges) if shown.size else []
    chart = SpreadChart(f"pieces by {variable.label}", height)
    chart.show_steps(
        [
            SpreadStep(float(low), float(high), count)
            for low, high, count in zip(edges[:-1], edges[1:], counts, strict=True)
        ],
        named(variable, system),
        minutes=in_minutes(variable),
    )
    return chart


AT_ONCE = 90
"""So many variables are offered to be tapped; with more, letters narrow them first."""


class VariablePanel(Overlay):
    """Choose a variable: type a few letters, or tap it."""

    def __init__(
        self,
        over: QWidget,
        heading: str,
        options: list[tuple[object, str]],
        take: Callable[[object], None],
        helps: Mapping[object, str],
    ) -> None:
        super().__init__(over, heading, 640)
        self._options, self._take, self._helps = options, take, helps
        self.line = QLineEdit()
        self.line.setAccessibleName("find a variable")
        self.line.setPlaceholderText("Type a few letters")
        self.line.textChanged.connect(self._look)
        self.line.returnPressed.connect(self._first)
        self.choice = Choice(heading)
        self.choice.chosen.connect(self._chosen)
        self.more = words("", "quiet")
        self.what = words("", "quiet")
        self.body.addWidget(self.line)
        self.body.addWidget(self.what)
        self.body.addWidget(scrolled(column(self.choice, self.more, None), "variables"))
        self.setMinimumHeight(tokens.PANEL_HEIGHT)
        self._look("")

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the line ready."""
        super().open_panel(first or self.line)

    def _fitting(self) -> list[tuple[object, str]]:
        """Return what has the letters; what begins with them comes first."""
        typed = self.line.text().casefold().strip()
        wanted = typed.split()
        found = [one for one in self._options if all(w in one[1].casefold() for w in wanted)]
        return sorted(found, key=lambda one: not one[1].casefold().startswith(typed))

    def _look(self, _text: str) -> None:
        fitting = self._fitting()
        self.choice.offer((value, text, -1) for value, text in fitting[:AT_ONCE])
        self.choice.tell(self._helps)
        value, name = fitting[0] if fitting and self.line.text().strip() else (None, "")
        self.what.setText(f"{capital(name)}: {self._helps[value]}." if value in self._helps else "")
        self.what.setVisible(bool(self.what.text()))
        left = len(fitting) - AT_ONCE
        self.more.setText(f"And {left} more: type a few letters of its name." if left > 0 else "")
        self.more.setVisible(left > 0)

    def _first(self) -> None:
        fitting = self._fitting()
        if fitting:
            self._chosen(fitting[0][0])

    def _chosen(self, value: object) -> None:
        self.close_panel()
        self._take(value)


def helps_of(catalogue: Catalogue) -> Mapping[object, str]:
    """Return what the variables mean, by key, of those that say more than their name."""
    return {key: variable.help for key, variable in catalogue.items() if variable.help}


def by_panel(over: QWidget, desk: Desk, take: Callable[[By], None]) -> VariablePanel:
    """Return a panel that adds a grouping variable."""
    options: list[tuple[object, str]] = [(part, str(part)) for part in Part]
    variables = (v for v in desk.catalogue.values() if v.kind not in {Kind.TIME, Kind.WORDS})
    options += sorted(((v.key, v.label) for v in variables), key=lambda one: one[1])

    def chosen(value: object) -> None:
        take(By("date", value) if isinstance(value, Part) else By(str(value)))

    return VariablePanel(over, "Group by", options, chosen, helps_of(desk.catalogue))


class BinsPanel(Overlay):
    """Where a number is cut into groups: drag a cut, or type them all."""

    def __init__(self, over: QWidget, desk: Desk, by: By, take: Callable[[By], None]) -> None:
        self._variable: Variable = desk.catalogue[by.key]
        super().__init__(over, f"Groups of {self._variable.label}", 720)
        self._desk, self._take, self._by = desk, take, by
        numbers = desk.journal.trends.frame().numbers(by.key)
        self._known = numbers[np.isfinite(numbers)]
        shown = self._shown(self._known)
        self.chart = spread_of(self._variable, shown, desk.system, 240)
        self.chart.cuts_moved.connect(self._moved)
        self.cuts = QLineEdit()
        self.cuts.setAccessibleName("split at")
        self.cuts.textEdited.connect(lambda *_: self._typed())
        self.cuts.returnPressed.connect(self._use)
        self.problem = Problem()
        self.body.addWidget(
            words("Drag a line; or S takes the next one and the arrows move it. Or type.", "quiet")
        )
        self.body.addWidget(self.chart)
        self.body.addWidget(words("Split at", "heading"))
        self.body.addWidget(self.cuts)
        self.body.addWidget(self.problem)
        self.body.addLayout(
            row(
                button("Use these", self._use, "primary"),
                button("One more", lambda: self._change(1)),
                button("One fewer", lambda: self._change(-1)),
                button("Sensible ones", self._sensible),
                None,
            )
        )
        self._stored = list(by.edges) or self._usual()
        self._show()

    def _shown(self, stored: np.ndarray) -> np.ndarray:
        return np.asarray(to_display(stored, self._variable.dimension, self._desk.system))

    def _usual(self) -> list[float]:
        if not self._known.size:
            return []
        found = sensible_edges(self._known, self._variable, self._desk.system)
        return [float(edge) for edge in found]

    def _show(self, *, words_too: bool = True) -> None:
        dimension, system = self._variable.dimension, self._desk.system
        self.chart.show_cuts([float(to_display(edge, dimension, system)) for edge in self._stored])
        if words_too:
            self.cuts.setText(", ".join(exact(edge, dimension, system) for edge in self._stored))
        self.problem.say("")

    def _moved(self, cuts: object) -> None:
        assert isinstance(cuts, tuple)
        wide = self.chart.steps[-1].high - self.chart.steps[0].low
        digits = max(0, 2 - int(np.floor(np.log10(wide)))) if wide > 0 else 2
        self._stored = [
            float(from_display(round(cut, digits), self._variable.dimension, self._desk.system))
            for cut in cuts
        ]
        self._show()

    def _typed(self) -> bool:
        dimension = self._variable.dimension
        if dimension is Dimension.COUNT:
            dimension = Dimension.NUMBER
        found = []
        for text in self.cuts.text().replace(";", ",").split(","):
            if not text.strip():
                continue
            try:
                found.append(parse(text, dimension, self._desk.system))
            except JournalError as error:
                self.problem.say(str(error))
                return False
        self._stored = sorted(set(found))
        self._show(words_too=False)
        return True

    def _change(self, by: int) -> None:
        count = max(len(self._stored) + by, 1)
        if not self._known.size:
            return
        shares = np.arange(1, count + 1) / (count + 1)
        shown = np.quantile(self._shown(self._known), shares)
        self._moved(tuple(float(value) for value in np.unique(shown)))

    def _sensible(self) -> None:
        self.close_panel()
        self._take(By(self._by.key))

    def _use(self) -> None:
        if self._typed():
            self.close_panel()
            self._take(By(self._by.key, None, tuple(self._stored)))
