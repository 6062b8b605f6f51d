"""Serving orders: what each taster meets and in which order, drawn by lot and balanced."""

import random
from collections import Counter
from collections.abc import Sequence
from itertools import combinations, pairwise

from pitjournal.domain.scheme import Asks
from pitjournal.science.designs import incomplete_blocks, williams_rows

MOST_AT_ONCE = 5
"""Above this many samples a taster is served only some (common practice, no source)."""

_MOST_PLANNED = 12
"""Above this many samples a round is dealt as a ring: a balanced plan takes too many tasters."""

LINKS = 2
"""Scores beyond one a sample that it takes to set one taster's level: one alone is his whim."""

SETS: dict[Asks, tuple[tuple[int, ...], ...]] = {
    Asks.TRIANGLE: ((0, 0, 1), (0, 1, 0), (1, 0, 0), (1, 1, 0), (1, 0, 1), (0, 1, 1)),
    Asks.DUO_TRIO: ((0, 0, 1), (0, 1, 0), (1, 0, 1), (1, 1, 0)),
    Asks.PAIR: ((0, 1), (1, 0)),
}
"""Every set that can be served of two ways, 0 and 1; of a duo–trio the reference comes first."""


def serving_orders(samples: int, tasters: int, seed: int, each: int = 0) -> list[list[int]]:
    """Return an order of the sample numbers for each taster, drawn by lot.

    Whole Williams designs are dealt out, each with its samples renumbered by lot. Where the
    tasters do not fill a whole design, the balance is only partial.

    Parameters
    ----------
    samples, tasters
        How many.
    seed
        The same seed draws the same orders.
    each
        How many samples a taster is served; 0 or too many is all of them.
    """
    lot = random.Random(seed)  # noqa: S311 - a lot that can be drawn again, no secret
    if 2 <= each < samples:
        return _some_each(samples, tasters, each, lot)
    orders: list[list[int]] = []
    while len(orders) < tasters:
        names = list(range(samples))
        lot.shuffle(names)
        rows = [[names[value] for value in row] for row in williams_rows(samples)]
        lot.shuffle(rows)
        orders += rows
    return orders[:tasters]


def _some_each(samples: int, tasters: int, each: int, lot: random.Random) -> list[list[int]]:
    """Deal whole balanced plans, and to the tasters that are left what was met least."""
    blocks: list[list[int]] = []
    plan = _plan(samples, each)
    while tasters - len(blocks) >= len(plan):
        names = list(range(samples))
        lot.shuffle(names)
        blocks += [[names[value] for value in block] for block in plan]
    met = Counter(value for block in blocks for value in block)
    together = Counter(frozenset(p) for block in blocks for p in combinations(block, 2))
    while len(blocks) < tasters:
        block = _least_met(samples, each, met, together, lot)
        blocks.append(block)
        met.update(block)
        together.update(frozenset(pair) for pair in combinations(block, 2))
    lot.shuffle(blocks)
    return _in_order(blocks, lot)


def _plan(samples: int, each: int) -> list[list[int]]:
    if samples <= _MOST_PLANNED:
        return incomplete_blocks(samples, each)
    return [[(start + step) % samples for step in range(each)] for start in range(samples)]


def _least_met(
    samples: int,
    each: int,
    met: Counter[int],
    together: Counter[frozenset[int]],
    lot: random.Random,
) -> list[int]:
    """Return a block of what was met least, then of pairs that were met least, then by lot."""
    block: list[int] = []
    while len(block) < each:
        left = [value for value in range(samples) if value not in block]
        lot.shuffle(left)
        block.append(
            min(left, key=lambda one: (met[one], sum(together[frozenset((one, b))] for b in block)))
        )
    return block


def _in_order(blocks: list[list[int]], lot: random.Random) -> list[list[int]]:
    """Order each block so that places and neighbours come out as even as they can."""
    places, follows = Counter[tuple[int, int]](), Counter[tuple[int, int]]()
    orders = []
    for block in blocks:
        lot.shuffle(block)
        ways = [[block[value] for value in row] for row in williams_rows(len(block))]
        order = min(ways, key=lambda way: _uneven(way, places, follows))
        places.update(enumerate(order))
        follows.update(pairwise(order))
        orders.append(order)
    return orders


def _uneven(
    way: Sequence[int], places: Counter[tuple[int, int]], follows: Counter[tuple[int, int]]
) -> int:
    return sum(places[spot] for spot in enumerate(way)) + sum(follows[p] for p in pairwise(way))


def share_enough(samples: int, scores: int, tasters: int) -> bool:
    """Whether tasters who met only some samples share enough of them to set their levels even."""
    return scores - samples >= LINKS * (tasters - 1)


def balanced_with(samples: int, each: int) -> int:
    """Return how many tasters a fully balanced serving of the samples takes."""
    if 2 <= each < samples:
        return len(_plan(samples, each))
    return len(williams_rows(samples))


def draw_sets(asks: Asks, tasters: int, seed: int) -> list[tuple[int, ...]]:
    """Return for each taster a set of the ways 0 and 1, drawn by lot.

    Every set that can be is served equally often; what does not fill a round is drawn so that
    no set comes twice in it.
    """
    lot = random.Random(seed)  # noqa: S311 - a lot that can be drawn again, no secret
    dealt: list[tuple[int, ...]] = []
    while len(dealt) < tasters:
        round_ = list(SETS[asks])
        lot.shuffle(round_)
        dealt += round_
    return dealt[:tasters]
