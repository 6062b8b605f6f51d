"""The invented panel: what four tasters who do not exist say about a piece."""

from collections.abc import Mapping, Sequence

import numpy as np

from pitjournal.domain.tasting import HOME_PANEL
from pitjournal.journal.demonstration.day import Lot
from pitjournal.journal.demonstration.plans import CookPlan
from pitjournal.journal.demonstration.simulation import Array

TASTERS: Mapping[str, float] = {"Ada": -0.4, "Bruno": 0.3, "Clio": 0.0, "Dov": 0.1}
"""First names, made up, and how much kinder than the rest each is, points."""

_USUAL = {"tenderness": 6.1, "juiciness": 6.0, "flavour": 6.4, "appearance": 6.3}
_DAY, _BLOCK, _PIECE, _TASTER = 0.35, 0.15, 0.22, 0.65
"""Standard deviations, points: of days, packs, pieces and single judgements."""

Sheet = Mapping[tuple[int, str, str], float]
"""Score by piece, taster and criterion."""


def judge(plan: CookPlan, pieces: Lot, tasters: Sequence[str], lot: np.random.Generator) -> Sheet:
    """Return whole numbers from 1 to 9, one a piece, taster and criterion."""
    sheet: dict[tuple[int, str, str], float] = {}
    for criterion in HOME_PANEL:
        sheet |= scores_given(quality(plan, pieces, criterion, lot), criterion, tasters, lot)
    return sheet


def quality(
    plan: CookPlan, pieces: Lot, criterion: str, lot: np.random.Generator, unlike: float = _PIECE
) -> Array:
    """Return how good each piece is, points, shape (n,); `unlike` is the spread of pieces."""
    arms = max(len(plan.arms), 1)
    day = lot.normal(0.0, _DAY)
    block = np.repeat(lot.normal(0.0, _BLOCK, plan.blocks), arms)
    found = _USUAL[criterion] + day + block + lot.normal(0.0, unlike, pieces.arm.size)
    return np.asarray(found + _hidden(plan, pieces, criterion))


def scores_given(
    good: Array, criterion: str, tasters: Sequence[str], lot: np.random.Generator
) -> dict[tuple[int, str, str], float]:
    """Return what these tasters say of pieces that are so good."""
    words = good[:, None] + np.array([TASTERS[taster] for taster in tasters])
    words = words + lot.normal(0.0, _TASTER, words.shape)
    return {
        (piece, tasters[taster], criterion): float(score)
        for (piece, taster), score in np.ndenumerate(np.clip(np.rint(words), 1, 9))
    }


def judge_again(sheet: Sheet, lot: np.random.Generator) -> Sheet:
    """Return what the same tasters say of the same pieces under another code."""
    return {
        key: float(np.clip(np.rint(value + lot.normal(0.0, _TASTER)), 1, 9))
        for key, value in sheet.items()
    }


def _hidden(plan: CookPlan, pieces: Lot, criterion: str) -> Array:
    if not plan.arms:
        return np.zeros(pieces.arm.size)
    points = {
        "tenderness": [way.tender for way in plan.arms],
        "juiciness": [way.juicy for way in plan.arms],
    }.get(criterion, [0.0] * len(plan.arms))
    return np.asarray(points)[pieces.arm]
