"""What else stood out between the arms, in words."""

from collections.abc import Sequence

from pitjournal.analysis.findings.ledger import WORTH_SAYING, LedgerRow
from pitjournal.analysis.trade_words import (
    differed,
    interval,
    many,
    pieces_of,
    signed_size,
)
from pitjournal.domain.catalogue import Variable
from pitjournal.units import UnitSystem

MOST_LEDGER = 2
"""So many of an arm's differences are said."""


def ledger_sentence(rows: Sequence[LedgerRow], system: UnitSystem, noun: str = "piece") -> str:
    """Return what else stood out between the arms, or nothing.

    Parameters
    ----------
    rows
        Differences, the largest first.
    system
        The units of the words.
    noun
        What one piece is called, such as "rack".
    """
    worth = [row for row in rows if row.size >= WORTH_SAYING]
    if not worth:
        return ""
    worth.sort(key=lambda row: -row.size)
    by_arm: dict[str, dict[str, LedgerRow]] = {}
    for row in worth:  # of an arm one weight is enough
        by_arm.setdefault(row.arm, {}).setdefault(row.variable.key.partition("_")[0], row)
    said = [
        f"{pieces_of(arm, noun)} {_also(list(mine.values())[:MOST_LEDGER], system)}"
        for arm, mine in by_arm.items()
    ]
    return f"But {', and '.join(said)}."


def _also(rows: Sequence[LedgerRow], system: UnitSystem) -> str:
    """Return what else an arm differed by: "were also 310 g heavier and 5 mm thicker"."""
    parts = [differed(row.difference, row.variable, system) for row in rows]
    both = all(part.startswith("were ") for part in parts)
    said = " and ".join([parts[0], *(p.removeprefix("were ") if both else p for p in parts[1:])])
    return f"were also {said[5:]}" if said.startswith("were ") else f"also {said}"


def past_slope_sentence(row: LedgerRow, outcome: Variable, system: UnitSystem, noun: str) -> str:
    """Return what a difference beside the one tested went with on past cooks, or nothing.

    Parameters
    ----------
    row
        One difference.
    outcome
        The variable that a cook is judged by.
    system
        The units of the words.
    noun
        What one piece is called, such as "rack".
    """
    went = row.went
    if went is None:
        return ""
    bounds = interval(went.low, went.high, outcome, system)
    size = signed_size(went.estimate, outcome, system)
    return (
        f"{signed_size(row.difference, row.variable, system)} in {row.variable.label} went with {size} in "
        f"{outcome.label} on past cooks (95 % interval {bounds}; {went.pieces} {many(noun)}, "
        f"{went.cooks} {'cook' if went.cooks == 1 else 'cooks'})."
    )
