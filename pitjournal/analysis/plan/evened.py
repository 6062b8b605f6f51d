"""Which piece becomes which arm, drawn by lot among the ways that even the trimmed weight out."""

import random
from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pitjournal.science.comparison.lots import Ways

EVENED = f"mass_{Stage.TRIMMED}"
"""The key of what the draw is held even in."""


def evened(whole: WholeCook, seed: int) -> dict[str, dict[str, Any]]:
    """Return the new arm, label and position of each piece; nothing where it can't be evened.

    Every piece has been weighed once trimmed, every block holds a piece of each arm, and nothing
    was done to a piece yet. Ends of halves stay, each arm having as many fronts, give or take one.
    """
    masses = trimmed(whole)
    if masses is None or not _untouched(whole) or not _in_whole_blocks(whole):
        return {}
    ways = even_ways(whole, masses)
    (chosen,) = random.Random(seed).sample(range(ways.shape[0]), 1)  # noqa: S311 - a lot, no secret
    arms = [arm.id for arm in whole.arms]
    roles = {(piece.block, piece.arm_id): piece for piece in whole.pieces}
    found: dict[str, dict[str, Any]] = {}
    for piece, code in zip(whole.pieces, ways[chosen], strict=True):
        role = roles[piece.block, arms[code]]
        found[piece.id] = {
            "arm_id": role.arm_id,
            "label": role.label,
            "position": role.position,
        }
    return found


def trimmed(whole: WholeCook) -> list[float] | None:
    """Return the trimmed weight of every piece, g; None where one is not known."""
    masses = [whole.mass(piece, Stage.TRIMMED) for piece in whole.pieces]
    known = [mass for mass in masses if mass is not None]
    return known if known and len(known) == len(masses) else None


def even_ways(whole: WholeCook, masses: Sequence[float]) -> "Ways":
    """Return the ways of dealing the arms that a draw held even may give, shape (w, pieces)."""
    from pitjournal.science.comparison.lots import allocations

    ways, _ = allocations(*codes_of(whole, whole.pieces))
    return ways[drawable(whole, masses, ways)]


def drawable(whole: WholeCook, masses: Sequence[float], ways: "Ways") -> "NDArray[np.bool_]":
    """Return which of some ways of dealing the arms a draw held even may give, shape (w,).

    Parameters
    ----------
    whole
        The cook, with all its records.
    masses
        Of its pieces, g, shape (n,).
    ways
        Ways of dealing the arms, shape (w, n).
    """
    from pitjournal.science.comparison.lots import allocations, even_enough, unevenness

    every, _ = allocations(*codes_of(whole, whole.pieces))
    limit = even_enough(unevenness(every[_fair_ends(whole, every)], masses))
    return _fair_ends(whole, ways) & (unevenness(ways, masses) <= limit)


def codes_of(whole: WholeCook, pieces: Sequence[Piece]) -> tuple[list[int], list[int]]:
    """Return the arm and the block of pieces as numbers; those without a block share one."""
    arms = {arm.id: code for code, arm in enumerate(whole.arms)}
    blocks = {block: n for n, block in enumerate(dict.fromkeys(p.block for p in pieces))}
    return [arms.get(p.arm_id or "", -1) for p in pieces], [blocks[p.block] for p in pieces]


def _fair_ends(whole: WholeCook, ways: "Ways") -> "NDArray[np.bool_]":
    import numpy as np

    front = np.array([piece.end == "front" for piece in whole.pieces])
    counts = [np.count_nonzero((ways == code) & front, axis=1) for code in np.unique(ways[0])]
    return np.asarray(np.ptp(np.stack(counts), axis=0) <= 1)


def _in_whole_blocks(whole: WholeCook) -> bool:
    counts = Counter((piece.block, piece.arm_id) for piece in whole.pieces)
    blocks = {piece.block for piece in whole.pieces}
    if len(whole.arms) < 2:
        return False
    each = all(counts[block, arm.id] == 1 for block in blocks for arm in whole.arms)
    return each and "" not in blocks and len(whole.pieces) == len(blocks) * len(whole.arms)


def _untouched(whole: WholeCook) -> bool:
    """Whether no piece was treated, felt or put on."""
    before = {Stage.BOUGHT, Stage.TRIMMED}
    weighed_later = any(weighing.stage not in before for weighing in whole.weighings)
    own = any(treatment.piece_id for treatment in whole.treatments)
    begun = any(event.happened_at is not None for event in whole.events)
    return not (weighed_later or own or begun or whole.checks or whole.tastings)


def even_words(whole: WholeCook) -> str:
    """Return whether the draw held the trimmed weights even, or could, or nothing."""
    if whole.cook.evened == EVENED:
        return "The arms were drawn so that their trimmed weights come out even."
    if trimmed(whole) is not None and _untouched(whole) and _in_whole_blocks(whole):
        return "All pieces are weighed: draw again, and the arms’ trimmed weights come out even."
    return ""
