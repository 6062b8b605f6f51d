"""Serving orders: what each taster meets and in which order, drawn by lot and balanced."""

import random
from collections import Counter
from collections.abc import Sequence
from itertools import combinations, pairwise

from pitjournal.domain.scheme import Asks
from pitjournal.science.comparison.designs import incomplete_blocks, williams_rows

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


def serving_orders(
    samples: int, tasters: int, seed: int, each: int = 0, arms: Sequence[str] = ()
) -> list[list[int]]:
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
    arms
        The arm of each sample. Who is served only some gets as many of every arm as can be: a
        taster who met one arm alone cannot be told apart from it.
    """
    lot = random.Random(seed)  # noqa: S311 - a lot that can be drawn again, no secret
    if 2 <= each < samples:
        if dealt_by_arm(samples, each, arms):
            return _by_arm(arms, tasters, each, lot)
        return _in_order(_some_each(samples, tasters, each, lot), lot, arms)
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
    return blocks


def dealt_by_arm(samples: int, each: int, arms: Sequence[str]) -> bool:
    """Whether a plan blind to the arms could serve a taster too many of one: then it knows them.

    Parameters
    ----------
    samples
        How many samples there are.
    each
        How many samples each taster meets.
    arms
        The arm of each sample.
    """
    sizes = Counter(arms)
    if len(arms) != samples or len(sizes) < 2:
        return False
    for size in sizes.values():  # the most and the fewest of this arm that a block may hold
        most, fewest = min(size, each), max(0, each - (samples - size))
        if most - fewest > 1 or (fewest == 0 and each >= len(sizes)):
            return True
    return False


def _by_arm(arms: Sequence[str], tasters: int, each: int, lot: random.Random) -> list[list[int]]:
    """Deal each taster the arms evenly, of each arm what was met least, and order them."""
    met, together = Counter[int](), Counter[frozenset[int]]()
    blocks = []
    for _ in range(tasters):
        block: list[int] = []
        while len(block) < each:
            held = Counter(arms[one] for one in block)
            left = [one for one in range(len(arms)) if one not in block]
            lot.shuffle(left)
            block.append(min(left, key=lambda one: _claim(one, block, held, arms, met, together)))
        blocks.append(block)
        met.update(block)
        together.update(frozenset(pair) for pair in combinations(block, 2))
    lot.shuffle(blocks)
    return _in_order(blocks, lot, arms)


def _claim(  # noqa: PLR0917 - what a sample's turn is told by
    one: int,
    block: Sequence[int],
    held: Counter[str],
    arms: Sequence[str],
    met: Counter[int],
    together: Counter[frozenset[int]],
) -> tuple[int, int, float, int]:
    """Return who comes first: the arm held least, the piece met least, the arm tasted least."""
    own = [other for other, arm in enumerate(arms) if arm == arms[one]]
    tasted = (held[arms[one]] + sum(met[other] for other in own)) / len(own)
    shared = sum(together[frozenset((one, other))] for other in block)
    return held[arms[one]], met[one], tasted, shared


def times_met(arms: Sequence[str], tasters: int, each: int) -> list[int]:
    """Return how often each sample would be met, by one draw.

    Parameters
    ----------
    arms
        The arm of each sample.
    tasters
        Who tastes.
    each
        How many samples each taster meets.
    """
    orders = serving_orders(len(arms), tasters, 0, each, arms)
    met = Counter(one for order in orders for one in order)
    return [met[one] for one in range(len(arms))]


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


def _in_order(
    blocks: list[list[int]], lot: random.Random, arms: Sequence[str] = ()
) -> list[list[int]]:
    """Order each block so that arms, places and neighbours come out as even as they can."""
    places, follows = Counter[tuple[int, int]](), Counter[tuple[int, int]]()
    early = Counter[str]()
    known = bool(arms)
    orders = []
    for block in blocks:
        lot.shuffle(block)
        ways = [[block[value] for value in row] for row in williams_rows(len(block))]
        order = min(
            ways,
            key=lambda way: (
                _apart(way, arms, early) if known else 0.0,
                _uneven(way, places, follows),
            ),
        )
        for place, one in enumerate(order):
            early[arms[one] if known else ""] += 2 * place - len(order) + 1
        places.update(enumerate(order))
        follows.update(pairwise(order))
        orders.append(order)
    return orders


def _apart(way: Sequence[int], arms: Sequence[str], early: Counter[str]) -> int:
    """Return how far the arms' places would lie from the middle of a serving."""
    sums = Counter(early)
    for place, one in enumerate(way):
        sums[arms[one]] += 2 * place - len(way) + 1
    return sum(value * value for value in sums.values())


def _uneven(
    way: Sequence[int], places: Counter[tuple[int, int]], follows: Counter[tuple[int, int]]
) -> int:
    return sum(places[spot] for spot in enumerate(way)) + sum(follows[p] for p in pairwise(way))


def share_enough(samples: int, scores: int, tasters: int) -> bool:
    """Whether tasters who met only some samples share enough of them to set their levels even.

    Parameters
    ----------
    samples
        Those that were served.
    scores
        Scores, one a card.
    tasters
        Who tastes.
    """
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

    Parameters
    ----------
    asks
        What the tasters are asked.
    tasters
        Who tastes.
    seed
        Of the lot.
    """
    lot = random.Random(seed)  # noqa: S311 - a lot that can be drawn again, no secret
    dealt: list[tuple[int, ...]] = []
    while len(dealt) < tasters:
        round_ = list(SETS[asks])
        lot.shuffle(round_)
        dealt += round_
    return dealt[:tasters]
