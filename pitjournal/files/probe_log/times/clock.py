"""How a row's time is read, once it is known where it stands."""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.files.probe_log.times.stamps import (
    NO_OFFSET,
    Moment,
    has_clock,
    read_elapsed,
    read_number,
    read_stamp,
    read_time_of_day,
)


@dataclass(frozen=True)
class Clock:
    """How a row's time is read.

    Attributes
    ----------
    kind
        "stamp", "utc", "serial", "day" (a time of day) or "elapsed".
    columns
        Where it stands; several cells are joined.
    form
        "stamp", "day", "clock" (h:mm:ss), "number" or "parts" (year, month, day…).
    join
        What stands between joined cells.
    factor, shift
        A number times factor plus shift is seconds.
    digits
        Digits behind a number's point.
    minutes_first
        Whether 12:30 is twelve minutes and thirty seconds.
    dotted
        Whether dates are written 4.3.2026.
    year_first
        Whether 26-03-04 begins with the year.
    year_unsure
        Whether that had to be guessed.
    yearless
        Whether dates have no year.
    carried
        Whether a date stands only in the first row of its day: in the first column, before
        the time of day in the second.
    every
        Seconds from one numbered row to the next, else 0.
    numbered
        Whether an offset is written as hours and minutes, not as Z.
    guessed
        What had to be guessed, in words, or an empty text.
    """

    kind: str
    columns: tuple[int, ...]
    form: str
    join: str = " "
    factor: float = 1.0
    shift: float = 0.0
    digits: int = 0
    minutes_first: bool = False
    dotted: bool = False
    year_first: bool = False
    year_unsure: bool = False
    yearless: bool = False
    carried: bool = False
    every: float = 0.0
    numbered: bool = False
    guessed: str = ""

    def text(self, cells: Sequence[str]) -> str:
        """Return what a row's cells say of its time, as one text."""
        if len(self.columns) == 1:
            return cells[self.columns[0]]
        found = [cells[place] for place in self.columns]
        if self.form == "parts":
            padded = [part.strip().zfill(2) for part in found] + ["00"] * (6 - len(found))
            return "{}-{}-{} {}:{}:{}".format(*padded)
        return self.join.join(found)

    def read(self, cells: Sequence[str]) -> Moment | None:
        """Return what a row says of its time, or None."""
        if self.carried:
            return self._read_carried(*(cells[place] for place in self.columns))
        text = self.text(cells)
        if self.yearless:
            return read_stamp(text, yearless=True)
        if self.form in {"stamp", "parts"}:
            moment = read_stamp(text, year_first=self.year_first)
            return moment if moment is not None and has_clock(text) else None
        if self.form == "number":
            number = read_number(text)
            seconds = None if number is None else number * self.factor + self.shift
            if seconds is not None and self.kind in {"utc", "serial"}:
                seconds = seconds if 6.0e8 < seconds < 4.2e9 else None
        elif self.form == "day":
            seconds = read_time_of_day(text)
        else:
            seconds = read_elapsed(text, minutes_first=self.minutes_first)
        return None if seconds is None else Moment(0, False, seconds, NO_OFFSET)

    def _read_carried(self, day: str, time: str) -> Moment | None:
        """Return a time of day, with its date where one is written."""
        seconds = read_time_of_day(time)
        if seconds is None or not day:
            return None if seconds is None else Moment(0, False, seconds, NO_OFFSET)
        moment = read_stamp(day, year_first=self.year_first)
        if moment is None or has_clock(day):
            return None
        return Moment(moment.date, moment.loose, seconds, NO_OFFSET)
