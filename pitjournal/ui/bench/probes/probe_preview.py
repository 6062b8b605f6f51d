"""What the preview of a probe file shows, worked out by the worker: its lines and its words."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from pitjournal.domain.times import moments
from pitjournal.domain.times.moments import stamp_words
from pitjournal.domain.trace import Sits
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files import strangers
from pitjournal.files.probe_log import ProbeLog, ReadOptions
from pitjournal.files.probe_log.report import Channel
from pitjournal.ui.bench.places import LEAVE_OUT
from pitjournal.ui.charts.trace.lines import Line
from pitjournal.ui.charts.trace.min_max_pyramid import Pyramid
from pitjournal.units import Dimension, UnitSystem, show, to_display
from pitjournal.units.figures import figure


@dataclass(frozen=True, eq=False)
class Preview:
    """A file as it was understood.

    Attributes
    ----------
    log
        What was read.
    options
        What the cook had said of it by then.
    lines
        Its channels that have readings, ready to be drawn; the key is a channel's place.
    """

    log: ProbeLog
    options: ReadOptions
    lines: tuple[Line, ...]


def read_preview(
    data: bytes,
    name: str,
    options: ReadOptions,
    system: UnitSystem,
    stop: Callable[[], object] | None = None,
) -> Preview:
    """Read a file, and make ready what its preview draws; for the worker where it is long.

    Raises
    ------
    JournalError
        If it is no log of temperatures; one line that says why.
    """
    return preview_of(strangers.probe_log(data, name, options, stop), options, system, stop)


def preview_of(
    log: ProbeLog,
    options: ReadOptions,
    system: UnitSystem,
    stop: Callable[[], object] | None = None,
) -> Preview:
    """Return the preview of a log that was read."""
    lines = []
    for place, channel in enumerate(log.channels):
        if stop is not None:
            stop()
        if channel.count:
            lines.append(_line(place, channel, system))
    return Preview(log, options, tuple(lines))


def _line(place: int, channel: Channel, system: UnitSystem) -> Line:
    order = channel.times_s.argsort(kind="stable")
    times = channel.times_s[order]
    values = to_display(channel.values_c[order], Dimension.TEMPERATURE, system)
    pyramid = Pyramid(times, values)
    return Line(str(place), channel.name, pyramid.times, pyramid.values, pyramid=pyramid)


PIT_WORDS = ("pit", "grate", "grill", "chamber", "cooker", "ambient", "smoker")


MEAT = re.compile(r"\b(?:meat|food|probe|piece|channel|ch|sensor)(?:\b|[\s_#-]*\d)", re.IGNORECASE)


def guess_places(channels: Sequence[Channel], whole: WholeCook | None) -> list[object]:
    """Return a first guess of where each channel sat, by its name; the cook decides."""
    left = list(whole.pieces) if whole else []
    found: list[object] = []
    for channel in channels:
        name = channel.name.casefold()
        if any(word in name for word in PIT_WORDS) and Sits.PIT not in found:
            found.append(Sits.PIT)
            continue
        named = next((p for p in left if p.label.casefold() in name.split()), None)
        if named is None:
            named = next((p for p in left if p.label.casefold() in name), None)
        if named is not None:
            left.remove(named)
        found.append(named.id if named else LEAVE_OUT)
    for place, channel in enumerate(channels):  # what is named like a meat's: pieces in order
        if found[place] == LEAVE_OUT and left and channel.count and MEAT.search(channel.name):
            found[place] = left.pop(0).id
    if all(where == LEAVE_OUT for where in found) and len(channels) == 1:
        found[0] = Sits.PIT
    return found


def clock_words(log: ProbeLog) -> str:
    """Say how the file tells the time."""
    if log.timezone == "local":
        return "Times as the logger's clock showed them, read in the cook's zone."
    if log.timezone == "elapsed":
        return "Times count from the start of the logger."
    return f"Times in {log.timezone}."


def cells_of(channel: Channel, system: UnitSystem) -> tuple[str, ...]:
    """Return a channel's name, unit, readings, times and range."""
    missing = f", {channel.missing} missing" if channel.missing else ""
    return (
        channel.name,
        channel.unit_words,
        f"{channel.count}{missing}",
        _times(channel),
        _range(channel, system),
    )


def _times(channel: Channel) -> str:
    if channel.start is None or channel.end is None:
        seconds = channel.end_s
        return "" if seconds is None else f"0 – {figure(seconds / 3600, 1)} h"
    start = datetime.fromisoformat(channel.start)
    end = datetime.fromisoformat(channel.end)
    if start.tzinfo is not None:
        start, end = start.astimezone(UTC), end.astimezone(UTC)
    until = moments.clock_words(end) if end.date() == start.date() else stamp_words(end)
    return f"{stamp_words(start)} – {until}"


def _range(channel: Channel, system: UnitSystem) -> str:
    low = show(channel.min_c, Dimension.TEMPERATURE, system, with_unit=False)
    high = show(channel.max_c, Dimension.TEMPERATURE, system)
    return f"{low} – {high}" if channel.count else ""


def rejected_words(log: ProbeLog) -> list[str]:
    """Return the rows that were left out, the first ones each with its reason."""
    if not log.rejected:
        return []
    lines = [f"line {row_.line}: {row_.reason}" for row_ in log.rejected[:6]]
    more = len(log.rejected) - 6
    return ["Left out: " + "; ".join(lines) + (f"; and {more} more" if more > 0 else "")]
