"""Damage to good files, and what may be read of them afterwards.

Every pair of a time and a temperature that is kept must be one of the good file. A reading may
differ only in a row that was damaged itself: a changed digit in a cell is a reading like any
other. What the file says of all its rows at once can be damaged too: then it must be said.
"""

import bisect
import random
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from pitjournal.errors import JournalError
from pitjournal.files.probe_log import ProbeLog, ReadOptions, read_probe_log
from pitjournal.files.probe_log.moments import timed
from pitjournal.files.probe_log.opening import opened
from pitjournal.files.probe_log.reader import _rows
from pitjournal.files.probe_log.row_dates import Beside
from tests.files.probe_log.corpus import CORPUS

KINDS = (
    "cut",
    "behead",
    "take out",
    "repeat",
    "move",
    "change a byte",
    "change bytes",
    "change digits",
    "put in",
)
_SAMPLES = Path(__file__).parent / "samples"
_NEAR = 0.006


@dataclass(frozen=True)
class Good:
    """A good file and what stands in it."""

    name: str
    data: bytes
    log: ProbeLog
    pairs: dict[str, dict[float, set[float]]]
    times: dict[int, set[float]]
    every: frozenset[float]
    header: int
    lines: tuple[int, ...]
    restated: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Damaged:
    """A mutation: its bytes, and the places of the good file's bytes that it touched."""

    kind: str
    data: bytes
    touched: tuple[int, ...]


def good_files() -> list[Good]:
    """Return files of text to damage."""
    found = [_good(path.name, path.read_bytes()) for path in sorted(_SAMPLES.glob("sample_*"))]
    found += [
        _good(dialect.name, dialect.data)
        for dialect in CORPUS
        if not dialect.data.startswith(b"PK") and not dialect.lost
    ]
    return found


def _good(name: str, data: bytes) -> Good:
    log = read_probe_log(data, name)
    pairs: dict[str, dict[float, set[float]]] = {}
    for channel in log.channels:
        by_time = pairs.setdefault(channel.name, {})
        for time, value in zip(channel.times_s.tolist(), channel.values_c.tolist(), strict=True):
            by_time.setdefault(round(time, 3), set()).add(value)
    times, restated = _by_line(name, data)
    first = min(times)
    starts = [0, *(place + 1 for place, byte in enumerate(data) if byte == 10)]
    header = starts[min(first - 1, len(starts) - 1)]
    every = frozenset(time for there in times.values() for time in there)
    return Good(
        name,
        data,
        log,
        pairs,
        times,
        every,
        header,
        tuple(starts),
        tuple((starts[line - 1], [*starts, len(data)][line]) for line in restated),
    )


def _by_line(name: str, data: bytes) -> tuple[dict[int, set[float]], list[int]]:
    """Return the times of the rows on each line, from 1, and lines that restate heads or units."""
    file = opened(data, name)
    read = _rows(file, bulk=False)
    body = read.body
    context = [*file.table.context, *file.layout.above]
    beside = Beside(name, context, np.array([], dtype=np.int64))
    found: dict[int, set[float]] = {}
    seconds = timed(body, file.layout, beside, ReadOptions()).seconds
    for place, time in zip(body.places.tolist(), seconds.tolist(), strict=True):
        found.setdefault(file.table.line(place), set()).add(round(time, 3))
    restated = [file.table.line(part.place) for part in read.sections if part.place >= 0]
    return found, restated


def damaged(good: Good, chance: random.Random) -> Damaged:
    """Return the file with some damage."""
    kind = chance.choice(KINDS)
    data, size = good.data, len(good.data)
    low, high = sorted(chance.sample(range(size + 1), 2))
    if kind == "cut":
        return Damaged(kind, data[:high], (high,))
    if kind == "behead":
        return Damaged(kind, data[low:], (low,))
    if kind == "take out":
        return Damaged(kind, data[:low] + data[high:], (low, high))
    at = chance.randrange(size)
    if kind == "repeat":
        return Damaged(kind, data[:at] + data[low:high] + data[at:], (at, low, high))
    if kind == "move":
        rest = data[:low] + data[high:]
        at = min(at, len(rest))
        there = at if at <= low else at + high - low
        return Damaged(kind, rest[:at] + data[low:high] + rest[at:], (low, high, there))
    return _bytes_changed(kind, data, chance)


def _bytes_changed(kind: str, data: bytes, chance: random.Random) -> Damaged:
    size = len(data)
    count = 1 if kind == "change a byte" else chance.randint(2, 6)
    places = tuple(chance.randrange(size) for _ in range(count))
    found = bytearray(data)
    if kind == "change digits":
        digits = [place for place, byte in enumerate(data) if 48 <= byte < 58]
        places = tuple(chance.sample(digits, min(count, len(digits))))
        for place in places:
            found[place] = chance.randrange(48, 58)
        return Damaged(kind, bytes(found), places)
    if kind == "put in":
        for place in sorted(places, reverse=True):
            found[place:place] = bytes([chance.randrange(256)])
        return Damaged(kind, bytes(found), places)
    for place in places:
        byte = found[place]
        found[place] = chance.choice(
            (chance.randrange(256), byte ^ (1 << chance.randrange(8)), chance.randrange(48, 58))
        )
    return Damaged(kind, bytes(found), places)


def judged(good: Good, harm: Damaged) -> tuple[str, str]:
    """Return what came of reading damaged bytes, and words on it.

    The first is "refused", "right", "said" (the file's date, unit or order had to be guessed,
    and a note says so), "told" (heads or preamble were damaged: what they say of all rows is
    read as it now stands), "joined" (two rows that are one now, alike in form to any other) or
    "wrong".
    """
    try:
        log = read_probe_log(harm.data, good.name, ReadOptions())
    except JournalError as error:
        return ("refused", "") if "\n" not in str(error) else ("wrong", "more than one line")
    near = _times_near(good, harm)
    faults = [
        fault
        for channel in log.channels
        for fault in _faults(good, channel.name, channel.times_s, channel.values_c, near)
    ]
    if not faults:
        return "right", ""
    words = f"{len(faults)}: {faults[0]}"
    low, high = min(harm.touched), max(harm.touched)
    if low <= good.header or any(low < end and begin <= high for begin, end in good.restated):
        return "told", words
    kinds = {note.kind for note in log.notes}
    if kinds & {"unit_guessed", "ambiguous_date", "date_from_preamble", "no_date", "no_year"}:
        return "said", words
    return "wrong", words


def _times_near(good: Good, harm: Damaged) -> set[float]:
    """Return the good times of rows that were touched: their readings may differ."""
    if len(good.lines) < len(good.times):  # all in one line
        return set(good.every)
    found: set[float] = set()
    for place in harm.touched:
        line = bisect.bisect_right(good.lines, place)
        for number in (line - 1, line, line + 1):
            # A record may go on over several lines.
            found |= good.times.get(max((n for n in good.times if n <= number), default=0), set())
    return found


def _faults(
    good: Good,
    name: str,
    times: np.ndarray,
    values: np.ndarray,
    near: set[float],
) -> list[str]:
    known = good.pairs.get(name)
    found = []
    for time, value in zip(np.round(times, 3).tolist(), values.tolist(), strict=True):
        there = known.get(time) if known is not None else None
        if there is None:
            there = {v for pairs in good.pairs.values() for v in pairs.get(time, ())}
        if any(abs(value - other) < _NEAR for other in there):
            continue
        if time in near:
            continue
        found.append(f"{name} {value:.2f} at {time}, not {sorted(there)[:3]}")
    return found


def run(count: int, seed: int, files: list[Good] | None = None) -> tuple[Counter[str], list[str]]:
    """Damage files so many times; return how often each came out, and words on what is wrong."""
    chance = random.Random(seed)
    files = files if files is not None else good_files()
    outcomes: Counter[str] = Counter()
    wrong = []
    for number in range(count):
        good = chance.choice(files)
        harm = damaged(good, chance)
        outcome, words = judged(good, harm)
        outcomes[outcome] += 1
        if outcome == "wrong":
            wrong.append(f"{number} {good.name}, {harm.kind} at {harm.touched}: {words}")
    return outcomes, wrong
