"""Every way in which a lot could have dealt pieces to arms: to draw an even one, and to judge by."""

import math
from collections import Counter
from itertools import permutations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from pitjournal.science.arrays import Array, largest

MOST = 40_000
"""Beyond so many ways some are drawn by lot."""
SEED = 1935
SHARE, FEWEST = 0.1, 200
"""A tenth of all ways is even enough, but at least so many or half, so that a lot is left."""

Ways = NDArray[np.int64]


def allocations(arm_codes: ArrayLike, block_codes: ArrayLike) -> tuple[Ways, bool]:
    """Return the arm of each piece in every way of dealing within blocks, and if that is all.

    Parameters
    ----------
    arm_codes, block_codes
        Arm and block of each piece as they are, shape (n,).

    Returns
    -------
    ways
        Shape (w, n); the first row is how it is. Beyond `MOST` ways, that many drawn by lot.
    whole
        Whether these are all there are.
    """
    arms = np.asarray(arm_codes, dtype=np.int64).ravel()
    blocks = np.asarray(block_codes).ravel()
    places = [np.flatnonzero(blocks == block) for block in np.unique(blocks)]
    count = math.prod(_count(arms[place]) for place in places)
    if count > MOST:
        lot = np.random.default_rng(SEED)
        drawn = np.tile(arms, (MOST, 1))
        for place in places:
            drawn[1:, place] = lot.permuted(drawn[1:, place], axis=1)
        return drawn, False
    each = [_deals(arms[place]) for place in places]
    picks = np.indices([len(deals) for deals in each]).reshape(len(each), -1)
    ways = np.empty((picks.shape[1], arms.size), dtype=np.int64)
    for place, deals, pick in zip(places, each, picks, strict=True):
        ways[:, place] = deals[pick]
    return ways, True


def _count(arms: Ways) -> int:
    same = math.prod(math.factorial(n) for n in Counter(arms.tolist()).values())
    return math.factorial(arms.size) // same


def _deals(arms: Ways) -> Ways:
    """Return every order of some codes, as they are first."""
    if set(Counter(arms.tolist()).values()) == {1} or arms.size < 8:
        orders = dict.fromkeys(permutations(arms.tolist()))
        return np.array(list(orders), dtype=np.int64)
    return np.array(list(_distinct(tuple(arms.tolist()))), dtype=np.int64)


def _distinct(codes: tuple[int, ...]) -> dict[tuple[int, ...], None]:
    """Return every order of codes that are few but often, without trying each twice."""
    if len(codes) < 2:
        return {codes: None}
    found: dict[tuple[int, ...], None] = {}
    for first in dict.fromkeys(codes):
        at = codes.index(first)
        for rest in _distinct(codes[:at] + codes[at + 1 :]):
            found[first, *rest] = None
    return found


def unevenness(ways: Ways, values: ArrayLike) -> Array:
    """Return how far apart the arms' means of a value lie in each way, shape (w,).

    The sum of squares between arms: with one value it orders the ways as the distance of
    Mahalanobis does (Morgan & Rubin 2012, The Annals of Statistics 40, 1263–1282).
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    y -= np.mean(y)
    found: Array = np.zeros(ways.shape[0])
    for code in np.unique(ways[0]):
        mine = ways == code
        found += (mine @ y) ** 2 / np.count_nonzero(mine[0])
    return found


def even_enough(uneven: Array) -> float:
    """Return the unevenness up to which a way is drawn: enough ways are left to the lot."""
    wanted = max(SHARE * uneven.size, min(FEWEST, uneven.size / 2))
    place = min(math.ceil(wanted), uneven.size) - 1
    return float(np.partition(uneven, place)[place]) * (1 + 1e-9)


def chance_by_lot(values: ArrayLike, ways: Ways, arm: int, control: int, *, whole: bool) -> float:
    """Return how seldom a lot alone sets two arms at least so far apart, two-sided.

    Parameters
    ----------
    values
        Of the pieces, less their block's mean where they have blocks, shape (n,).
    ways
        As `allocations` gives them, those that could not have been drawn left out; first how it
        is.
    arm, control
        The codes of the two.
    whole
        Whether these are all ways; else one is added to both counts.
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    apart = np.abs(
        ((ways == arm) @ y) / np.count_nonzero(ways[0] == arm)
        - ((ways == control) @ y) / np.count_nonzero(ways[0] == control)
    )
    as_far = int(np.count_nonzero(apart >= apart[0] - 1e-9 * largest(y)))
    ways_in_all = int(ways.shape[0])
    return as_far / ways_in_all if whole else (as_far + 1) / (ways_in_all + 1)
