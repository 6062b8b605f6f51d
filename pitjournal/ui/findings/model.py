"""What the findings page shows, from what was worked out: rows and words in the cook's units."""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.analysis.findings.comparison import Difference
from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.ledger import WORTH_SAYING
from pitjournal.analysis.findings.ledger_words import past_slope_sentence
from pitjournal.analysis.findings.next_cook import Suggestion, suggestions
from pitjournal.analysis.findings.plate import plate_of
from pitjournal.analysis.findings.plate_words import but_of
from pitjournal.analysis.findings.several_words import next_sentence, other_cuts_sentence
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.analysis.findings.spread import FEW
from pitjournal.analysis.safety.states import SafetyFact
from pitjournal.analysis.trade_words import in_points, interval, many, signed_size
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.plate import Plate
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.ui.charts.difference_chart import DifferenceRow
from pitjournal.ui.charts.points_chart import ArmPoints
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
from pitjournal.units.figures import figure

MOST_DRAWN = 6
"""So many cooks of each arm are drawn until all are asked for."""


@dataclass(frozen=True)
class Shown:
    """All that the page shows of one cook; `deeper` comes later, from a second job."""

    found: Findings
    next: tuple[Suggestion, ...]
    catalogue: Catalogue
    system: UnitSystem
    plate: Plate
    but: tuple[str, int]
    deeper: SlowFindings | None = None

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
        *,
        joined: bool = False,
    ) -> DifferenceRow:
        """Return a difference in the declared outcome as a line of the chart."""
        assert self.found.outcome is not None
        what = difference_of(self.found.outcome.dimension)
        low, high = (None if bound is None else self.scaled(bound, what) for bound in (low, high))
        size = signed_size(estimate, self.found.outcome, self.system)
        return DifferenceRow(
            name, look, words, size, self.scaled(estimate, what), low, high, joined
        )


def work_out(journal: Journal, whole: WholeCook, system: UnitSystem) -> Shown:
    """Work out what a cook showed; for a worker."""
    found = journal.findings.of(whole.cook.id, system)
    return Shown(
        found,
        suggestions(found, whole, system),
        journal.catalogue(),
        system,
        plate_of(found, system),
        but_of(found, system),
    )


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
        shown.row(d.arm, d.look, shown.found.verdict_of(d), d.estimate, *d.shown)
        for d in shown.found.declared
        if d.estimate is not None
    ]


def caption(shown: Shown) -> str:
    """Return what the difference chart's axis is."""
    variable = shown.found.outcome
    if variable is None:
        return ""
    control = next((arm.name for arm in shown.found.arms if arm.control), "the control")
    unit = in_points(f" {unit_label(difference_of(variable.dimension), shown.system)}").strip()
    return f"{variable.label}{f', {unit}' if unit else ''}, against {control.casefold()}"


NOTHING_BESIDE = (
    "Nothing else that differed is recorded. Weights, thickness and a probe of each piece would "
    "tell whether the pieces were alike."
)


def ledger(shown: Shown) -> tuple[list[Head], list[tuple[str, Sequence[str]]]]:
    """Return what else differed: a column an arm, a row a variable."""
    rows = shown.found.ledger
    arms = [arm for arm in shown.found.arms if not arm.control]
    heads: list[Head] = [(arm.name, arm.look) for arm in arms]
    variables = list({row.variable.key: row.variable for row in rows}.values())[:7]
    found = _goes_with_an_arm(shown, [arm.arm_id for arm in arms])
    for variable in variables:
        by_arm = {r.arm_id: r.difference for r in rows if r.variable.key == variable.key}
        cells = [
            signed_size(by_arm[arm.arm_id], variable, shown.system) if arm.arm_id in by_arm else "–"
            for arm in arms
        ]
        found.append((variable.label, cells))
    return heads, found


def _goes_with_an_arm(shown: Shown, arm_ids: Sequence[str]) -> list[tuple[str, Sequence[str]]]:
    """Return what goes with an arm completely: no number sizes it, so it stands first."""
    mine = {(one.variable.key, one.arm_id): one for one in shown.found.confounded}
    rows: list[tuple[str, Sequence[str]]] = []
    for one in {one.variable.key: one for one in shown.found.confounded}.values():
        found = [mine.get((one.variable.key, arm_id)) for arm_id in arm_ids]
        cells = ["–" if own is None else "not told apart" for own in found]
        rows.append((one.variable.label, cells))
    for met in shown.found.one_arm:
        cells = ["not told apart" if arm_id in met.apart else "–" for arm_id in arm_ids]
        of = f"hardly any {' and '.join(met.few)}" if met.few else f"{met.arm} only"
        rows.append((f"{met.taster}, {of}", cells))
    return rows


def about(shown: Shown) -> tuple[list[Head], list[tuple[str, Sequence[str]]]]:
    """Return what is told of each arm: pieces, then means of pickup, yield, times."""
    arms = shown.found.arms
    heads: list[Head] = [(arm.name, arm.look) for arm in arms] or [("all pieces", None)]
    rows: list[tuple[str, Sequence[str]]] = []
    for variable, means in shown.found.about:
        if not rows:
            rows.append(("pieces", [str(mean.pieces) for mean in means]))
        cells = [
            "–"
            if m.value is None
            else "at least " * m.open + show(m.value, variable.dimension, shown.system) + m.of
            for m in means
        ]
        rows.append((variable.label, cells))
    return heads, rows


def fuel_line(shown: Shown) -> str:
    """Return what the fire took, in words."""
    fuel, system = shown.found.fuel, shown.system
    if fuel.used is None:
        return f"Fuel: {NOT_RECORDED}."
    parts = [f"Fuel {show(fuel.used, Dimension.MASS, system)}"]
    if fuel.rate is not None:
        rate = show(fuel.rate, Dimension.MASS_RATE, system)
        parts.append(f"{rate} from lit to off, start-up included")
    if fuel.per_meat is not None:
        parts.append(f"{figure(fuel.per_meat, 2)} times the weight of the meat")
    if fuel.all_burnt:
        parts.append("all of it taken for burnt: what was left was not weighed")
    return ", ".join(parts) + "."


def across_rows(shown: Shown, *, every: bool) -> list[DifferenceRow]:
    """Return the cooks that made the same comparison, and the joined difference below them.

    Only the newest few of each arm are drawn unless `every` one is asked for.
    """
    rows = []
    for joined in shown.found.across:
        look = joined.look
        for cook in joined.cooks if every else joined.cooks[-MOST_DRAWN:]:
            name = f"Cook {cook.number}, {joined.arm}"
            words = f"{cook.pieces} {many(joined.noun)}, {cook.title}"
            rows.append(shown.row(name, look, words, cook.estimate, cook.low, cook.high))
        words = f"together: {shown.found.verdict_of(joined)}"
        name = f"{len(joined.cooks)} cooks, {joined.arm}"
        low, high = joined.low, joined.high
        rows.append(shown.row(name, look, words, joined.estimate, low, high, joined=True))
    return rows


def not_drawn(shown: Shown) -> int:
    """Return how many cooks are in the joined differences but not among the newest drawn."""
    return sum(max(len(joined.cooks) - MOST_DRAWN, 0) for joined in shown.found.across)


def across_note(shown: Shown) -> str:
    """Return where one more such cook would lie, and which cooks of other cuts are beside."""
    outcome = shown.found.outcome
    if outcome is None:
        return ""
    said = [next_sentence(joined, outcome, shown.system) for joined in shown.found.across]
    said.append(other_cuts_sentence(shown.found.other_cuts, every_cut=shown.found.every_cut))
    return " ".join(sentence for sentence in said if sentence)


def cuts_offered(shown: Shown) -> tuple[str, str]:
    """Return what joins this cook's own cuts alone, and other ones too."""
    others = dict.fromkeys(cut for one in shown.found.other_cuts for cut in one.cuts)
    return "this cut alone", f"{', '.join(others)} too"


def beside(shown: Shown) -> list[str]:
    """Return what the differences beside the one tested went with, and what is left at equal."""
    outcome = shown.found.outcome
    if outcome is None:
        return []
    worth = [row for row in shown.found.ledger if row.size >= WORTH_SAYING and row.went]
    largest = {  # one weight is enough
        (row.arm, row.variable.key.partition("_")[0]): row
        for row in sorted(worth, key=lambda row: row.size)
    }
    said = [
        f"{row.arm}: {past_slope_sentence(row, outcome, shown.system, shown.found.noun)}"
        for row in sorted(largest.values(), key=lambda row: -row.size)[:2]
    ]
    for one in shown.found.adjusted:
        size = signed_size(one.estimate, outcome, shown.system)
        bounds = interval(one.low, one.high, outcome, shown.system)
        said.append(
            f"{one.arm} at equal {one.variable.label}: {size} (95 % interval {bounds}; {one.pieces} "
            f"{many(shown.found.noun)}). It takes for granted that {one.variable.label} acts alike in "
            "every arm."
        )
    return said


def spread_rows(shown: Shown) -> tuple[list[Head], list[tuple[str, Sequence[str]]]]:
    """Return where the spread comes from: a row a source."""
    heads: list[Head] = [("spread", None), ("share", None), ("of them", None)]
    spread = shown.deeper.spread if shown.deeper else None
    outcome = shown.found.outcome
    if spread is None or outcome is None:
        return heads, []
    what = difference_of(outcome.dimension)
    rows: list[tuple[str, Sequence[str]]] = []
    for source in spread.sources:
        if source.sd is None or source.share is None:
            cells: Sequence[str] = ("–", "only one" if source.levels < 2 else "not told apart", "")
            rows.append((source.name, (*cells[:2], str(source.levels))))
            continue
        few = " (few)" if source.levels < FEW else ""
        share = f"{figure(100 * source.share)} %"
        size = in_points(show(source.sd, what, shown.system))
        rows.append((source.name, (size, share, f"{source.levels}{few}")))
    return heads, rows


def explored(shown: Shown) -> list[tuple[str, Sequence[str]]]:
    """Return the exploratory differences: a row each: difference, interval, pieces, what it says."""
    rows: list[tuple[str, Sequence[str]]] = []
    for difference in shown.found.differences:
        variable = shown.catalogue.get(difference.key)
        if difference.declared or variable is None or difference.estimate is None:
            continue
        rows.append((f"{variable.label}, {difference.arm}", _explored(shown, difference, variable)))
    return rows


def _explored(shown: Shown, difference: Difference, variable: Variable) -> tuple[str, ...]:
    system = shown.system
    bounds = interval(difference.low, difference.high, variable, system)
    says = shown.found.verdict_of(difference)
    size = signed_size(difference.estimate or 0.0, variable, system)
    return size, bounds, str(difference.pieces), says


def safety_lines(facts: Sequence[SafetyFact]) -> list[tuple[str, str, str]]:
    """Return each fact with its state and source."""
    return [(fact.fact, str(fact.state), fact.source) for fact in facts]
