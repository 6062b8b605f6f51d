"""An invented cook's trace, written in many dialects; what must be read is the trace itself.

No dialect follows any product's format. Each is a mixture of things that loggers do; that
they do is common practice, no source.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

BEGUN = dt.datetime(2026, 3, 14, 21, 50, tzinfo=dt.UTC)
"""On the logger's clock; ten past is after midnight half way."""
EPOCH = 1_773_525_000
"""The same as seconds since 1970: 20,526 days of 86,400 s and 78,600 s."""
STEP = 300
COUNT = 48
NAMES = ("Pit", "Meat")


def pit(row: int) -> float:
    """Return the pit, tenths of °C: a slow wave with a lid opened now and then."""
    return 118.0 + (row * 7 % 23) / 10 - (30.0 if row % 17 == 9 else 0.0)


def meat(row: int) -> float:
    """Return the meat, tenths of °C: from cold up."""
    return round(4.0 + 1.4 * row + (row * 3 % 5) / 10, 1)


def moment(row: int) -> dt.datetime:
    """Return a row's time on the logger's clock."""
    return BEGUN + dt.timedelta(seconds=STEP * row)


def fahrenheit(celsius: float) -> float:
    """Return °F (by definition of the scales)."""
    return celsius * 1.8 + 32.0


@dataclass(frozen=True)
class Dialect:
    """Bytes, and what must be read of them.

    Attributes
    ----------
    zone
        "local", "UTC", "offset" or "elapsed".
    first
        Seconds of the first row (since 1970 of the clock, or since the start).
    missing
        Rows without a reading, by channel.
    lost
        Rows that nobody can read.
    rejected
        Their lines.
    notes
        Kinds of notes that must be there.
    near
        How exact readings are, °C.
    """

    name: str
    data: bytes
    names: tuple[str, ...] = NAMES
    units: tuple[str, ...] = ("degC", "degC")
    zone: str = "local"
    first: float = float(EPOCH)
    missing: tuple[tuple[int, ...], ...] = ((), ())
    lost: tuple[int, ...] = ()
    rejected: tuple[int, ...] = ()
    notes: tuple[str, ...] = ()
    day_first: bool | None = None
    timezone: str | None = None
    near: float = 0.006
    count: int = COUNT
    series: tuple[Callable[[int], float], ...] = field(default=(pit, meat))


def wide(
    stamp: Callable[[int], str] | str = "%Y-%m-%d %H:%M:%S",
    *,
    mark: str = ",",
    head: str | None = "Time,Pit (C),Meat (C)",
    cell: Callable[[float], str] = "{:.1f}".format,
    above: str = "",
    below: str = "",
    end: str = "\n",
    change: Callable[[int, list[str]], Sequence[str]] | None = None,
    celsius: bool = True,
) -> str:
    """Return rows of a time and two readings."""
    lines = [] if head is None else [head.replace(",", mark) if mark != "," else head]
    for row in range(COUNT):
        time = moment(row).strftime(stamp) if isinstance(stamp, str) else stamp(row)
        values = [pit(row), meat(row)]
        cells = [time, *(cell(v if celsius else fahrenheit(v)) for v in values)]
        lines.append(mark.join(change(row, cells) if change else cells))
    text = above + "\n".join(lines) + "\n" + below
    return text.replace("\n", end)


def put(column: int, rows: Sequence[int], text: str) -> Callable[[int, list[str]], Sequence[str]]:
    """Return a change of some rows' cell."""

    def change(row: int, cells: list[str]) -> Sequence[str]:
        if row in rows:
            cells[column] = text
        return cells

    return change


def comma(value: float) -> str:
    """Return a decimal comma."""
    return f"{value:.1f}".replace(".", ",")


def elapsed(row: int) -> str:
    """Return h:mm:ss since the start."""
    seconds = STEP * row
    return f"{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
