"""Layouts drawn by lot: serving orders, blocks of pieces and slots, halves, what blocks allow."""

import random
from dataclasses import dataclass
from itertools import combinations


def williams_rows(samples: int) -> list[list[int]]:
    """Return a Williams design as rows of sample numbers from 0.

    Every sample stands equally often in every place, and follows every other equally often:
    once for an even number, twice for an odd one, which takes twice the rows
    (Williams 1949, Australian Journal of Scientific Research A 2, 149-168; from memory).
    """
    first = [0]
    low, high = 1, samples - 1
    while len(first) < samples:
        first.append(low if len(first) % 2 else high)
        low, high = (low + 1, high) if len(first) % 2 == 0 else (low, high - 1)
    rows = [[(value + step) % samples for value in first] for step in range(samples)]
    return rows if samples % 2 == 0 else rows + [row[::-1] for row in rows]


def draw_blocks(arms: int, blocks: int, seed: int, *, per_arm: int = 1) -> list[list[int]]:
    """Return for each block the arm of each place in the cooker, drawn by lot.

    Every arm is in every block equally often (a randomised complete block layout).

    Parameters
    ----------
    arms, blocks
        How many of each.
    seed
        The same seed draws the same layout.
    per_arm
        Pieces of each arm in a block.
    """
    lot = random.Random(seed)  # noqa: S311 - a lot that can be drawn again, no secret
    layout = []
    for _ in range(blocks):
        places = [arm for arm in range(arms) for _ in range(per_arm)]
        lot.shuffle(places)
        layout.append(places)
    return layout


def draw_halves(pairs: int, seed: int) -> list[int]:
    """Return for each pair which half, 0 or 1, is the control: each equally often, by lot.

    With an odd number of pairs one half is the control once more.

    Parameters
    ----------
    pairs
        How many.
    seed
        As for `draw_blocks`.
    """
    lot = random.Random(seed)  # noqa: S311 - a lot that can be drawn again, no secret
    spare = [lot.randrange(2)] if pairs % 2 else []
    halves = [0, 1] * (pairs // 2) + spare
    lot.shuffle(halves)
    return halves


@dataclass(frozen=True)
class Balance:
    """What a balanced incomplete block design has.

    Attributes
    ----------
    samples, blocks, block_size
        t, b and k.
    replicates
        r: how often each sample is met.
    together
        λ: how often each pair of samples shares a block.
    """

    samples: int
    blocks: int
    block_size: int
    replicates: int
    together: int

    @property
    def efficiency(self) -> float:
        """Precision of a difference against complete blocks of as many servings."""
        t, k = self.samples, self.block_size
        return t * (k - 1) / (k * (t - 1))


def balance(samples: int, blocks: int, block_size: int) -> Balance | None:
    """Return what a balanced design of this size would have, None if it cannot be.

    The identities b·k = r·t and λ(t − 1) = r(k − 1), and b ≥ t, are necessary; they do not
    promise that a design exists.
    """
    if not 2 <= block_size < samples:
        return None
    replicates, left = divmod(blocks * block_size, samples)
    together, odd = divmod(replicates * (block_size - 1), samples - 1)
    if left or odd or blocks < samples or together == 0:
        return None
    return Balance(samples, blocks, block_size, replicates, together)


def _cyclic(samples: int, block_size: int, starts: int) -> list[list[int]] | None:
    """Return blocks that turn one or two first blocks through all samples, if they balance."""
    others = [(0, *rest) for rest in combinations(range(1, samples), block_size - 1)]
    for first in combinations(others, starts):
        counts = [0] * samples
        for block in first:
            for one in block:
                for two in block:
                    counts[(one - two) % samples] += 1
        if len(set(counts[1:])) == 1:
            return [
                [(v + step) % samples for v in block] for block in first for step in range(samples)
            ]
    return None


def incomplete_blocks(samples: int, block_size: int) -> list[list[int]]:
    """Return a balanced plan in which no taster meets more than `block_size` samples.

    One first block turned through all samples where that balances, else two, else every
    choice of `block_size` samples.

    Parameters
    ----------
    samples
        3 to 16.
    block_size
        At least 2, fewer than the samples.

    Raises
    ------
    ValueError
        Outside these sizes.
    """
    if not 3 <= samples <= 16 or not 2 <= block_size < samples:
        raise ValueError(f"no plan of blocks of {block_size} for {samples} samples")
    every = [list(block) for block in combinations(range(samples), block_size)]
    for starts in (1, 2):
        if starts * samples >= len(every):
            break
        plan = _cyclic(samples, block_size, starts)
        if plan is not None:
            return plan
    return every
