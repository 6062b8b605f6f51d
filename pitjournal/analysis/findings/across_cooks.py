"""The same comparison made in several cooks, joined by random effects."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pitjournal.analysis.findings.comparison import (
    Difference,
    PieceValues,
    compare,
    summaries,
)
from pitjournal.analysis.findings.trade_words import noun_of
from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.science.pooled import Pooled

LEAST = 2
"""Fewer cooks are not joined."""


@dataclass(frozen=True)
class CookEffect:
    """What one cook showed of the comparison, storage unit."""

    cook_id: str
    number: int
    title: str
    estimate: float
    low: float | None
    high: float | None
    pieces: int


@dataclass(frozen=True)
class Across:
    """An arm against its control over all cooks that compared them.

    `low` and `high` bound the mean difference (95 %); `next_low` and `next_high` where the true
    difference of one further cook would lie.
    """

    arm: str
    control: str
    look: int
    cooks: tuple[CookEffect, ...]
    estimate: float
    low: float | None
    high: float | None
    next_low: float | None
    next_high: float | None
    pieces: int
    method: str
    noun: str = "piece"

    @property
    def tells(self) -> bool:
        """Whether the interval leaves out no difference."""
        return self.low is not None and self.high is not None and (self.low > 0 or self.high < 0)


def way_of(whole: WholeCook, arm: Arm) -> str:
    """Return what an arm does, so that it is found again in other cooks.

    Its treatments where it has any but "left alone", else its name.
    """
    kinds = sorted({str(t.kind) for t in whole.treatments if t.arm_id == arm.id})
    plain = str(TreatmentKind.NONE)
    if kinds and kinds != [plain]:
        return " + ".join(kind for kind in kinds if kind != plain)
    return plain if kinds == [plain] else arm.name.strip().casefold()


def same_comparison(whole: WholeCook, other: WholeCook) -> bool:
    """Whether a cook that was done compared one of this cook's ways with the same control."""
    if whole.control is None or other.control is None:
        return False
    if other.cook.status is CookStatus.PLANNED and other.cook.id != whole.cook.id:
        return False
    if way_of(whole, whole.control) != way_of(other, other.control):
        return False
    ways = [{way_of(c, arm) for arm in c.arms if not arm.control} for c in (whole, other)]
    return bool(ways[0] & ways[1])


def across_cooks(
    whole: WholeCook, key: str, others: Sequence[tuple[WholeCook, PieceValues]]
) -> tuple[Across, ...]:
    """Join what this and other cooks showed, for each arm of this cook.

    Parameters
    ----------
    whole
        The cook whose comparison it is.
    key
        The catalogue key of the outcome.
    others
        All cooks that may have made it too, this one among them, with their pieces' values.
    """
    control = whole.control
    if control is None:
        return ()
    compared = [
        (cook, compare(summaries(cook, values, key), key, declared=False))
        for cook, values in others
        if same_comparison(whole, cook) and cook.cook.status is not CookStatus.PLANNED
    ]
    found = []
    for arm in whole.arms:
        if arm.control:
            continue
        way = way_of(whole, arm)
        made = [
            (cook, difference)
            for cook, differences in compared
            for difference in _of_way(cook, differences, way)
        ]
        joined = _join(arm.name, control.name, whole.arm_index(arm.id) or 0, made)
        if joined is not None:
            found.append(joined)
    return tuple(found)


def _of_way(cook: WholeCook, differences: Sequence[Difference], way: str) -> list[Difference]:
    """Return a cook's difference of one way, at most one."""
    wanted = {arm.id for arm in cook.arms if not arm.control and way_of(cook, arm) == way}
    return [d for d in differences if d.arm_id in wanted and d.estimate is not None][:1]


def _join(
    name: str, control: str, look: int, made: Sequence[tuple[WholeCook, Difference]]
) -> Across | None:
    if len(made) < LEAST:
        return None
    joined = joined_differences([difference for _, difference in made])
    if not math.isfinite(joined.estimate) or joined.n < LEAST:
        return None
    cooks = tuple(
        CookEffect(
            c.cook.id, c.cook.number, c.cook.title, d.estimate or 0.0, d.low, d.high, d.pieces
        )
        for c, d in made
    )
    return Across(
        name,
        control,
        look,
        cooks,
        joined.estimate,
        joined.low,
        joined.high,
        joined.prediction_low,
        joined.prediction_high,
        sum(cook.pieces for cook in cooks),
        joined.method,
        noun_of(piece.cut for cook, _ in made for piece in cook.pieces),
    )


def joined_differences(differences: Sequence[Difference]) -> "Pooled":
    """Join the differences of several cooks, each known as well as its pieces make it."""
    from pitjournal.science.pooled import (  # noqa: PLC0415 - scipy, when first needed
        random_effects,
        shared_variances,
    )

    leverages = [_leverage(difference) for difference in differences]
    residuals = [
        math.nan if d.se is None else d.se**2 / leverage
        for d, leverage in zip(differences, leverages, strict=True)
    ]
    variances = shared_variances(residuals, [d.df or 0.0 for d in differences], leverages)
    return random_effects([d.estimate or 0.0 for d in differences], variances)


def _leverage(difference: Difference) -> float:
    """Return what turns the spread between pieces into that of a difference: 1/n + 1/m."""
    control = difference.control_pieces
    return 1 / control + 1 / (difference.pieces - control)
