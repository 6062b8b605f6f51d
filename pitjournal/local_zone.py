"""The zone of this computer's clock, asked without a window."""

import os
from collections.abc import Callable, Iterable
from pathlib import Path

from pitjournal.domain.times.moments import is_zone

PLACES = ("/etc/localtime", "/etc/timezone")
"""Where systems keep it; some, Windows among them, keep it nowhere in a file."""

_also: list[Callable[[], str]] = []


def ask_also(way: Callable[[], str]) -> None:
    """Have another way asked where no file says the zone; the program's start knows one."""
    if way not in _also:
        _also.append(way)


def local_zone(places: Iterable[str] = PLACES) -> str:
    """Return the IANA name of this computer's zone; "UTC" where nothing says it."""
    return next((name for name in _named(places) if name and is_zone(name)), "UTC")


def _named(places: Iterable[str]) -> Iterable[str]:
    yield os.environ.get("TZ", "").lstrip(":")
    for place in places:
        path = Path(place)
        try:
            text = str(path.resolve()) if path.is_symlink() else path.read_text("utf-8")
        except (OSError, ValueError):
            continue
        yield text.rpartition("zoneinfo/")[2].strip()
    for way in _also:
        yield way()
