"""Whether a plan of servings is a balanced incomplete block design."""

from collections.abc import Sequence

import numpy as np

from pitjournal.science.comparison.designs import Balance


def balance_of(plan: Sequence[Sequence[int]], samples: int) -> Balance | None:
    """Return what a plan has, None if it is not balanced.

    Parameters
    ----------
    plan
        For each block the sample numbers from 0.
    samples
        How many there are.
    """
    sizes = {len(block) for block in plan}
    grid = np.zeros((samples, len(plan)))
    for place, block in enumerate(plan):
        for sample in block:
            grid[sample, place] += 1
    together = grid @ grid.T
    times = np.diag(together)
    shared = together[~np.eye(samples, dtype=np.bool_)]
    even = np.ptp(times) == 0 and np.ptp(shared) == 0 and np.max(grid) == 1
    if len(sizes) != 1 or not even:
        return None
    return Balance(samples, len(plan), sizes.pop(), int(times[0]), int(shared[0]))
