"""Read on in a file from where it ended: only what was added is read, beside a few rows known.

The rows that are known prove that the new ones are understood as the file was: where they are
not found again as they were, the file is read whole.
"""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.probe_log import ProbeLog, ReadOptions

if TYPE_CHECKING:
    from pitjournal.journal.following import Read, Stamp

HEAD = 4_000
"""Bytes from the beginning that say what the columns are."""

OVERLAP = 8_000
"""Bytes before the end that are read again."""

PROOF = 8
"""So many readings must be found again as they were."""


def added(path: Path, before: "Read", stamp: "Stamp") -> bytes | None:
    """Return the whole lines that a file has more than before; None where it must be read whole.

    Raises
    ------
    OSError
        If it cannot be read.
    """
    known = sum(len(part) for part in before.parts)
    if before.log is None or known < HEAD + 2 * OVERLAP or stamp.size <= known or _packed(before):
        return None
    if stamp.size - known > strangers.SHORT or before.failed:
        return None
    with path.open("rb", buffering=0) as file:
        begins = file.read(HEAD)
        file.seek(known - OVERLAP)
        overlap = file.read(OVERLAP)
        fresh = file.read(stamp.size - known)
    if begins != before.parts[0][:HEAD] or overlap != tail_of(before.parts, OVERLAP):
        return None
    end = max(fresh.rfind(b"\n"), fresh.rfind(b"\r"))
    return fresh[: end + 1]


def _packed(before: "Read") -> bool:
    """Whether the file is not of plain lines: its end says nothing by itself."""
    return before.parts[0].startswith((b"PK", b"[", b"\xff\xfe", b"\xfe\xff"))


def tail_of(parts: tuple[bytes, ...], size: int) -> bytes:
    """Return the last bytes of parts."""
    found = b""
    for part in reversed(parts):
        found = part[-(size - len(found)) :] + found
        if len(found) >= size:
            break
    return found


def read_tail(
    whole: WholeCook, file: ProbeFile, before: "Read", fresh: bytes
) -> dict[str, Samples] | None:
    """Return the readings with those of the lines that were added; None to read the file whole."""
    from pitjournal.journal.following import samples_of_traces

    head = before.parts[0][:HEAD]
    known = tail_of(before.parts, OVERLAP)
    beginning = head[: head.rfind(b"\n") + 1]
    data = beginning + known[known.find(b"\n") + 1 :] + fresh
    first = ReadOptions(**file.report.get("read_as", {}))
    traces = [trace for trace in whole.traces if trace.id in before.readings]
    assert before.log is not None
    try:
        for day_first in dict.fromkeys((first.day_first, True, False)):
            log = strangers.probe_log(data, file.name, replace(first, day_first=day_first))
            every = samples_of_traces(whole, file, log, traces, silent=True)
            found = _joined(every, before, log)
            if found is not None:
                return found
    except JournalError:
        return None
    return None


def _joined(
    found: list[tuple[Trace, Samples]] | None, before: "Read", log: ProbeLog
) -> dict[str, Samples] | None:
    assert before.log is not None
    if found is None or log.timezone != before.log.timezone:
        return None
    joined = {}
    for trace, samples in found:
        known = before.readings[trace.id]
        more = beyond(known, samples)
        if more is None:
            return None
        joined[trace.id] = Samples(
            np.concatenate([known.times, more.times]), np.concatenate([known.values, more.values])
        )
    return joined if joined.keys() == before.readings.keys() else None


def beyond(known: Samples, found: Samples) -> Samples | None:
    """Return the readings behind the last ones that are known.

    None where these do not stand among the found ones exactly once. A channel that says nothing
    any more has only its first readings among them, and gets no more.

    Parameters
    ----------
    known, found
        In the file's order; shapes (n,) and (m,).
    """
    many = found.times.size
    if not many or (many < known.times.size and _same(found, known, 0, many)):
        return Samples(found.times[:0], found.values[:0])
    last = min(PROOF, known.times.size)
    ends = np.flatnonzero(
        (found.times == known.times[-1])
        & ((found.values == known.values[-1]) | np.isnan(known.values[-1]))
    )
    ends = ends[ends >= last - 1]
    if ends.size != 1:
        return None
    end = int(ends[0]) + 1
    ending = Samples(known.times[-last:], known.values[-last:])
    if not _same(ending, found, end - last, end):
        return None
    return Samples(found.times[end:], found.values[end:])


def _same(one: Samples, other: Samples, start: int, end: int) -> bool:
    """Whether readings are those of a part of others."""
    times, values = other.times[start:end], other.values[start:end]
    return bool(
        np.array_equal(one.times, times) and np.array_equal(one.values, values, equal_nan=True)
    )
