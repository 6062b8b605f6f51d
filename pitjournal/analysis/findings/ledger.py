"""What else differed between the arms, beside what was meant to."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pitjournal.analysis.findings.comparison import ArmSummary, PieceValues, summaries
from pitjournal.analysis.findings.past_slope import PastPiece, PastSlope, past_slope_of
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.domain.piece import Stage
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook

WORTH_SAYING = 0.8
"""Standard deviations from which another difference is worth a sentence (Cohen's "large")."""

ADDS = frozenset(
    {
        TreatmentKind.INJECTED,
        TreatmentKind.BRINED,
        TreatmentKind.DRY_BRINED,
        TreatmentKind.MARINATED,
    }
)
"""What puts weight into the meat."""


@dataclass(frozen=True)
class LedgerRow:
    """An arm's mean − the control's in one variable, storage unit.

    `size` is the difference in standard deviations between pieces; it orders the rows. `went` is
    what such a difference went with in the outcome on past cooks; None where that is not known.
    """

    arm_id: str
    arm: str
    look: int
    variable: Variable
    difference: float
    size: float
    went: PastSlope | None = None


def ledger_of(
    whole: WholeCook,
    values: PieceValues,
    catalogue: Catalogue,
    outcome: str | None,
    past: Sequence[PastPiece] = (),
) -> tuple[LedgerRow, ...]:
    """Return every known difference of the ledger's variables, the largest first.

    Parameters
    ----------
    whole, values
        The cook, and what is known of its pieces.
    catalogue
        The variables of the journal.
    outcome
        The key of the declared outcome, which is no row of its own ledger.
    past
        Pieces of other cooks, against which the differences are sized.
    """
    rows: list[LedgerRow] = []
    for variable in catalogue.values():
        if variable.ledger and variable.key != outcome:
            rows += _rows(summaries(whole, values, variable.key), variable)
    rows = [row for row in rows if not _put_in(whole, values, row)]
    best: dict[str, float] = {}
    for row in rows:
        best[row.variable.key] = max(best.get(row.variable.key, 0.0), row.size)
    differing = [row for row in rows if best[row.variable.key] > 0]
    cuts = {piece.cut for piece in whole.pieces}
    sized = [
        replace(row, went=past_slope_of(past, row.variable.key, outcome, row.difference, cuts))
        if outcome and row.difference
        else row
        for row in differing
    ]
    return tuple(sorted(sized, key=lambda row: -best[row.variable.key]))


def _put_in(whole: WholeCook, values: PieceValues, row: LedgerRow) -> bool:
    """Whether a weight after the treatment only says again what the treatment put in.

    The weight before it tells whether the pieces were alike; where that is not known of both
    arms, the later one stays.
    """
    if row.variable.key not in {f"mass_{Stage.TREATED}", f"mass_{Stage.ON}"}:
        return False
    arms = [arm for arm in whole.arms if arm.control or arm.id == row.arm_id]
    kinds = [{t.kind for t in whole.treatments if t.arm_id == arm.id} & ADDS for arm in arms]
    if len(arms) < 2 or kinds[0] == kinds[1]:
        return False
    before = summaries(whole, values, f"mass_{Stage.TRIMMED}")
    return all(one.points for one in before if one.control or one.arm_id == row.arm_id)


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
