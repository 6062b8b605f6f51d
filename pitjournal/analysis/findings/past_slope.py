"""What a difference beside the one tested went with on past cooks."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from pitjournal.analysis.findings.comparison import number
from pitjournal.analysis.findings.like import cut_key
from pitjournal.domain.blocks import Value

LEAST_FREE = 8
"""Fewer degrees of freedom say nothing of a slope worth showing."""


@dataclass(frozen=True)
class PastPiece:
    """A piece of an earlier cook, with what is known of it by catalogue key."""

    cook_id: str
    values: Mapping[str, Value]


@dataclass(frozen=True)
class PastSlope:
    """What a difference in one variable went with in the outcome, storage unit.

    `estimate` is the slope on past cooks × the difference of this cook, with its 95 % interval;
    `pieces` and `cooks` say what the slope rests on.
    """

    estimate: float
    low: float
    high: float
    pieces: int
    cooks: int


def past_slope_of(
    past: Sequence[PastPiece], key: str, outcome: str, difference: float, cuts: Iterable[str]
) -> PastSlope | None:
    """Return what a difference went with, between pieces of one way in one cook, or None.

    Only pieces of the same cuts count, and only against others of their own cook and way, so
    that neither the day nor the way is in it.

    Parameters
    ----------
    past
        Pieces of past cooks.
    key
        Of the catalogue.
    outcome
        Key of the outcome.
    difference
        In the variable, storage unit.
    cuts
        Cuts as they are told from each other (`like.cut_key`).
    """
    from pitjournal.science.comparison.regression import within_slope

    wanted = {cut_key(cut) for cut in cuts}
    rows = []
    for piece in past:
        x, y = number(piece.values.get(key)), number(piece.values.get(outcome))
        if x is None or y is None or cut_key(str(piece.values.get("cut") or "")) not in wanted:
            continue
        rows.append((y, x, f"{piece.cook_id} {piece.values.get('arm')}", piece.cook_id))
    if not rows:
        return None
    y_, x_, groups, cooks = zip(*rows, strict=True)
    slope = within_slope(y_, x_, groups)
    if slope.low is None or slope.high is None or (slope.df or 0) < LEAST_FREE:
        return None
    ends = sorted((slope.low * difference, slope.high * difference))
    return PastSlope(slope.estimate * difference, ends[0], ends[1], slope.n, len(set(cooks)))
