"""What was felt of a piece, as bounds along an axis: the one reading that everything shares."""

from collections.abc import Callable

from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.times import leeway as science

JUST_OFF = 60.0
"""A check so many seconds after coming off is still one at the pit."""

AXES = ("time", "temperature", "hold")


def off_moment(whole: WholeCook, piece: Piece) -> float | None:
    """Return when a piece came off for good, s since 1970."""
    return whole.moment_of(EventKind.OFF, piece, last=True)


def _as_felt(feel: int) -> int:
    return feel


def window_of(
    whole: WholeCook, piece: Piece, axis: str, reads: Callable[[int], int] = _as_felt
) -> science.Window | None:
    """Return a piece's bounds on an axis, or None where nothing was felt there.

    Parameters
    ----------
    whole, piece
        The cook and its piece.
    axis
        One of `AXES`: s since 1970 at the pit, °C inside, or s since it came off.
    reads
        What a feel counts as on the scale of 1 to 7, where another target than right is asked for.
    """
    checks = [check for check in whole.checks_of(piece) if check.feel is not None]
    off = off_moment(whole, piece)
    limit = None if off is None else off + JUST_OFF
    times = [check.at.timestamp() for check in checks]
    feels = [reads(check.feel or 0) for check in checks]
    if axis == "hold":
        if limit is None or not any(time > limit for time in times):
            return None
        seen = science.hold_window(times, feels, limit)
    elif axis == "temperature":
        degrees = [float("nan") if c.internal is None else c.internal for c in checks]
        seen = science.temperature_window(times, degrees, feels, limit)
    else:
        seen = science.time_window(times, feels, limit)
    return seen if seen.checks else None
