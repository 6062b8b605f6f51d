"""Times of day on and off, and how long it was between them."""

import re
from collections.abc import Callable
from datetime import date

from pitjournal.files.old_cooks.words import plain

_DAY = 1440
_TIME = re.compile(r"(?:.*\s)?(\d{1,2})(?:[:.h](\d\d))?(?::(\d\d))?\s*([ap])?\.?m?\.?")


def minute_of(clock: str) -> int | None:
    """Return the minutes since midnight that a cell's time of day says; None without one.

    24:00 is the end of its day (ISO 8601:2004, 4.2.3), and so 1440.
    """
    text = plain(clock).replace(".m.", "m").replace("uhr", "").strip()
    text = {"noon": "12:00", "midnight": "0:00"}.get(text, text)
    found = _TIME.fullmatch(text)
    if not found:
        return None
    hour, minute = int(found[1]), int(found[2] or 0)
    if found[4]:
        hour = hour % 12 + (12 if found[4] == "p" else 0)
    ends = hour == 24 and found[2] is not None and not minute + int(found[3] or 0)
    return 60 * hour + minute if (hour < 24 and minute < 60) or ends else None


def on_to_off(on: str, off: str, day_of: Callable[[str], date | None]) -> tuple[int | None, ...]:
    """Return the minute of the day that meat went on, and the minutes until it came off.

    Where both cells say their days, those count; past midnight where off is before on.
    """
    if on and off:
        on, off = _with_midnight(on), _with_midnight(off)
    begin, end = minute_of(on), minute_of(off)
    if begin is None or end is None:
        return begin, None
    first, last = day_of(on), day_of(off)
    days = (last - first).days if first and last else 0
    passed = end - begin + _DAY * days
    return begin, passed if days > 0 and passed >= 0 else passed % _DAY


def _with_midnight(cell: str) -> str:
    """Return a cell with its time where midnight was left away: a spreadsheet's day alone."""
    return f"{cell} 00:00" if re.fullmatch(r"\d{4}-\d\d-\d\d", cell) else cell
