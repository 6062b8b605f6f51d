"""An ensemble made to agree with what was measured, in a few gentle steps.

Emerick and Reynolds (2013), Ensemble smoother with multiple data assimilation, Computers &
Geosciences 55, 3-15: the same data are taken in several times, each time with their variance
multiplied by the number of times, which keeps a model that is not linear from being overdone.
"""

from collections.abc import Callable

import numpy as np

from pitjournal.science.arrays import Array

ROUNDS = 3


def agree(
    members: Array,
    run: Callable[[Array], Array],
    seen: Array,
    error: Array,
    *,
    seed: int,
    rounds: int = ROUNDS,
    touched: Array | None = None,
) -> Array:
    """Return the members moved towards what was seen.

    Parameters
    ----------
    members
        Shape (b, n).
    run
        Gives what each member would have shown, shape (k, b).
    seen, error
        What was measured and its standard error with that of the model, shape (k,).
    seed
        Of the noise that keeps the spread right.
    rounds
        How often the data are taken in.
    touched
        Which numbers of a member each measurement may move, shape (n, k) of 0 and 1; all if not
        given.
    """
    dice = np.random.default_rng(seed)
    scale = np.maximum(members.std(axis=0), 1e-12)
    scaled = members / scale
    raised = np.sqrt(rounds) * error
    for _ in range(rounds):
        shown = run(scaled * scale)
        apart = shown - shown.mean(axis=1, keepdims=True)
        moved = (scaled - scaled.mean(axis=0)).T
        count = scaled.shape[0] - 1
        gain = moved @ apart.T / count
        if touched is not None:
            gain = gain * touched
        among = apart @ apart.T / count
        if touched is not None:
            among = among * (touched.T @ touched > 0)
        among[np.diag_indices_from(among)] += raised**2
        noise = raised[:, None] * dice.standard_normal(shown.shape)
        scaled = scaled + (gain @ np.linalg.solve(among, seen[:, None] + noise - shown)).T
    moved_to: Array = scaled * scale
    return moved_to
