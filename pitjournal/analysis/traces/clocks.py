"""Put a logger's clock right: lid dips in the pit's trace against the lid openings logged."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.traces.features import Array
from pitjournal.analysis.traces.pit import NEAR

FARTHEST = 3 * 3600.0
LEAST_MATCHES = 2
LEAST_APART = 1800.0
"""Two shared moments nearer than half an hour say nothing of a drift, s."""


@dataclass(frozen=True)
class ClockProposal:
    """Add `shift` s to the device's clock; `matched` of `dips` dips then meet an opening."""

    shift: float
    matched: int
    dips: int


def clock_through(pairs: Sequence[tuple[float, float]], start: float) -> tuple[float, float] | None:
    """Return shift (s) and drift that bring a device's times onto true ones.

    One shared moment gives a shift; two or more give both, by least squares. None without any,
    or when they lie too near each other to tell a drift from a slip of the finger.

    Parameters
    ----------
    pairs
        The device's time and the true one of each shared moment, s since 1970.
    start
        The trace's first time by the device, s since 1970: drift counts from there.
    """
    if not pairs:
        return None
    device, true = np.array(pairs, dtype=np.float64).T
    if len(pairs) == 1:
        return float(true[0] - device[0]), 0.0
    if device.max() - device.min() < LEAST_APART:
        return None
    drift, shift = np.polyfit(device - start, true - device, 1)
    return float(shift), float(drift)


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
