"""Lay out when the meat comes off: the chances as a hump over the bar of a day's ribbon."""

from collections.abc import Sequence
from itertools import pairwise

from pitjournal.domain.day.ribbon import Fan
from pitjournal.files.summary.ribbon_shapes import Hump, Picture, Pill, Room

APART = 10.0
"""Between words and what they stand beside, px."""

HUMP, OVER_HUMP = 18.0, 16.0
"""How high the hump of when the meat comes off is, and the room its words take above it, px."""


def hump_of(picture: Picture, fan: Fan, room: Room) -> Hump | None:
    """Return when the meat comes off, laid out; None where that is out of sight.

    Parameters
    ----------
    picture
        What is laid out already: the present stands in the way of words.
    fan
        When the meat comes off.
    room
        What it is laid out in.
    """
    x = room.axis.at(fan.likely)
    low, high = room.axis.at(fan.early), room.axis.at(fan.late)
    if not max(room.seen[0], 0) <= x <= min(room.seen[1], room.width):
        return None
    text = f"off {room.clock(fan.likely)}"
    wide = room.measure(text, True)
    left = min(max(x - wide / 2, 0.0), room.width - wide)
    pill, y = picture.pill, room.top - HUMP - 4
    if pill is not None and left < pill.left + pill.width + 6 and left + wide > pill.left - 6:
        left = min(pill.left + pill.width + 8, room.width - wide)
    first = (
        low - (x - low) if fan.surely_early is None else min(room.axis.at(fan.surely_early), low)
    )
    last = (
        high + (high - x) if fan.surely_late is None else max(room.axis.at(fan.surely_late), high)
    )
    start, end = max(room.seen[0], 0.0), min(room.seen[1], room.width)
    if room.top < HUMP + OVER_HUMP:  # no room over it: beside it
        whole = first, min(last, end)
        left, y = _beside(room, pill, (whole, (low, high)), wide), room.top - 7
    smooth = _smooth([(first, 0.0), (low, 0.45), (x, 1.0), (high, 0.45), (last, 0.0)])
    points = _within([(px, room.top - HUMP * share) for px, share in smooth], start, end, room.top)
    inner: tuple[tuple[float, float], ...] = ()
    if fan.surely_early is not None or fan.surely_late is not None:
        inner = _within(points, max(low, start), min(high, end), room.top)
    return Hump(points, x, room.top - HUMP, room.top + picture.bar, text, left, y, inner)


def _within(
    points: Sequence[tuple[float, float]], start: float, end: float, foot: float
) -> tuple[tuple[float, float], ...]:
    """Return the part of a hump between two places, cut off down to its foot."""
    kept = [point for point in points if start <= point[0] <= end]
    if not kept:
        return ()
    return ((kept[0][0], foot), *kept, (kept[-1][0], foot))


def _beside(
    room: Room, pill: Pill | None, spans: Sequence[tuple[float, float]], wide: float
) -> float:
    """Return where words begin that stand beside a hump: off all of it, else off its middle."""
    begun = pill.left if pill is not None else room.width
    gone = pill.left + pill.width if pill is not None else 0.0
    for start, end in spans:
        after, before = max(end, gone) + APART, start - APART - wide
        if after + wide <= min(room.width, room.seen[1] + wide):
            return after
        if before >= max(gone + APART, room.seen[0]) or 0 <= before <= begun - APART - wide:
            return before
    return max(min(spans[-1][1] + APART, room.width - wide), 0.0)


def _smooth(shape: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return points of a soft line through others, flat at its ends and its top."""
    found = [shape[0]]
    for (x1, y1), (x2, y2) in pairwise(shape):
        for step in range(1, 7):
            share = step / 6
            soft = share * share * (3 - 2 * share)
            found.append((x1 + (x2 - x1) * share, y1 + (y2 - y1) * soft))
    return found
