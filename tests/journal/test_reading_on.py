"""Reading on from where a file ended gives what reading it whole gives, and reads little."""

import os
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from pitjournal.files import strangers
from pitjournal.files.probe_log import ProbeLog, ReadOptions
from pitjournal.journal import reading_on
from pitjournal.journal.following import Read, _read, keep_grown
from tests.builders import NOON
from tests.journal.test_following import NOW, Bench

ROWS = 1200


def utc(row: int) -> str:
    return (NOON + timedelta(seconds=20 * row)).strftime("%Y-%m-%dT%H:%M:%SZ")


def american(row: int) -> str:
    return (NOON + timedelta(seconds=20 * row)).strftime("%m/%d/%Y %I:%M:%S %p")


def day_first(row: int) -> str:
    return (NOON + timedelta(seconds=20 * row)).strftime("%d/%m/%Y %H:%M:%S")


def clock_only(row: int) -> str:
    return (NOON + timedelta(hours=9, seconds=20 * row)).strftime("%H:%M:%S")


def minutes_only(row: int) -> str:
    return (NOON + timedelta(seconds=20 * row)).strftime("%Y-%m-%d %H:%M")


def epoch(row: int) -> str:
    return str(int(NOON.timestamp()) + 20 * row)


def a_file(stamp: Callable[[int], str], rows: int, *, silent_from: int = ROWS) -> str:
    """Return a pit and a meat that rises; the meat's probe says nothing from a row on."""
    lines = ["time,pit (F),meat (F)"]
    for row in range(rows):
        meat = f"{40 + row / 10:.1f}" if row < silent_from else ""
        lines.append(f"{stamp(row)},{250 + row % 7}.0,{meat}")
    return "\n".join(lines) + "\n"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    made = Bench(tmp_path)
    yield made
    made.journal.close()


@pytest.fixture
def sizes(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Return the bytes that each reading was given."""
    found: list[int] = []
    read = strangers.probe_log

    def counted(data: bytes, name: str, options: ReadOptions | None = None) -> ProbeLog:
        found.append(len(data))
        return read(data, name, options)

    monkeypatch.setattr(strangers, "probe_log", counted)
    return found


def as_whole(bench: Bench, read: Read) -> bool:
    """Whether what was read is what the whole file says."""
    _, whole = _read(bench.journal.whole(bench.cook_id), bench.file, read.data)
    assert whole.keys() == read.readings.keys()
    return all(
        np.array_equal(whole[name].times, samples.times)
        and np.array_equal(whole[name].values, samples.values)
        for name, samples in read.readings.items()
    )


@pytest.mark.parametrize("stamp", [utc, american, day_first, epoch])
def test_that_only_what_was_added_is_read(
    bench: Bench, sizes: list[int], stamp: Callable[[int], str]
) -> None:
    bench.keep(a_file(stamp, 900), options=ReadOptions(day_first=stamp is day_first))
    bench.look()
    sizes.clear()
    for rows in range(903, 960, 3):
        bench.path.write_text(a_file(stamp, rows), encoding="utf-8")
        assert {s.times.size for s in bench.look().readings.values()} == {rows}
    assert max(sizes) < reading_on.HEAD + reading_on.OVERLAP + 400
    assert as_whole(bench, bench.read)


@pytest.mark.parametrize("stamp", [utc, american, clock_only, minutes_only, epoch])
@pytest.mark.parametrize("silent_from", [ROWS, 500])
def test_that_reading_on_ends_where_reading_whole_does(
    bench: Bench, stamp: Callable[[int], str], silent_from: int
) -> None:
    started = NOON + timedelta(hours=9) if stamp is clock_only else None
    bench.keep(a_file(stamp, 450, silent_from=silent_from), started_at=started)
    for rows in (500, 640, 641, 700, 1000, ROWS):
        text = a_file(stamp, rows, silent_from=silent_from)
        bench.path.write_text(text, encoding="utf-8")
        assert not bench.look().problem
        assert as_whole(bench, bench.read)


def test_that_a_file_that_was_written_anew_is_read_whole(bench: Bench, sizes: list[int]) -> None:
    bench.keep(a_file(utc, 900))
    bench.look()
    sizes.clear()
    changed = a_file(utc, 910).replace("250.0", "260.0")
    bench.path.write_text(changed, encoding="utf-8")
    bench.look()
    assert sizes == [len(changed)]
    assert as_whole(bench, bench.read)


def test_that_a_line_still_being_written_waits(bench: Bench) -> None:
    bench.keep(a_file(utc, 900))
    bench.look()
    whole = a_file(utc, 902)
    bench.path.write_text(whole[:-5], encoding="utf-8")
    assert {s.times.size for s in bench.look().readings.values()} == {901}
    bench.path.write_text(whole, encoding="utf-8")
    assert {s.times.size for s in bench.look().readings.values()} == {902}
    assert as_whole(bench, bench.read)


def test_that_what_was_read_in_parts_is_kept_as_the_whole_file(bench: Bench) -> None:
    bench.keep(a_file(utc, 900))
    bench.look()
    for rows in (905, 920):
        bench.path.write_text(a_file(utc, rows), encoding="utf-8")
        bench.look()
    assert len(bench.read.parts) == 3
    whole = bench.journal.whole(bench.cook_id)
    command = keep_grown(bench.journal, whole, bench.file, bench.read)
    assert command is not None
    bench.journal.do(command)
    assert bench.journal.files.read(bench.file.attachment) == bench.path.read_bytes()
    assert bench.file.report["rows_read"] == 920


def test_that_a_rested_file_is_told_by_when_it_changed_last(bench: Bench) -> None:
    bench.keep(a_file(utc, 900))
    long_ago = NOW - timedelta(hours=2)
    os.utime(bench.path, (long_ago.timestamp(), long_ago.timestamp()))
    read = bench.look()
    assert read.grew_at == long_ago
    assert read.is_silent(NOW)


def test_that_the_end_of_parts_is_as_long_as_asked_and_no_longer() -> None:
    """A part that fills it to the byte is enough: what lies before would be taken whole."""
    assert reading_on.tail_of((b"abc", b"def"), 3) == b"def"
    assert reading_on.tail_of((b"abc", b"def"), 4) == b"cdef"
    assert reading_on.tail_of((b"abc", b"def"), 9) == b"abcdef"
