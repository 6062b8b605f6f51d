"""What the findings page shows, from what was worked out: rows and words in the cook's units."""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.analysis.comparison import Difference
from pitjournal.analysis.findings import Findings
from pitjournal.analysis.next_cook import Suggestion, suggestions
from pitjournal.analysis.safety import SafetyFact
from pitjournal.analysis.wording import interval, short_words, step
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.ui.charts.difference_chart import DifferenceRow
from pitjournal.ui.charts.points_chart import ArmPoints
from pitjournal.ui.charts.window_chart import WindowRow
from pitjournal.ui.look.parts.table import Head
from pitjournal.units import (
    NOT_RECORDED,
    Dimension,
    UnitSystem,
    difference_of,
    show,
    to_display,
    unit_label,
)


@dataclass(frozen=True)
class Shown:
    """All that the page shows of one cook."""

    found: Findings
    next: tuple[Suggestion, ...]
    catalogue: Catalogue
    system: UnitSystem

    def scaled(self, value: float, dimension: Dimension) -> float:
        """Return a stored number in the cook's units."""
        return float(to_display(value, dimension, self.system))

    def row(  # noqa: PLR0917 - what a line of the chart is made of
        self,
        name: str,
        look: int,
        words: str,
        estimate: float,
        low: float | None,
        high: float | None,
    ) -> DifferenceRow:
        """Return a difference in the declared outcome as a line of the chart."""
        assert self.found.outcome is not None
        what = difference_of(self.found.outcome.dimension)
        low, high = (None if bound is None else self.scaled(bound, what) for bound in (low, high))
        size = step(estimate, self.found.outcome, self.system)
        return DifferenceRow(name, look, words, size, self.scaled(estimate, what), low, high)


def work_out(journal: Journal, whole: WholeCook, system: UnitSystem) -> Shown:
    """Work out what a cook showed; for a worker."""
    found = journal.findings(whole.cook.id, system)
    return Shown(found, suggestions(found, whole, system), journal.catalogue(), system)


def arm_points(shown: Shown) -> tuple[list[ArmPoints], str]:
    """Return the points of the declared outcome in the units shown, and the unit."""
    if shown.found.outcome is None:
        return [], ""
    what = shown.found.outcome.dimension
    arms = [
        ArmPoints(
            arm.name,
            arm.look,
            tuple((p.label, p.block, shown.scaled(p.value, what)) for p in arm.points),
            None if arm.mean is None else shown.scaled(arm.mean, what),
        )
        for arm in shown.found.arms
    ]
    return arms, unit_label(what, shown.system)


def difference_rows(shown: Shown) -> list[DifferenceRow]:
    """Return the declared differences in the units shown."""
    return [
        shown.row(d.arm, d.look, short_words(d), d.estimate, d.low, d.high)
        for d in shown.found.declared
        if d.estimate is not None
    ]


def caption(shown: Shown) -> str:
    """Return what the difference chart's axis is."""
    variable = shown.found.outcome
    if variable is None:
        return ""
    control = next((arm.name for arm in shown.found.arms if arm.control), "the control")
    unit = unit_label(difference_of(variable.dimension), shown.system)
    return f"{variable.label}{f', {unit}' if unit else ''}, against {control.casefold()}"


def ledger(shown: Shown) -> tuple[list[Head], list[tuple[str, Sequence[str]]]]:
    """Return what else differed: a column an arm, a row a variable."""
    rows = shown.found.ledger
    arms = [arm for arm in shown.found.arms if not arm.control]
    heads: list[Head] = [(arm.name, arm.look) for arm in arms]
    variables = list({row.variable.key: row.variable for row in rows}.values())[:7]
    found: list[tuple[str, Sequence[str]]] = []
    for variable in variables:
        by_arm = {r.arm_id: r.difference for r in rows if r.variable.key == variable.key}
        cells = [
            step(by_arm[arm.arm_id], variable, shown.system) if arm.arm_id in by_arm else "–"
            for arm in arms
        ]
        found.append((variable.label, cells))
    return heads, found


def about(shown: Shown) -> tuple[list[Head], list[tuple[str, Sequence[str]]]]:
    """Return what is told of each arm: pieces, then means of pickup, yield, times."""
    arms = shown.found.arms
    heads: list[Head] = [(arm.name, arm.look) for arm in arms] or [("all pieces", None)]
    rows: list[tuple[str, Sequence[str]]] = []
    for variable, means in shown.found.about:
        if not rows:
            rows.append(("pieces", [str(mean.pieces) for mean in means]))
        cells = [
            "–" if m.value is None else show(m.value, variable.dimension, shown.system) + m.of
            for m in means
        ]
        rows.append((variable.label, cells))
    return heads, rows


def window_rows(shown: Shown) -> list[WindowRow]:
    """Return each piece's bounds in minutes, arm after arm."""

    def minutes(seconds: float | None) -> float | None:
        return None if seconds is None else seconds / 60

    ordered = sorted(shown.found.windows, key=lambda w: (w.look is None, w.look or 0))
    return [
        WindowRow(
            w.label,
            w.look,
            minutes(w.last_under),
            minutes(w.first_right),
            minutes(w.last_right),
            minutes(w.first_over),
            w.off_right,
        )
        for w in ordered
    ]


def fuel_line(shown: Shown) -> str:
    """Return what the fire took, in words."""
    fuel, system = shown.found.fuel, shown.system
    if fuel.used is None:
        return f"Fuel: {NOT_RECORDED}."
    parts = [f"Fuel {show(fuel.used, Dimension.MASS, system)}"]
    if fuel.rate is not None:
        parts.append(f"{show(fuel.rate, Dimension.MASS_RATE, system)} from lit to off")
    if fuel.per_meat is not None:
        parts.append(f"{fuel.per_meat:.2f} times the weight of the meat")
    return ", ".join(parts) + "."


def across_rows(shown: Shown) -> list[DifferenceRow]:
    """Return each cook that made the same comparison, and the joined difference below them."""
    rows = []
    for joined in shown.found.across:
        look = joined.look
        for cook in joined.cooks[-6:]:
            name = f"Cook {cook.number}, {joined.arm}"
            rows.append(shown.row(name, look, cook.title, cook.estimate, cook.low, cook.high))
        words = "all together" if joined.tells else "all together: not enough to tell"
        name = f"{len(joined.cooks)} cooks, {joined.arm}"
        rows.append(shown.row(name, look, words, joined.estimate, joined.low, joined.high))
    return rows


def explored(shown: Shown) -> list[tuple[str, Sequence[str]]]:
    """Return the exploratory differences: a row each: difference, interval, pieces, what it says."""
    rows: list[tuple[str, Sequence[str]]] = []
    for difference in shown.found.differences:
        variable = shown.catalogue.get(difference.key)
        if difference.declared or variable is None or difference.estimate is None:
            continue
        rows.append(
            (f"{variable.label}, {difference.arm}", _explored(difference, variable, shown.system))
        )
    return rows


def _explored(difference: Difference, variable: Variable, system: UnitSystem) -> tuple[str, ...]:
    bounds = interval(difference.low, difference.high, variable, system)
    says = "worth a test" if difference.tells else "not enough to tell"
    size = step(difference.estimate or 0.0, variable, system)
    return size, bounds, str(difference.pieces), says


def safety_lines(facts: Sequence[SafetyFact]) -> list[tuple[str, str, str]]:
    """Return each fact with its state and source."""
    return [(fact.fact, str(fact.state), fact.source) for fact in facts]
