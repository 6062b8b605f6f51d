"""Findings in words: what a cook would say and a statistician would sign.

No sentence is more certain than its numbers: a difference is only said to be one when its
interval leaves out none; else it is "not enough to tell", with what this cook could have shown.
"""

from collections.abc import Sequence

from pitjournal.analysis.across_cooks import Across
from pitjournal.analysis.comparison import ArmSummary, Difference
from pitjournal.analysis.ledger import LedgerRow
from pitjournal.analysis.leeway import NOT_PAST, ArmLeeway, span
from pitjournal.domain.catalogue import Variable
from pitjournal.units import UnitSystem, difference_of, show, show_interval

BLIND = "The scores stay blind until the codes are revealed."
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
MOST_LEDGER = 2
WORTH_SAYING = 0.8
"""Standard deviations from which another difference is worth a sentence (Cohen's "large")."""


def counted(count: int) -> str:
    """Return a small number in letters."""
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def step(value: float, variable: Variable, system: UnitSystem, *, signed: bool = True) -> str:
    """Return a difference in the cook's units."""
    return show(value, difference_of(variable.dimension), system, signed=signed)


def interval(low: float | None, high: float | None, variable: Variable, system: UnitSystem) -> str:
    """Return the interval of a difference in the cook's units; "none" where there is none."""
    return show_interval(low, high, difference_of(variable.dimension), system, signed=True)


def difference_sentence(
    difference: Difference,
    control: ArmSummary,
    arm: ArmSummary,
    variable: Variable,
    system: UnitSystem,
) -> str:
    """Return what one difference says."""
    name, base = difference.arm, control.name.casefold()
    if difference.estimate is None:
        return f"{name}: {variable.label} is not recorded for both arms."
    size = step(difference.estimate, variable, system)
    if difference.low is None or difference.high is None:
        if difference.why == "one piece of each":
            return (
                f"{name}: {variable.label} {size} against {base}, one piece of each. No interval "
                "exists, so nothing says how sure that is."
            )
        return f"{name}: {variable.label} {size} against {base}; {difference.why}."
    bounds = interval(difference.low, difference.high, variable, system)
    if difference.tells:
        return (
            f"{name}: {variable.label} {size} against {base} (95 % interval {bounds}; "
            f"{_pieces(control, arm)})."
        )
    could = ""
    if difference.could_show is not None:
        shown = step(difference.could_show, variable, system, signed=False)
        could = f" This cook could have shown {shown}."
    return (
        f"{name}: not enough to tell ({size}, 95 % interval {bounds}; "
        f"{_pieces(control, arm)}).{could}"
    )


def _pieces(control: ArmSummary, arm: ArmSummary) -> str:
    one, two = len(control.points), len(arm.points)
    if one == two:
        return f"{counted(one)} pieces of each"
    return f"{counted(two)} pieces against {counted(one)}"


def short_words(difference: Difference) -> str:
    """Return what stands under an arm's name beside its interval."""
    if difference.estimate is None:
        return "not recorded"
    if difference.low is None:
        return "no interval"
    if not difference.tells:
        return "not enough to tell"
    return "higher" if difference.estimate > 0 else "lower"


def ledger_sentence(rows: Sequence[LedgerRow], system: UnitSystem) -> str:
    """Return what else stood out between the arms, or nothing."""
    worth = [row for row in rows if row.size >= WORTH_SAYING]
    if not worth:
        return ""
    worth.sort(key=lambda row: -row.size)
    arm = worth[0].arm
    mine = [row for row in worth if row.arm == arm][:MOST_LEDGER]
    parts = [f"{row.variable.label} {step(row.difference, row.variable, system)}" for row in mine]
    return f"But {arm} also differed in {' and '.join(parts)}."


def across_sentence(joined: Across, variable: Variable, system: UnitSystem) -> str:
    """Return what the same comparison showed over several cooks."""
    size = step(joined.estimate, variable, system)
    count = counted(len(joined.cooks))
    pieces = f"{joined.pieces} pieces"
    if joined.low is None or joined.high is None:
        return f"Over {count} cooks: {joined.arm} {size}, {pieces}; no interval."
    bounds = f"95 % interval {interval(joined.low, joined.high, variable, system)}; {pieces}"
    if joined.tells:
        return (
            f"Over {count} cooks of the same comparison: {joined.arm}, {variable.label} {size} "
            f"({bounds})."
        )
    return (
        f"Over {count} cooks of the same comparison, {joined.arm}: still not enough to tell "
        f"({size}, {bounds})."
    )


def leeway_sentence(leeways: Sequence[ArmLeeway]) -> str:
    """Return how long the arms stayed right, as bounds."""
    timed = [leeway for leeway in leeways if leeway.axis == "time" and leeway.pieces]
    if not timed:
        return ""
    if not any(leeway.known for leeway in timed):
        return f"How long the meat stays right is {NOT_PAST}."
    parts = []
    for leeway in timed:
        bounds = span(leeway.least)
        if bounds is None:
            continue
        low, high = round(bounds[0] / 60), round(bounds[1] / 60)
        minutes = f"{low} min" if low == high else f"{low} to {high} min"
        parts.append(f"{leeway.arm} at least {minutes}")
    return f"Stayed right by feel: {'; '.join(parts)}." if parts else ""


def headline(
    differences: Sequence[Difference], variable: Variable | None, system: UnitSystem
) -> str:
    """Return the few words that stand for a comparison in the list of cooks."""
    declared = [d for d in differences if d.declared and d.estimate is not None]
    if variable is None or not declared:
        return ""
    telling = [d for d in declared if d.tells]
    if not telling:
        return "not enough to tell"
    return "; ".join(
        f"{d.arm}: {variable.label} {step(d.estimate or 0.0, variable, system)}" for d in telling
    )
