"""Findings in words: what a cook would say and a statistician would sign.

No sentence is more certain than its numbers: a difference is only said to be one when its
interval leaves out none; else it is "not enough to tell", with what this cook could have shown.
"""

from collections.abc import Mapping, Sequence

from pitjournal.analysis.findings.across_cooks import Across
from pitjournal.analysis.findings.comparison import ArmSummary, Difference
from pitjournal.analysis.findings.ledger import WORTH_SAYING, LedgerRow
from pitjournal.analysis.findings.leeway import NOT_PAST, ArmLeeway, span
from pitjournal.analysis.findings.trade_words import (
    counted,
    differed,
    number_of,
    pieces_of,
    sentence_case,
)
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem, difference_of, show, show_interval

BLIND = "The scores stay blind until the codes are revealed."
MOST_LEDGER = 2


def step(value: float, variable: Variable, system: UnitSystem, *, signed: bool = True) -> str:
    """Return a difference in the cook's units."""
    return show(value, difference_of(variable.dimension), system, signed=signed)


def interval(low: float | None, high: float | None, variable: Variable, system: UnitSystem) -> str:
    """Return the interval of a difference in the cook's units; "none" where there is none."""
    return show_interval(low, high, difference_of(variable.dimension), system, signed=True)


def _bounds(found: Difference | Across, variable: Variable, system: UnitSystem) -> str:
    """Return a telling interval in the direction of its difference, without signs."""
    assert found.low is not None
    assert found.high is not None
    low, high = sorted((abs(found.low), abs(found.high)))
    return show_interval(low, high, difference_of(variable.dimension), system)


def arm_sentence(  # noqa: PLR0917 - what a sentence on an arm is made of
    difference: Difference,
    joined: Across | None,
    control: ArmSummary,
    arm: ArmSummary,
    variable: Variable,
    system: UnitSystem,
    noun: str = "piece",
) -> str:
    """Return what is known of an arm: this cook, and all that made the same comparison."""
    here = difference_sentence(difference, control, arm, variable, system, noun)
    if joined is None:
        return here
    if difference.tells or difference.estimate is None or difference.low is None:
        return f"{here} {across_sentence(joined, variable, system)}"
    if not joined.tells:
        size = step(joined.estimate, variable, system)
        bounds = f"95 % interval {interval(joined.low, joined.high, variable, system)}"
        known = f"{size}, {bounds}" if joined.low is not None else f"{size}, no interval"
        return (
            f"{here} {sentence_case(counted(len(joined.cooks)))} cooks of the same comparison are "
            f"not enough either ({known}; {joined.pieces} {joined.noun}s)."
        )
    size = step(difference.estimate, variable, system)
    bounds = interval(difference.low, difference.high, variable, system)
    return (
        f"{across_sentence(joined, variable, system)} This cook alone is not enough to tell "
        f"({size}, {bounds}; {_pieces(control, arm, noun)})."
    )


def difference_sentence(  # noqa: PLR0917 - what a sentence on a difference is made of
    difference: Difference,
    control: ArmSummary,
    arm: ArmSummary,
    variable: Variable,
    system: UnitSystem,
    noun: str = "piece",
) -> str:
    """Return what one cook says of an arm."""
    name = sentence_case(pieces_of(difference.arm, noun))
    base = pieces_of(control.name, noun)
    if difference.estimate is None:
        return f"{name}: {variable.label} is not recorded for both arms."
    size = step(difference.estimate, variable, system)
    said = differed(difference.estimate, variable, system)
    same = size.split()[0] == "0"
    if difference.low is None or difference.high is None:
        if same:
            said = f"came out alike in {variable.label}"
        seen = f"{name} {said} {'as' if same else 'than'} {base}"
        if difference.why == "one piece of each":
            return (
                f"{seen}, one {noun} of each. No interval exists, so nothing says how sure that is."
            )
        return f"{seen}; {difference.why}."
    if difference.tells:
        return (
            f"{name} {said} than {base} (95 % interval {_bounds(difference, variable, system)}; "
            f"{_pieces(control, arm, noun)})."
        )
    bounds = interval(difference.low, difference.high, variable, system)
    could = ""
    if difference.could_show is not None:
        shown = step(difference.could_show, variable, system, signed=False)
        could = f" This cook could have shown {shown}."
    if _shows_alone(difference):
        could = " By itself it would be, but several ways were held against the control."
    return (
        f"{name}: not enough to tell ({size} in {variable.label}, 95 % interval {bounds}; "
        f"{_pieces(control, arm, noun)}).{could}"
    )


def _shows_alone(difference: Difference) -> bool:
    low, high = difference.low, difference.high
    return low is not None and high is not None and (low > 0 or high < 0)


def _pieces(control: ArmSummary, arm: ArmSummary, noun: str) -> str:
    one, two = len(control.points), len(arm.points)
    if one == two:
        return f"{number_of(one, noun)} of each"
    return f"{number_of(two, noun)} against {counted(one)}"


def short_words(difference: Difference) -> str:
    """Return what stands under an arm's name beside its interval."""
    if difference.estimate is None:
        return "not recorded"
    if difference.low is None:
        return "no interval"
    if not difference.tells:
        return "not enough to tell"
    return "higher" if difference.estimate > 0 else "lower"


def ledger_sentence(rows: Sequence[LedgerRow], system: UnitSystem, noun: str = "piece") -> str:
    """Return what else stood out between the arms, or nothing."""
    worth = [row for row in rows if row.size >= WORTH_SAYING]
    if not worth:
        return ""
    worth.sort(key=lambda row: -row.size)
    arm = worth[0].arm
    mine: dict[str, LedgerRow] = {}
    for row in worth:
        if row.arm == arm:
            mine.setdefault(row.variable.key.partition("_")[0], row)  # one weight is enough
    parts = [differed(r.difference, r.variable, system) for r in list(mine.values())[:MOST_LEDGER]]
    both = all(part.startswith("were ") for part in parts)
    said = " and ".join([parts[0], *(p.removeprefix("were ") if both else p for p in parts[1:])])
    also = f"were also {said[5:]}" if said.startswith("were ") else f"also {said}"
    return f"But {pieces_of(arm, noun)} {also}."


def went_sentence(row: LedgerRow, outcome: Variable, system: UnitSystem, noun: str) -> str:
    """Return what a difference beside the one tested went with on past cooks, or nothing."""
    went = row.went
    if went is None:
        return ""
    bounds = interval(went.low, went.high, outcome, system)
    size = step(went.estimate, outcome, system)
    return (
        f"{step(row.difference, row.variable, system)} in {row.variable.label} went with {size} in "
        f"{outcome.label} on past cooks (95 % interval {bounds}; {went.pieces} {noun}s, "
        f"{went.cooks} {'cook' if went.cooks == 1 else 'cooks'})."
    )


def across_sentence(joined: Across, variable: Variable, system: UnitSystem) -> str:
    """Return what the same comparison showed over several cooks."""
    noun = joined.noun
    count = counted(len(joined.cooks))
    pieces = f"{joined.pieces} {noun}s"
    said = differed(joined.estimate, variable, system)
    name = pieces_of(joined.arm, noun)
    if joined.low is None or joined.high is None:
        size = step(joined.estimate, variable, system)
        return f"Over {count} cooks: {name} {size} in {variable.label}, {pieces}; no interval."
    if joined.tells:
        return (
            f"Over {count} cooks {name} {said} than {pieces_of(joined.control, noun)} (95 % interval "
            f"{_bounds(joined, variable, system)}; {pieces})."
        )
    size = step(joined.estimate, variable, system)
    bounds = f"95 % interval {interval(joined.low, joined.high, variable, system)}; {pieces}"
    return (
        f"Over {count} cooks of the same comparison: still not enough to tell ({size}, {bounds})."
    )


def next_sentence(joined: Across, variable: Variable, system: UnitSystem) -> str:
    """Return where the true difference of one more such cook would lie, or nothing."""
    if joined.next_low is None or joined.next_high is None:
        return ""
    bounds = interval(joined.next_low, joined.next_high, variable, system)
    return f"{joined.arm}: one more such cook would truly differ by {bounds} (95 % interval)."


def leeway_sentence(leeways: Sequence[ArmLeeway], noun: str = "piece") -> str:
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
        parts.append(f"{pieces_of(leeway.arm, noun)} for at least {minutes}")
    return f"Seen right by feel: {', '.join(parts)}." if parts else ""


def moved_sentence(whole: WholeCook) -> str:
    """Return which pieces were treated otherwise than the arm they stand in, or nothing."""
    said = []
    for piece in whole.pieces:
        own = [t.kind for t in whole.treatments if t.piece_id == piece.id]
        arm = whole.arm_of(piece)
        if arm is None or not own:
            continue
        kinds = {t.kind for t in whole.treatments if t.arm_id == arm.id}
        if own[0] not in kinds:
            said.append(f"{piece.label} was {own[0]} but stands in {arm.name}")
    return f"{'; '.join(said)}: it is counted where it stands." if said else ""


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


def declared_sentences(  # noqa: PLR0917 - what the sentences are made of
    differences: Sequence[Difference],
    across: Sequence[Across],
    arms: Sequence[ArmSummary],
    variable: Variable,
    system: UnitSystem,
    noun: str,
) -> list[str]:
    """Return a sentence for each arm held against the control."""
    control = next((arm for arm in arms if arm.control), None)
    if control is None:
        return ["No arm is the control, so nothing is compared."]
    by_id: Mapping[str, ArmSummary] = {arm.arm_id: arm for arm in arms}
    joined = {one.look: one for one in across}
    return [
        arm_sentence(d, joined.get(d.look), control, by_id[d.arm_id], variable, system, noun)
        for d in differences
        if d.declared
    ]
