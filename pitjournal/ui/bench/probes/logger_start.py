"""When a logger was started whose file shows a clock and no day."""

from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.probe_log import ProbeLog
from pitjournal.files.probe_log.times.stamps import read_time_of_day

FAST = timedelta(minutes=10)
"""A logger's clock may run so far ahead of ours."""


def logger_start(log: ProbeLog, whole: WholeCook, now: datetime) -> datetime | None:
    """Return the moment of the first row by its clock; None where the file shows none.

    Of a cook that is not done it is the last such time with which the log ends by now; of one
    that is, the nearest to when its meat went on.
    """
    clock = _first_clock(log)
    if clock is None:
        return None
    length = timedelta(seconds=max((c.end_s or 0.0 for c in log.channels), default=0.0))
    on = whole.first(EventKind.ON) or whole.first(EventKind.LIT)
    meant = on.happened_at if on is not None and on.happened_at is not None else None
    if whole.cook.status is CookStatus.DONE:
        near = meant or whole.cook.starts_at
        return min(_days(clock, near, whole.cook.zone), key=lambda at: abs(at - near))
    by_now = [at for at in _days(clock, now, whole.cook.zone) if at + length <= now + FAST]
    return max(by_now, default=None)


def _first_clock(log: ProbeLog) -> float | None:
    """Return the first row's time of day, s after midnight."""
    if log.timezone != "elapsed" or not any(note.kind == "no_date" for note in log.notes):
        return None
    cells = log.first_rows[0] if log.first_rows else ()
    return next((found for cell in cells if (found := read_time_of_day(cell)) is not None), None)


def _days(clock: float, near: datetime, zone: str) -> Iterator[datetime]:
    """Yield a time of day on the days about a moment."""
    day = near.astimezone(time_zone(zone)).date()
    for days in range(-4, 2):
        local = datetime.combine(day + timedelta(days=days), time.min) + timedelta(seconds=clock)
        yield local.replace(tzinfo=time_zone(zone)).astimezone(UTC)
