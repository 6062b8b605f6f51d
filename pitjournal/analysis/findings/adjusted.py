"""The difference at equal pieces: adjusted for what was unequal before the fire."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pitjournal.analysis.findings.comparison import (
    ArmSummary,
    Difference,
    PieceValues,
    blocked,
    number,
)
from pitjournal.analysis.findings.ledger import WORTH_SAYING, LedgerRow
from pitjournal.analysis.findings.worked import Worked
from pitjournal.analysis.trade_words import interval, pieces_of, signed_size
from pitjournal.domain.catalogue import Variable
from pitjournal.units import UnitSystem
from pitjournal.units.figures import figure

BEFORE = ("mass_trimmed", "thickness", "declared_solution")
"""What the way of doing it can't have changed."""

LEAST_FREE = 3
"""With fewer degrees of freedom an adjustment costs more than it mends."""


@dataclass(frozen=True)
class Adjusted:
    """An arm − the control at equal `variable`, storage unit, with its 95 % interval."""

    arm_id: str
    arm: str
    look: int
    variable: Variable
    estimate: float
    low: float
    high: float
    pieces: int
    worked: Worked


def adjusted_for(rows: Sequence[LedgerRow], arm_id: str) -> Variable | None:
    """Return what stood out most of an arm among what it can't have changed, or None."""
    mine = [
        r
        for r in rows
        if r.arm_id == arm_id and r.variable.key in BEFORE and r.size >= WORTH_SAYING
    ]
    return max(mine, key=lambda row: row.size).variable if mine else None


def adjusted_differences(
    arms: Sequence[ArmSummary], values: PieceValues, ledger: Sequence[LedgerRow]
) -> tuple[Adjusted, ...]:
    """Return an adjusted difference for each arm where something stood out and can be held.

    Parameters
    ----------
    arms
        The arms, the control first.
    values
        What is known of the pieces, by id and catalogue key, storage units.
    ledger
        What else differed between the arms.
    """
    control = next((arm for arm in arms if arm.control), None)
    if control is None:
        return ()
    found = []
    for arm in arms:
        variable = None if arm.control else adjusted_for(ledger, arm.arm_id)
        made = None if variable is None else _adjusted(arms, control, arm, values, variable)
        if made is not None:
            found.append(made)
    return tuple(found)


def _adjusted(
    arms: Sequence[ArmSummary],
    control: ArmSummary,
    arm: ArmSummary,
    values: Mapping[str, Mapping[str, object]],
    variable: Variable,
) -> Adjusted | None:
    from pitjournal.science.comparison.regression import adjusted_difference

    inside = blocked(control, arm)
    scores, codes, held, blocks = [], [], [], []
    for place, one in enumerate(arms):
        for point in one.points:
            known = number(values.get(point.piece_id, {}).get(variable.key))  # type: ignore[arg-type]
            if known is None or (inside and not point.block):
                continue
            scores.append(point.value)
            codes.append(place)
            held.append(known)
            blocks.append(point.block)
    if not scores:
        return None
    found = adjusted_difference(
        scores,
        codes,
        held,
        list(arms).index(arm),
        list(arms).index(control),
        block_codes=blocks if inside else None,
    )
    if found.low is None or found.high is None or (found.df or 0) < LEAST_FREE:
        return None
    return Adjusted(
        arm.arm_id,
        arm.name,
        arm.look,
        variable,
        found.estimate,
        found.low,
        found.high,
        found.n,
        Worked(
            f"{found.n} pieces with {variable.label} known",
            f"analysis of covariance{' with packs' if inside else ''}, "
            f"{figure(found.df)} degrees of freedom",
            f"least squares on arms{', packs' if inside else ''} and {variable.label}; "
            "difference ± t × its standard error",
            "Fisher (1932), Statistical Methods for Research Workers (from memory)",
            f"{variable.label.capitalize()} acts alike in every arm, in a straight line, and was "
            "not changed by the arm itself. One variable only, the one that stood out most.",
        ),
    )


def adjusted_sentences(
    found: Sequence[Adjusted],
    differences: Sequence[Difference],
    outcome: Variable | None,
    system: UnitSystem,
    noun: str,
) -> list[str]:
    """Return what is left of a claim at equal pieces, where that is less than half of it.

    Parameters
    ----------
    found
        The adjusted differences.
    differences
        Those that are told of.
    outcome
        The declared outcome.
    system
        The units of the words.
    noun
        What the pieces are called.
    """
    said: list[str] = []
    if outcome is None:
        return said
    for one in found:
        plain = next((d for d in differences if d.declared and d.look == one.look), None)
        if plain is None or plain.estimate is None or not plain.tells:
            continue
        if one.estimate * plain.estimate > 0 and abs(one.estimate) >= 0.5 * abs(plain.estimate):
            continue
        inside = interval(one.low, one.high, outcome, system)
        left = signed_size(one.estimate, outcome, system)
        said.append(
            f"With the {one.variable.label} held equal, {pieces_of(one.arm, noun)} differ by {left} "
            f"only (95 % interval {inside}): most of it goes with the {one.variable.label}."
        )
    return said
