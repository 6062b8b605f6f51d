"""The readings of a thermometer's file as a plain table: a time a row, a channel a column."""

from collections.abc import Iterator, Sequence

import numpy as np

from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Trace
from pitjournal.files.bundle.content import Column

_HELPING = 20_000
"""Rows that are written at a time."""


def columns_of(traces: Sequence[Trace]) -> tuple[Column, ...]:
    """Return the columns: the time, then a channel each under a name of its own."""
    found = [Column("time", "datetime", "of the reading, UTC", needed=True)]
    taken: set[str] = {"time"}
    for trace in traces:
        plain = " ".join(trace.channel.split()) or "channel"
        number, name = 1, f"{plain} °C"
        while name.casefold() in taken:
            number += 1
            name = f"{plain} {number} °C"
        taken.add(name.casefold())
        found.append(Column(name, "number", trace.place or str(trace.sits), "°C"))
    return tuple(found)


def lines_of(heads: Sequence[str], samples: Sequence[Samples]) -> Iterator[bytes]:
    """Give the table as CSV (RFC 4180), times to the millisecond and degrees to a thousandth.

    Parameters
    ----------
    heads
        The names of the columns.
    samples
        The readings of each channel, times s since 1970, values °C; where one has no reading at
        a time its cell is empty.
    """
    yield ",".join(_quoted(head) for head in heads).encode() + b"\r\n"
    if not samples:
        return
    stamps = [np.rint(one.times * 1000.0).astype(np.int64) for one in samples]
    times = np.unique(np.concatenate(stamps))
    places = [np.searchsorted(times, one) for one in stamps]
    for at in range(0, times.size, _HELPING):
        some = times[at : at + _HELPING]
        words = np.datetime_as_string(some.astype("datetime64[ms]"), unit="ms", timezone="UTC")
        cells = [words.tolist()]
        for where, one in zip(places, samples, strict=True):
            column = [""] * some.size
            low, high = np.searchsorted(where, (at, at + some.size))
            values = one.values[low:high].tolist()
            for place, value in zip((where[low:high] - at).tolist(), values, strict=True):
                column[place] = f"{value:.3f}".rstrip("0").rstrip(".") if value == value else ""  # noqa: PLR0124 - no reading
            cells.append(column)
        yield "".join(f"{','.join(row)}\r\n" for row in zip(*cells, strict=True)).encode()


def _quoted(head: str) -> str:
    plain = head.replace('"', '""')
    return f'"{plain}"'
