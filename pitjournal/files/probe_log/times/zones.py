"""Local times of a named zone to UTC, over the hours that are missing or come twice."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

import numpy as np
from numpy.typing import NDArray

from pitjournal.errors import JournalError

Floats = NDArray[np.float64]

_BIN = 900.0
"""Clocks change on a whole quarter of an hour, s."""
_START = datetime(1970, 1, 1, tzinfo=UTC)


def zoned(seconds: Floats, name: str) -> tuple[Floats, str]:
    """Return UTC seconds of a clock that showed local times, and words on what was odd.

    Rows of an hour that comes twice are the first one until the clock goes back. A clock that
    shows an hour that was left out, or runs through one that comes twice without showing it
    again, was not changed: then all its times have the offset of the first.

    Parameters
    ----------
    seconds
        Seconds since 1970 of the clock as written, NaN where there is no time, shape (n,).
    name
        IANA name of the zone.
    """
    try:
        zone = ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise JournalError(
            f"“{name}” is no time zone.", "Name one such as America/Chicago."
        ) from None
    known = np.flatnonzero(~np.isnan(seconds))
    wall = seconds[known]
    if not wall.size:
        return seconds, ""
    bins, place = np.unique(np.floor(wall / _BIN), return_inverse=True)
    offsets = np.array([_offsets(float(number) * _BIN, zone) for number in bins.tolist()])
    early, late = offsets[place, 0], offsets[place, 1]
    found = seconds.copy()
    if _is_unchanged(wall, early, late):
        found[known] = wall - early[0]
        return found, (
            "The logger's clock was not changed to or from summer time; "
            "all its times have the offset of the first."
        )
    found[known] = wall - np.where(_is_second(wall, early, late), late, early)
    return found, ""


def _offsets(moment: float, zone: ZoneInfo) -> tuple[float, float]:
    """Return the offsets of a local time read as the first and as the second of its kind, s."""
    local = (_START + timedelta(seconds=moment)).replace(tzinfo=zone)
    first, second = local.utcoffset(), local.replace(fold=1).utcoffset()
    assert first is not None
    assert second is not None
    return first.total_seconds(), second.total_seconds()


def _is_unchanged(wall: Floats, early: Floats, late: Floats) -> bool:
    left_out = early < late
    if left_out.any():
        return True
    twice = np.flatnonzero(early > late)
    if not twice.size or twice[0] == 0 or twice[-1] == wall.size - 1:
        return False
    across = np.diff(wall[twice[0] - 1 : twice[-1] + 2])
    return bool((across >= 0).all() and across.max() <= 900.0)


def _is_second(wall: Floats, early: Floats, late: Floats) -> NDArray[np.bool_]:
    """Return which rows of an hour that comes twice are of its second time."""
    twice = early > late
    back = np.concatenate(([False], np.diff(wall) < 0))
    went_back = np.cumsum(back & twice) > 0
    if twice[0] and not (back & twice).any() and not twice.all():
        return twice
    return twice & went_back
