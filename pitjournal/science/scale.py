"""Round numbers along a scale, for any range a journal may hold.

A range may be one number twice, two numbers that only rounding parts (a set point stored in
kelvin and shown in degrees Fahrenheit), or hold readings that are no numbers. None of them may
cost more than any other: steps are counted before a list of them is made.
"""

from collections.abc import Iterable
from math import ceil, floor, isfinite, log10

SAME = 1e-9
"""Numbers that differ by a smaller share of themselves are the same: doubles carry sixteen
digits, and converting a unit there and back loses the last two or three."""

LARGEST, SMALLEST = 1e100, 1e-100
"""Beyond these a number is no measurement, and its square is no number."""

ROUND = (1.0, 2.0, 2.5, 5.0, 10.0)
"""A step is one of these times a power of ten."""

CLOCK = (1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 180.0, 240.0, 360.0, 720.0, 1440.0)
"""Minutes that are round on a clock: 60 of them are an hour, and 24 hours a day."""

MOST = 1000
"""No scale has more places than so many."""


def is_known(value: float | None) -> bool:
    """Whether a value can stand on a scale: a finite number of a thinkable size."""
    return value is not None and isfinite(value) and abs(value) <= LARGEST


def same(low: float, high: float) -> bool:
    """Whether two numbers are no further apart than rounding."""
    return not abs(high - low) > max(SAME * max(abs(low), abs(high)), SMALLEST)


def span_about(
    values: Iterable[float | None], share: float = 0.12, least: float = 1.0
) -> tuple[float, float]:
    """Return a span with a margin about the known ones of some values; its ends always differ.

    Parameters
    ----------
    share
        The margin at each end, as a share of the span.
    least
        The room on either side of values that are all the same, in their unit: without it the
        marks of a scale would tell thousandths.
    """
    known = [value for value in values if value is not None and is_known(value)]
    if not known:
        return 0.0, 1.0
    low, high = min(known), max(known)
    if same(low, high):
        room = max(least, abs(low) * 1e-3)
        return low - room, high + room
    pad = (high - low) * share
    return low - pad, high + pad


def round_step(
    width: float, most: int, sizes: tuple[float, ...] = ROUND, *, minutes: bool = False
) -> float:
    """Return the round step of which about `most` fill a width above zero.

    Steps of minutes are round on a clock, from a minute to a day.
    """
    raw = max(width / max(most, 1), SMALLEST)
    if minutes and CLOCK[0] * 0.1 < raw <= CLOCK[-1]:
        return next(step for step in CLOCK if step >= raw * 0.999)
    power = 10.0 ** floor(log10(raw))
    return next(size * power for size in (*sizes, 10.0) if size * power >= raw * 0.999)


def multiples(low: float, high: float, step: float) -> list[float]:
    """Return the multiples of a step within a span, ends included; none where they are countless."""
    if not (is_known(low) and is_known(high) and step > 0):
        return []
    first, last = ceil(low / step - SAME), floor(high / step + SAME)
    if not 0 <= last - first < MOST or step <= SAME * max(abs(low), abs(high)):
        return []
    return [multiple(place, step) for place in range(first, last + 1)]


def multiple(count: int, step: float) -> float:
    """Return so many round steps, as the double nearest to their decimal."""
    return round(count * step, min(max(2 - floor(log10(step)), 0), 300)) + 0.0
