"""Put a logger's clock right: lid dips in the pit's trace against the lid openings logged."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.trace_features import Array, ordered
from pitjournal.domain.samples import Samples

DROP = 6.0
"""A pit that falls by so much, K, within `WITHIN` s has had its lid opened."""

WITHIN = 180.0
APART = 240.0
"""Two dips are at least so far apart, s."""

NEAR = 90.0
"""A dip and an opening that lie so near each other are the same, s."""

FARTHEST = 3 * 3600.0
LEAST_MATCHES = 2


@dataclass(frozen=True)
class ClockProposal:
    """Add `shift` s to the device's clock; `matched` of `dips` dips then meet an opening."""

    shift: float
    matched: int
    dips: int


def lid_dips(samples: Samples) -> Array:
    """Return when the pit began to fall sharply, s since 1970, shape (n,)."""
    times, values = ordered(samples)
    if times.size < 3:
        return np.empty(0)
    later = np.searchsorted(times, times + WITHIN, side="right") - 1
    lowest = np.array(
        [values[place : end + 1].min() for place, end in enumerate(later)], dtype=np.float64
    )
    falling = np.flatnonzero(values - lowest >= DROP)
    found: list[float] = []
    for place in falling:
        # Its steepest step is the lid; noise before it is not.
        steps = np.diff(values[place : later[place] + 1])
        start = place + int(np.argmin(steps)) if steps.size else place
        time = float(times[start])
        if not found or time - found[-1] >= APART:
            found.append(time)
    return np.array(found)


def propose_shift(dips: Sequence[float] | Array, openings: Sequence[float]) -> ClockProposal | None:
    """Return the shift under which most dips meet a logged opening, the smallest if several do.

    None when fewer than two would meet.

    Parameters
    ----------
    dips, openings
        s since 1970, by the device's clock and by the cook's.
    """
    marks, events = np.sort(np.asarray(dips, float)), np.sort(np.asarray(openings, float))
    if marks.size < LEAST_MATCHES or events.size < LEAST_MATCHES:
        return None
    tries = (events[None, :] - marks[:, None]).ravel()
    tries = tries[np.abs(tries) <= FARTHEST]
    best: tuple[int, float, float] | None = None
    for shift in tries:
        gaps = _gaps(marks + shift, events)
        near = np.abs(gaps) <= NEAR
        refined = float(shift + np.median(gaps[near]))
        score = (int(near.sum()), -abs(refined), refined)
        if best is None or score[:2] > best[:2]:
            best = score
    if best is None or best[0] < LEAST_MATCHES:
        return None
    return ClockProposal(best[2], best[0], int(marks.size))


def _gaps(marks: Array, events: Array) -> Array:
    """Return how far each mark lies from the nearest event, s."""
    after = np.clip(np.searchsorted(events, marks), 1, events.size - 1)
    before = after - 1
    to_after, to_before = events[after] - marks, events[before] - marks
    return np.asarray(np.where(np.abs(to_after) < np.abs(to_before), to_after, to_before))
