"""The invented contests: pieces that the panel tasted and six judges scored, both blind."""

from collections.abc import Mapping

import numpy as np

from pitjournal.domain.tasting import HOME_PANEL
from pitjournal.journal.demonstration.day import Lot
from pitjournal.journal.demonstration.panel import TASTERS, Sheet, quality, scores_given
from pitjournal.journal.demonstration.plans import CookPlan
from pitjournal.journal.demonstration.simulation import Array

SCHEME = "contest-2"
JUDGES = tuple(f"judge {number}" for number in range(1, 7))

KINDER: Mapping[str, float] = {"appearance": 0.0, "taste": 0.3, "tenderness": 0.8}
"""How much more than the panel the judges give the same piece, points."""

_LIKE = {"appearance": "appearance", "taste": "flavour", "tenderness": "tenderness"}
"""What of the panel's each thing the judges score is like."""

_PIECES = 1.0
"""Standard deviation of the pieces of a contest, points: some were taken off too soon or late."""

_APART, _JUDGE = 0.25, 0.55
"""Standard deviations, points: of how judges as one see a piece otherwise, and of each alone."""


def both_sheets(plan: CookPlan, pieces: Lot, lot: np.random.Generator) -> tuple[Sheet, Sheet]:
    """Return what the panel and what the judges say of the same pieces."""
    good = {name: quality(plan, pieces, name, lot, _PIECES) for name in HOME_PANEL}
    panel: dict[tuple[int, str, str], float] = {}
    for name in HOME_PANEL:
        panel |= scores_given(good[name], name, tuple(TASTERS), lot)
    judges: dict[tuple[int, str, str], float] = {}
    for name, like in _LIKE.items():
        judges |= _judged(good[like] + KINDER[name], name, lot)
    return panel, judges


def _judged(
    good: Array, criterion: str, lot: np.random.Generator
) -> dict[tuple[int, str, str], float]:
    seen = good + lot.normal(0.0, _APART, good.size)
    words = seen[:, None] + lot.normal(0.0, _JUDGE, (good.size, len(JUDGES)))
    return {
        (piece, JUDGES[judge], criterion): float(score)
        for (piece, judge), score in np.ndenumerate(np.clip(np.rint(words), 2, 9))
    }
