"""Numbers in round steps, for a picture of how they are spread."""

import numpy as np

from pitjournal.analysis.trends.columns.lines import Floats
from pitjournal.science.scale import round_step, same

FEWEST, MOST = 4, 24


def round_steps(shown: Floats, fewest: int = FEWEST, *, minutes: bool = False) -> Floats:
    """Return the edges of round steps over numbers in the unit shown.

    Their count is the larger of Sturges' rule (The Choice of a Class Interval, 1926) and that
    of Freedman and Diaconis (On the Histogram as a Density Estimator, 1981), which asks for
    more steps the more numbers there are. It is kept within bounds: one odd value among many
    that are close would ask for more steps than there is memory. Steps of `minutes` are round
    on a clock.

    Parameters
    ----------
    shown
        Values in the unit shown, shape (n,).
    fewest
        So many steps at least.
    minutes
        Whether the unit is minutes, whose steps are not tens.
    """
    shown = shown[np.isfinite(shown)]
    if not shown.size:
        return shown
    low, high = float(shown.min()), float(shown.max())
    if same(low, high):
        room = max(abs(low) * 0.05, 0.5)
        return np.array([low - room, low + room])
    count = min(max(_how_many(shown, high - low), fewest), MOST)
    step = round_step(high - low, count, minutes=minutes)
    first = np.floor(low / step)
    last = max(np.ceil(high / step), first + 1)
    edges = np.arange(first, last + 1) * step
    return np.append(edges, edges[-1] + step) if high >= edges[-1] else edges


def _how_many(shown: Floats, width: float) -> int:
    sturges = np.log2(shown.size) + 1
    quarters = np.quantile(shown, [0.25, 0.75])
    step = 2 * float(quarters[1] - quarters[0]) / np.cbrt(shown.size)
    freedman = width / step if step > width / MOST else MOST if step > 0 else 0
    return int(np.ceil(max(sturges, freedman)))


def counts_in(shown: Floats, edges: Floats) -> list[int]:
    """Return how many numbers lie in each step; one on an edge lies in the step above."""
    places = np.searchsorted(edges, shown, side="right") - 1
    return [int(n) for n in np.bincount(places, minlength=edges.size - 1)[: edges.size - 1]]
