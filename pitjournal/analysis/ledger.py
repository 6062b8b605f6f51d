"""What else differed between the arms, beside what was meant to."""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.analysis.comparison import ArmSummary, PieceValues, summaries
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.whole_cook import WholeCook


@dataclass(frozen=True)
class LedgerRow:
    """An arm's mean − the control's in one variable, storage unit.

    `size` is the difference in standard deviations between pieces; it orders the rows.
    """

    arm_id: str
    arm: str
    look: int
    variable: Variable
    difference: float
    size: float


def ledger_of(
    whole: WholeCook, values: PieceValues, catalogue: Catalogue, outcome: str | None
) -> tuple[LedgerRow, ...]:
    """Return every known difference of the ledger's variables, the largest first."""
    rows: list[LedgerRow] = []
    for variable in catalogue.values():
        if variable.ledger and variable.key != outcome:
            rows += _rows(summaries(whole, values, variable.key), variable)
    best: dict[str, float] = {}
    for row in rows:
        best[row.variable.key] = max(best.get(row.variable.key, 0.0), row.size)
    differing = [row for row in rows if best[row.variable.key] > 0]
    return tuple(sorted(differing, key=lambda row: -best[row.variable.key]))


def _rows(arms: Sequence[ArmSummary], variable: Variable) -> list[LedgerRow]:
    control = next((arm for arm in arms if arm.control), None)
    if control is None or control.mean is None:
        return []
    spreads = [arm.sd for arm in arms if arm.sd]
    spread = sum(spreads) / len(spreads) if spreads else None
    found = []
    for arm in arms:
        if arm.control or arm.mean is None:
            continue
        difference = arm.mean - control.mean
        scale = spread or 0.05 * abs(control.mean) or 1.0
        size = abs(difference) / scale
        found.append(LedgerRow(arm.arm_id, arm.name, arm.look, variable, difference, size))
    return found
