"""What was understood of a probe file."""

from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray

LOCAL = "local"
ELAPSED = "elapsed"


@dataclass(frozen=True)
class ReadOptions:
    """What the cook says where the file leaves it open.

    Attributes
    ----------
    day_first
        Whether 4/11 is the fourth of November; None leaves it to the file.
    timezone
        IANA name of the zone of local times; None keeps them as written.
    unit
        degC, degF or K of what names no unit; an empty text leaves it to its range.
    counted
        "s", "min" or "h" of times counted from the start in a unit that is not named; an empty
        text leaves it to their pace.
    """

    day_first: bool | None = None
    timezone: str | None = None
    unit: str = ""
    counted: str = ""


@dataclass(frozen=True)
class Note:
    """Something the cook should know of the file."""

    kind: str
    text: str


@dataclass(frozen=True)
class Rejected:
    """A row that nobody can read; `line` counts from 1."""

    line: int
    reason: str


UNIT_WORDS = {"degC": "°C", "degF": "°F", "K": "K", "unknown": "not said"}


@dataclass(frozen=True, eq=False)
class Channel:
    """One probe's readings.

    Attributes
    ----------
    times_s
        Seconds since 1970 UTC; for a local file since 1970 of the clock as written; for an
        elapsed file since its start. float64, shape (n,), in the file's order.
    values_c
        °C, float64, shape (n,).
    missing
        Rows that hold a blank, a marker or a sentinel instead.
    """

    name: str
    unit_in_file: str
    times_s: NDArray[np.float64]
    values_c: NDArray[np.float64]
    missing: int
    zone: str

    @property
    def unit_words(self) -> str:
        """The unit in the file as a cook reads it."""
        return UNIT_WORDS.get(self.unit_in_file, self.unit_in_file)

    @property
    def count(self) -> int:
        """How many readings have a value."""
        return int(self.values_c.size)

    def _edge(self, place: int) -> float | None:
        return float(self.times_s[place]) if self.count else None

    def _iso(self, place: int) -> str | None:
        seconds = self._edge(place)
        if seconds is None or self.zone == ELAPSED:
            return None
        moment = datetime.fromtimestamp(seconds, UTC)
        return (moment.replace(tzinfo=None) if self.zone == LOCAL else moment).isoformat()

    @property
    def start(self) -> str | None:
        """The first reading's time, ISO 8601; None for an elapsed file."""
        return self._iso(0)

    @property
    def end(self) -> str | None:
        """The last reading's time, ISO 8601; None for an elapsed file."""
        return self._iso(-1)

    @property
    def start_s(self) -> float | None:
        """The first reading's seconds in an elapsed file, else None."""
        return self._edge(0) if self.zone == ELAPSED else None

    @property
    def end_s(self) -> float | None:
        """The last reading's seconds in an elapsed file, else None."""
        return self._edge(-1) if self.zone == ELAPSED else None

    @property
    def interval_s(self) -> float | None:
        """The median spacing of the readings, s."""
        return float(np.median(np.diff(self.times_s))) if self.count > 1 else None

    @property
    def min_c(self) -> float | None:
        """The lowest reading, °C."""
        return float(self.values_c.min()) if self.count else None

    @property
    def max_c(self) -> float | None:
        """The highest reading, °C."""
        return float(self.values_c.max()) if self.count else None

    def as_json(self) -> dict[str, Any]:
        """Return the documented keys of a channel."""
        return {
            "name": self.name,
            "unit_in_file": self.unit_in_file,
            "count": self.count,
            "missing": self.missing,
            "start": self.start,
            "end": self.end,
            "start_s": self.start_s,
            "end_s": self.end_s,
            "interval_s": self.interval_s,
            "min_degC": None if self.min_c is None else round(self.min_c, 2),
            "max_degC": None if self.max_c is None else round(self.max_c, 2),
        }


@dataclass(frozen=True, eq=False)
class ProbeLog:
    """A file as it was understood.

    `read_as` are the options that read it so, with what was guessed: a file that goes on is
    read on by them.
    """

    file: str
    encoding: str
    rows_read: int
    rows_skipped: int
    timezone: str
    channels: tuple[Channel, ...]
    notes: tuple[Note, ...] = ()
    rejected: tuple[Rejected, ...] = ()
    first_rows: tuple[tuple[str, ...], ...] = ()
    read_as: ReadOptions = ReadOptions()

    def as_json(self) -> dict[str, Any]:
        """Return the documented keys of `pitjournal inspect --json`."""
        return {
            "file": self.file,
            "encoding": self.encoding,
            "rows_read": self.rows_read,
            "rows_skipped": self.rows_skipped,
            "timezone": self.timezone,
            "channels": [channel.as_json() for channel in self.channels],
            "notes": [asdict(note) for note in self.notes],
            "rejected": [asdict(row) for row in self.rejected],
        }

    def as_kept(self) -> dict[str, Any]:
        """Return what is kept with a file: the documented keys, and how it was read."""
        return self.as_json() | {"read_as": asdict(self.read_as)}
