"""Read a probe file: bytes in, a report out."""

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace

import numpy as np

from pitjournal.domain.times.moments import hours_words
from pitjournal.files.probe_log.asides import is_amount
from pitjournal.files.probe_log.body import joined
from pitjournal.files.probe_log.bulk import MANY_ROWS, read_bulk
from pitjournal.files.probe_log.channels import (
    Readings,
    channels_of,
    impossible,
    in_celsius,
    rare_names,
    units_of,
)
from pitjournal.files.probe_log.moments import COUNTED_IN, is_newest_first, timed
from pitjournal.files.probe_log.opening import Opened, opened
from pitjournal.files.probe_log.report import (
    Channel,
    Note,
    ProbeLog,
    ReadOptions,
    Rejected,
)
from pitjournal.files.probe_log.row_dates import Beside
from pitjournal.files.probe_log.rows import RowReader, RowsRead
from pitjournal.files.probe_log.tables.decode import not_a_log
from pitjournal.files.probe_log.tables.table import TextTable

_HOUR, _HALF_A_DAY = 3600.0, 43_200.0
_FEW = 3
_GAP = 900.0
"""Nothing is said of a shorter gap, s."""


def read_probe_log(
    data: bytes, name: str, options: ReadOptions | None = None, *, bulk: bool | None = None
) -> ProbeLog:
    """Read a logger's file.

    Parameters
    ----------
    data
        The file's bytes.
    name
        Its name, for the report and the words.
    options
        What the cook says where the file leaves it open.
    bulk
        Whether rows that look alike are read together; None where they are many. The result
        is the same.

    Raises
    ------
    JournalError
        If it is no temperature log; one line that says why.
    """
    file = opened(data, name)
    read = _rows(file, bulk=bulk)
    if read.body.count < 2:
        raise not_a_log(name, "fewer than two rows can be read")
    return _Reading(file, read, name, options or ReadOptions()).report()


def _rows(file: Opened, *, bulk: bool | None) -> RowsRead:
    """Read what looks alike in bulk and the rest row by row."""
    table, layout = file.table, file.layout
    body = None
    if bulk is not False and isinstance(table, TextTable):
        body = read_bulk(table, layout, 1 if bulk else MANY_ROWS)
    left = np.ones(len(table), dtype=np.bool_)
    if not (layout.shorter or layout.longer):
        left[: layout.heads_at + 1] = False
    if body is not None:
        left[body.places] = False
    last = int(body.places[-1]) if body is not None else -1
    read = RowReader(table, layout).read(np.flatnonzero(left).tolist(), last)
    if body is not None:
        read.body = joined(body, read.body)
    return read


@dataclass
class _Reading:
    """From rows to a report."""

    file: Opened
    read: RowsRead
    name: str
    options: ReadOptions

    def report(self) -> ProbeLog:
        """Return what was understood."""
        table, layout = self.file.table, self.file.layout
        body, notes = self.read.body, {}
        if is_newest_first(body):
            body = body.only(np.arange(body.count)[::-1])
            notes["newest_first"] = "The newest row comes first in the file; read from the last."
        context = [*table.context, *layout.above]
        lost = sorted(row.line - 1 for row in self.read.rejected)
        beside = Beside(self.name, context, np.array(lost, dtype=np.int64))
        times = timed(body, layout, beside, self.options)
        refused = times.refused | rare_names(body)
        units = units_of(body, layout, self.read.sections, self.options.unit)
        values = in_celsius(body, units.codes)
        refused = impossible(values, body.values) | refused
        rejected = [
            *self.read.rejected,
            *(Rejected(row.line, row.reason) for row in table.unread),
            *(Rejected(table.line(int(body.places[row])), why) for row, why in refused.items()),
        ]
        if len(rejected) > 1.5 * (body.count - len(refused)):
            raise not_a_log(self.name, "more of its rows cannot be read than can")
        if len(refused) > body.count - 2:
            raise not_a_log(self.name, "its times do not follow one another")
        readings = Readings(body, times.seconds, values, units.codes).without(list(refused))
        channels = channels_of(readings, layout, self.read.sections, times.zone)
        if not channels:
            raise not_a_log(self.name, "it holds no temperatures")
        if "unit_guessed" in units.notes and _spacing(channels) >= _HOUR:
            raise not_a_log(
                self.name, "it names no temperatures, and an hour lies between its rows"
            )
        if _spacing(channels) >= _HALF_A_DAY or _stands_still(channels):
            raise not_a_log(self.name, "its rows are not a few minutes apart, as a probe's are")
        notes |= times.notes | units.notes | self._notes(channels)
        return ProbeLog(
            file=self.name,
            encoding=self.file.encoding,
            rows_read=readings.body.count,
            rows_skipped=len(rejected),
            timezone=times.zone,
            channels=channels,
            notes=tuple(Note(kind, text) for kind, text in notes.items()),
            rejected=tuple(sorted(rejected, key=lambda row: row.line)),
            first_rows=tuple(table.cells(int(place)) for place in readings.body.places[:8]),
            read_as=self._read_as(notes.keys(), channels),
        )

    def _read_as(self, notes: Container[str], channels: Sequence[Channel]) -> ReadOptions:
        """Return the options with what was guessed."""
        found = self.options
        units = {channel.unit_in_file for channel in channels}
        if "unit_guessed" in notes and len(units) == 1:
            found = replace(found, unit=units.pop())
        if "elapsed_guessed" in notes:
            factor = self.file.layout.clock.factor
            counted = (unit for unit, (each, _) in COUNTED_IN.items() if each == factor)
            found = replace(found, counted=next(counted, ""))
        return found

    def _notes(self, channels: Sequence[Channel]) -> dict[str, str]:
        notes = {}
        layout = self.file.layout
        amounts = [layout.heads[p] for p in layout.readings if is_amount(layout.heads[p])]
        if amounts:
            said = "its rows give their unit as one of temperatures"
            notes["column_taken"] = f"“{amounts[0][:20]}” is read as temperatures, since {said}."
        if self.read.left:
            said = ", ".join(f"“{word[:20]}” (line {line})" for line, word in self.read.left[:3])
            more = len(self.read.left) - 3
            said += f" and {more} more" if more > 0 else ""
            notes["word_left"] = (
                f"{said} stands where a reading does; the readings of its row are kept."
            )
        if self.read.marks:
            words = ", ".join(f"“{mark[:20]}”" for mark in self.read.marks[:4])
            notes["mark_assumed"] = f"{words} stands for no reading."
        longest = max((_longest_gap(channel) for channel in channels), default=0.0)
        if longest:
            notes["gap"] = f"The longest gap between readings is {hours_words(longest)}."
        return notes


def _spacing(channels: Sequence[Channel]) -> float:
    """Return the shortest usual time between a channel's readings, s; 0 where there is none."""
    spacings = [spacing for channel in channels if (spacing := channel.interval_s) is not None]
    return min(spacings, default=0.0)


def _stands_still(channels: Sequence[Channel]) -> bool:
    """Whether each channel has all its readings at one or two times."""
    return all(
        channel.count > _FEW and np.unique(channel.times_s).size < _FEW for channel in channels
    )


def _longest_gap(channel: Channel) -> float:
    """Return the longest time without a reading, s, if it is over 15 minutes and unusual."""
    steps = np.diff(channel.times_s)
    longest = float(steps.max()) if steps.size else 0.0
    unusual = longest > _GAP and longest > 4.0 * float(np.median(steps))
    return longest if unusual else 0.0
