"""Past times put to a planned piece: a thinner one or a hotter pit is done sooner."""

import math
from typing import TYPE_CHECKING

from pitjournal.analysis.forecast.usual import ridge

if TYPE_CHECKING:
    from pitjournal.science.arrays import Array

LEAST = 3
"""Cooks that must know a number, before it counts."""

SLOPES, HELD = (0.7, 0.15, -0.9), (0.35, 0.15, 0.4)
"""How a time on grows with thickness, mass and the pit above 65 °C (powers), and how closely that is
held. Common practice, no source: a butt of an hour and a half a pound at 225 °F takes one at 275 °F.
"""

WORDS = ("thickness", "weight", "heat")


def put_to_piece(
    times: "Array", pieces: "Array", here: tuple[float | None, ...]
) -> tuple["Array", tuple[str, ...]]:
    """Return past times as they would have been of this piece, and by what they were moved.

    The logarithms of the times are regressed on thickness, mass and the pit above 65 °C, with
    slopes held near what the trade reports, so that three cooks are enough. What is left over stays
    as far apart as a cook to come is from what is expected (the prediction interval of any
    textbook of regression), so that a chance reckoned from these times is not too sure.

    Parameters
    ----------
    times
        One a cook, above 0, shape (n,).
    pieces
        Thickness, m, mass, g, and set point, °C, of each, shape (n, 3); NaN where not known.
    here
        The same of the planned piece; None where not known.
    """
    import numpy as np

    own = np.array([np.nan if one is None else one for one in here])
    known = np.isfinite(pieces).sum(axis=0) >= LEAST
    used = np.flatnonzero(known & np.isfinite(own))
    if not used.size or times.size < LEAST:
        return times, ()
    x, at = _logarithms(pieces)[:, used], _logarithms(own[None, :])[0, used]
    x = np.where(np.isfinite(x), x, np.nanmean(x, axis=0))
    slopes, held = np.array(SLOPES)[used], np.array(HELD)[used]
    found = ridge(x, np.log(times), at, slopes, held)
    moves = (at - x) @ found.slopes
    if np.allclose(moves, 0.0, atol=1e-3):
        return times, ()
    moved = np.log(times) + moves
    middle = moved.mean()
    put: Array = np.exp(middle + _wider(found.taken, found.farther, times.size) * (moved - middle))
    moving = np.abs((at - x) * found.slopes).max(axis=0) > 1e-3
    return put, tuple(WORDS[place] for place in used[moving])


def _wider(taken: float, farther: float, count: int) -> float:
    """Return by how much a cook to come lies farther off than these lie from each other."""
    free = max(count - 1.0 - taken, 1.0)
    return math.sqrt((count - 1.0) / free * farther / (1.0 + 1.0 / count))


def _logarithms(numbers: "Array") -> "Array":
    import numpy as np

    above = np.maximum(numbers - np.array([0.0, 0.0, 65.0]), np.array([1e-3, 1.0, 5.0]))
    found: Array = np.log(above)
    return found
