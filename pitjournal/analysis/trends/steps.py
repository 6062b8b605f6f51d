"""Numbers in round steps, for a picture of how they are spread."""

import numpy as np

from pitjournal.analysis.trends.lines import Floats

FEWEST, MOST = 4, 24


def round_steps(shown: Floats, fewest: int = FEWEST) -> Floats:
    """Return the edges of round steps over numbers in the unit shown.

    Their count is about that of NumPy's "auto" rule (the larger of Sturges' and of Freedman
    and Diaconis'), which asks for more steps the more numbers there are.
    """
    if not shown.size:
        return shown
    low, high = float(shown.min()), float(shown.max())
    if low == high:
        room = max(abs(low) * 0.05, 0.5)
        return np.array([low - room, low + room])
    count = np.histogram_bin_edges(shown, "auto").size - 1
    raw = (high - low) / min(max(count, fewest), MOST)
    power = 10.0 ** np.floor(np.log10(raw))
    step = next(s * power for s in (1, 2, 2.5, 5, 10) if s * power >= raw * 0.999)
    first = np.floor(low / step)
    last = max(np.ceil(high / step), first + 1)
    edges = np.arange(first, last + 1) * step
    return np.append(edges, edges[-1] + step) if high >= edges[-1] else edges


def counts_in(shown: Floats, edges: Floats) -> list[int]:
    """Return how many numbers lie in each step; one on an edge lies in the step above."""
    places = np.searchsorted(edges, shown, side="right") - 1
    return [int(n) for n in np.bincount(places, minlength=edges.size - 1)[: edges.size - 1]]
