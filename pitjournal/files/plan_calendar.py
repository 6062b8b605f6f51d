"""A cook's day as a calendar file, for the telephone in the pocket (RFC 5545)."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

LONGEST = 75
"""Octets of a line, its end apart (RFC 5545, 3.1)."""

AHEAD = "-PT5M"
"""How long before a step the calendar rings."""


@dataclass(frozen=True)
class CalendarStep:
    """A step: what stays the same when it is moved, the local time without a zone, the words."""

    uid: str
    at: datetime
    words: str


def to_calendar(title: str, steps: Sequence[CalendarStep], stamp: datetime) -> str:
    """Return the text of an .ics file.

    Times are those of the cooker's clock, wherever the calendar is (3.3.5, form 1), so that a
    step at 08:00 is at 08:00.

    Parameters
    ----------
    title
        The cook, named in each entry.
    steps
        The steps in time order.
    stamp
        When the file is made, aware.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Pitjournal//Plan of a cook//EN"]
    for step in steps:
        lines += _entry(title, step, stamp)
    lines.append("END:VCALENDAR")
    return "".join(f"{part}\r\n" for line in lines for part in _folded(line))


def _entry(title: str, step: CalendarStep, stamp: datetime) -> list[str]:
    words = _text(step.words)
    return [
        "BEGIN:VEVENT",
        f"UID:{step.uid}@pitjournal",
        f"DTSTAMP:{stamp.astimezone(UTC):%Y%m%dT%H%M%SZ}",
        f"DTSTART:{step.at:%Y%m%dT%H%M%S}",
        f"SUMMARY:{words}",
        f"DESCRIPTION:{_text(title)}",
        "TRANSP:TRANSPARENT",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        f"DESCRIPTION:{words}",
        f"TRIGGER:{AHEAD}",
        "END:VALARM",
        "END:VEVENT",
    ]


def _text(words: str) -> str:
    """Return words with what a calendar would take for itself escaped (3.3.11)."""
    for sign in ("\\", ";", ","):
        words = words.replace(sign, f"\\{sign}")
    kept = "\\n".join(words.splitlines())
    return "".join(sign for sign in kept if sign.isprintable())


def _folded(line: str) -> Iterator[str]:
    """Yield a line in parts of 75 octets at most, uncut letters; a space leads all but the first."""
    part, size = "", 0
    for sign in line:
        octets = len(sign.encode())
        if size + octets > LONGEST:
            yield part
            part, size = " ", 1
        part += sign
        size += octets
    yield part
