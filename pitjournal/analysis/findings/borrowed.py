"""The spread of one's own past cooks, lent to a cook with few pieces."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from pitjournal.analysis.findings.comparison import (
    ArmSummary,
    Borrowed,
    Difference,
    PieceValues,
    correct_for_looks,
    number,
    shown_among,
    summaries,
)
from pitjournal.analysis.findings.like import cut_key, of_cuts
from pitjournal.analysis.findings.worked import BETWEEN, WITHIN
from pitjournal.domain.blocks import Value
from pitjournal.domain.whole_cook import WholeCook

MOST_PAST = 12
"""So many of the newest past cooks lend their spread: one's hand changes over the years."""

Known = tuple[WholeCook, PieceValues]
"""A cook with what is known of its pieces."""

OwnSpread = tuple[float, float]
"""The variance of pieces within one cook, and its degrees of freedom."""


def borrowing(
    arms: Sequence[ArmSummary],
    differences: Sequence[Difference],
    past: Sequence[Known],
    cuts: frozenset[str],
) -> tuple[Difference, ...]:
    """Return the differences of one cook, each with a borrowed interval where it can be.

    Parameters
    ----------
    arms, differences
        Of the declared outcome of one cook.
    past
        The cooks before it, oldest first.
    cuts
        The cuts compared; only those of past cooks count, and only where pieces were compared
        within blocks as they are here, or in neither.
    """
    control = next((arm for arm in arms if arm.control), None)
    if control is None:
        return tuple(differences)
    by_id = {arm.arm_id: arm for arm in arms}
    lent: dict[bool, tuple[OwnSpread, ...]] = {}
    found = []
    for difference in differences:
        inside = difference.method == WITHIN
        if inside not in lent:
            lent[inside] = past_spreads(past, difference.key, cuts, inside=inside)
        mine = _own(arms, control, by_id[difference.arm_id], inside=inside)
        found.append(_borrow(difference, mine, lent[inside], inside=inside))
    if all(one.borrowed is None for one in found):
        return tuple(differences)
    return correct_for_looks(found) if len(found) > 1 else tuple(map(shown_among, found))


def _own(
    arms: Sequence[ArmSummary], control: ArmSummary, arm: ArmSummary, *, inside: bool
) -> OwnSpread | None:
    """Return the spread of the pieces that a difference rests on: all arms', within blocks."""
    from pitjournal.science.comparison.paired import residual_variance

    used = [a for a in arms if a.points] if inside else [control, arm]
    points = [(place, p) for place, a in enumerate(used) for p in a.points if p.block or not inside]
    if not points:
        return None
    blocks = [point.block for _, point in points] if inside else None
    return residual_variance(
        [point.value for _, point in points], [place for place, _ in points], blocks
    )


def _borrow(
    difference: Difference,
    mine: OwnSpread | None,
    lent: Sequence[OwnSpread],
    *,
    inside: bool,
) -> Difference:
    if mine is None or difference.estimate is None or difference.method == BETWEEN:
        return difference
    if not difference.se or not difference.df:
        return difference
    from pitjournal.science.comparison.moderated import drawn_to, moderated, usual_variance

    variance, df = mine
    spreads = [*lent, mine]
    prior = usual_variance([v for v, _ in spreads], [d for _, d in spreads])
    if prior is None:
        return difference
    control = difference.control_pieces
    leverage = 1 / control + 1 / (difference.pieces - control)
    if inside:  # whatever the blocks leave of it
        leverage = difference.se**2 / variance
    found = moderated(difference.estimate, variance, df, leverage, prior, difference.pieces)
    if found.low is None or found.high is None or found.p is None:
        return difference
    assert found.se is not None
    assert found.df is not None
    lender = Borrowed(
        found.low,
        found.high,
        found.p,
        found.se,
        found.df,
        len(lent),
        found.df - df,
        math.sqrt(drawn_to(variance, df, prior)),
    )
    return replace(difference, borrowed=lender)


def past_spreads(
    past: Sequence[Known], key: str, cuts: frozenset[str], *, inside: bool
) -> tuple[OwnSpread, ...]:
    """Return the spread of pieces within each of the newest past cooks, oldest first.

    Parameters
    ----------
    past
        The cooks, oldest first.
    key
        The outcome's catalogue key.
    cuts
        Only pieces of these count.
    inside
        Whether pieces are compared within blocks; cooks that did it otherwise lend nothing.
    """
    from pitjournal.science.comparison.paired import residual_variance

    found: list[OwnSpread] = []
    for cook, values in reversed(past):
        points = [
            (place, point)
            for place, arm in enumerate(summaries(of_cuts(cook, cuts), values, key))
            for point in arm.points
        ]
        named = [bool(point.block) for _, point in points]
        if not points or (inside and not all(named)) or (not inside and any(named)):
            continue
        spread = residual_variance(
            [point.value for _, point in points],
            [place for place, _ in points],
            [point.block for _, point in points] if inside else None,
        )
        if spread is not None:
            found.append(spread)
        if len(found) == MOST_PAST:
            break
    return tuple(reversed(found))


def may_lend(pieces: Iterable[Mapping[str, Value]], key: str, cuts: frozenset[str]) -> bool:
    """Whether any of a cook's pieces is of these cuts and has the outcome known.

    Parameters
    ----------
    pieces
        What is known of each piece, by catalogue key, storage units.
    key
        Of the catalogue.
    cuts
        Cuts as they are told from each other (`like.cut_key`).
    """
    return any(
        number(values.get(key)) is not None and cut_key(str(values.get("cut") or "")) in cuts
        for values in pieces
    )
