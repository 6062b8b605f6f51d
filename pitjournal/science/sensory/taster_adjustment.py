"""Means of things that judges met unevenly: as if every judge had met them all."""

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array


def even_means(values: ArrayLike, things: ArrayLike, judges: ArrayLike) -> Array | None:
    """Return the mean of each thing with the judges' levels set even.

    Least squares of value = thing + judge; the mean of a thing is taken over all judges. Where
    every judge met everything once this is the plain mean.

    Parameters
    ----------
    values
        Shape (n,); what is not finite is left out.
    things, judges
        Whole numbers from 0 naming the thing and the judge of each value, shape (n,).

    Returns
    -------
    Array or None
        One mean a thing, shape (t,); None where the judges share too few things for their
        levels to be told from the things.
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    what, who = (np.asarray(codes).ravel().astype(np.int64) for codes in (things, judges))
    whole = np.isfinite(y)
    y, what, who = y[whole], what[whole], who[whole]
    if not y.size:
        return None
    t, b = int(np.max(what)) + 1, int(np.max(who)) + 1
    design = np.zeros((y.size, t + b - 1))
    rows = np.arange(y.size)
    design[rows, what] = 1
    later = who > 0
    design[rows[later], t + who[later] - 1] = 1
    found, _, rank, _ = np.linalg.lstsq(design, y, rcond=None)
    if rank < t + b - 1:
        return None
    return np.asarray(found[:t] + np.sum(found[t:]) / b, dtype=np.float64)
