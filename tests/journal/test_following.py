"""A probe file that its logger still writes: read on, whatever state it is met in."""

import os
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.errors import JournalError
from pitjournal.files.probe_log import ReadOptions, read_probe_log
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.attaching import Placement, attach_probe_log
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.files import FollowFile
from pitjournal.journal.commands.records import Remove
from pitjournal.journal.following import (
    KEEP_EVERY,
    RESTS_AFTER,
    TRIES,
    Read,
    keep_grown,
    overlaid,
    read_on,
    wants_keeping,
    whole_lines,
    with_readings,
)
from tests.builders import NOON, add_comparison

NOW = NOON + timedelta(hours=3)


def text(minutes: int, *, start: datetime = NOON, form: str = "utc") -> str:
    """Write readings of a minute: a pit at 250 °F and a meat that gains 1 °F a minute."""
    lines = ["time,pit (F),meat (F)"]
    for minute in range(minutes):
        if form == "elapsed":
            stamp = f"{minute // 60}:{minute % 60:02}:00"
        else:
            stamp = (start + timedelta(minutes=minute)).strftime("%Y-%m-%dT%H:%M:%SZ")
        lines.append(f"{stamp},250.0,{40 + minute}.0")
    return "\n".join(lines) + "\n"


class Bench:
    """A journal with a comparison, and a logger's file that is kept and followed."""

    def __init__(self, folder: Path) -> None:
        self.journal: Journal = open_journal(folder / "journal", new=True)
        command = add_comparison()
        self.journal.do(command)
        self.cook_id = command.cook.id
        self.path = folder / "live.csv"
        self.read = Read(str(self.path))

    def keep(
        self,
        written: str,
        *,
        started_at: datetime | None = None,
        options: ReadOptions | None = None,
    ) -> None:
        """Keep the file as it is now, and follow it."""
        self.path.write_text(written, encoding="utf-8")
        data = self.path.read_bytes()
        piece = self.journal.whole(self.cook_id).pieces[0]
        placed = {0: Placement(sits=Sits.PIT), 1: Placement(sits=Sits.MEAT, piece_id=piece.id)}
        log = read_probe_log(data, self.path.name, options)
        self.journal.do(
            attach_probe_log(
                self.journal, self.cook_id, data, "live.csv", log, placed, started_at=started_at
            )
        )
        self.journal.do(FollowFile(self.file.id, str(self.path)))

    @property
    def file(self) -> ProbeFile:
        return self.journal.find(ProbeFile)[0]

    def look(self, now: datetime = NOW) -> Read:
        """Look at the file once."""
        self.read = read_on(self.journal.whole(self.cook_id), self.file, self.read, now)
        return self.read

    def shown(self, sits: Sits = Sits.MEAT) -> tuple[Trace, list[float]]:
        """Return a trace as the bench shows it, with its values in °F."""
        self.journal.files.overlay(overlaid([self.read]))
        whole = with_readings(self.journal.whole(self.cook_id), [self.read])
        trace = next(trace for trace in whole.traces if trace.sits is sits)
        values = self.journal.files.samples(trace).values
        return trace, [round(float(value) * 1.8 + 32, 1) for value in values]


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    made = Bench(tmp_path)
    yield made
    made.journal.close()


def test_that_new_readings_are_shown_as_the_file_grows(bench: Bench) -> None:
    bench.keep(text(10))
    bench.look()
    assert len(bench.shown()[1]) == 10
    bench.path.write_text(text(25), encoding="utf-8")
    bench.look()
    trace, values = bench.shown()
    assert values == [40.0 + minute for minute in range(25)]
    assert trace.ends_at == NOON + timedelta(minutes=24)
    # Only shown: the journal itself has what was kept.
    assert {t.count for t in bench.journal.find(Trace)} == {10}
    assert check_journal(bench.journal).held


def test_that_a_line_still_being_written_is_not_read(bench: Bench) -> None:
    bench.keep(text(10))
    whole = text(12)
    for cut in range(1, 40):
        bench.path.write_text(whole[:-cut], encoding="utf-8")
        bench.look()
        values = bench.shown()[1]
        assert values == [40.0 + minute for minute in range(len(values))]
        assert len(values) in {10, 11}


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-be", "latin-1", "utf-8-sig"])
def test_that_a_last_line_is_cut_in_any_encoding(encoding: str) -> None:
    mark = b"\xfe\xff" if encoding == "utf-16-be" else b""
    data = mark + "time;°F\r\n1;19".encode(encoding)
    end = "time;°F\r\n".encode(encoding)
    assert whole_lines(data) == mark + end


def test_that_what_has_no_lines_is_left_whole() -> None:
    for data in (b"PK\x03\x04 workbook", b"[1, 2\n", b"no line yet"):
        assert whole_lines(data) == data


def test_that_a_file_that_vanishes_is_said_and_read_on_when_it_is_back(bench: Bench) -> None:
    bench.keep(text(10))
    bench.look()
    bench.path.rename(bench.path.with_suffix(".away"))
    assert "is gone" in bench.look().problem
    assert len(bench.shown()[1]) == 10
    bench.path.write_text(text(30), encoding="utf-8")
    assert not bench.look().problem
    assert len(bench.shown()[1]) == 30


def test_that_a_file_met_half_written_is_only_said_after_some_looks(bench: Bench) -> None:
    bench.keep(text(10))
    bench.look()
    bench.path.write_bytes(b"\x00" * 500)
    assert not bench.look().problem
    for _ in range(TRIES):
        bench.look()
    assert "cannot be read on" in bench.read.problem
    assert len(bench.shown()[1]) == 10
    bench.path.write_text(text(12), encoding="utf-8")
    assert not bench.look().problem


def test_that_another_file_of_the_same_name_is_not_taken_for_it(bench: Bench) -> None:
    bench.keep(text(10))
    bench.look()
    for number in range(TRIES + 1):
        other = text(20 + number, start=NOON + timedelta(days=1))
        bench.path.write_text(other, encoding="utf-8")
        bench.look()
    bench.look()
    bench.look()
    assert "another file" in bench.read.problem
    assert len(bench.shown()[1]) == 10


def test_that_a_log_that_counts_from_its_start_keeps_its_start(bench: Bench) -> None:
    bench.keep(text(10, form="elapsed"), started_at=NOON)
    bench.path.write_text(text(90, form="elapsed"), encoding="utf-8")
    bench.look()
    trace, values = bench.shown()
    assert len(values) == 90
    assert trace.ends_at == NOON + timedelta(minutes=89)


def test_that_what_the_cook_said_of_a_file_holds_as_it_grows(bench: Bench) -> None:
    def counted(rows: int) -> str:
        return "".join(f"{5 * row}\t100.0\t{40 + row}.0\n" for row in range(rows))

    bench.keep(counted(10), started_at=NOON, options=ReadOptions(unit="degF", counted="min"))
    bench.path.write_text(counted(30), encoding="utf-8")
    bench.look()
    trace, values = bench.shown()
    assert trace.ends_at == NOON + timedelta(minutes=5 * 29)
    assert values == [40.0 + row for row in range(30)]


def test_that_a_file_that_rests_is_kept_as_one_step_that_can_be_undone(bench: Bench) -> None:
    bench.keep(text(10))
    bench.path.write_text(text(40), encoding="utf-8")
    bench.look(NOW)
    assert not wants_keeping(bench.read, NOW + timedelta(seconds=RESTS_AFTER))
    assert wants_keeping(bench.read, NOW + timedelta(seconds=RESTS_AFTER + 1))
    whole = bench.journal.whole(bench.cook_id)
    command = keep_grown(bench.journal, whole, bench.file, bench.read)
    assert command is not None
    bench.journal.do(command)
    traces = bench.journal.find(Trace)
    assert {trace.count for trace in traces} == {40}
    assert bench.journal.files.read(bench.file.attachment) == text(40).encode()
    assert bench.file.report["channels"][0]["count"] == 40
    assert check_journal(bench.journal).held
    whole = bench.journal.whole(bench.cook_id)
    assert keep_grown(bench.journal, whole, bench.file, bench.read) is None
    bench.journal.undo()
    assert {trace.count for trace in bench.journal.find(Trace)} == {10}
    bench.journal.redo()
    assert check_journal(bench.journal).held


def test_that_a_trace_removed_meanwhile_stays_away(bench: Bench) -> None:
    bench.keep(text(10))
    bench.path.write_text(text(40), encoding="utf-8")
    bench.look()
    whole = bench.journal.whole(bench.cook_id)
    command = keep_grown(bench.journal, whole, bench.file, bench.read)
    assert command is not None
    gone = whole.traces[0].id
    bench.journal.do(Remove(Trace, gone))
    bench.journal.do(command)
    assert [trace.count for trace in bench.journal.find(Trace)] == [40]


def test_that_a_shifted_clock_stays_shifted_while_the_file_grows(bench: Bench) -> None:
    bench.keep(text(10))
    bench.path.write_text(text(20), encoding="utf-8")
    bench.look()
    whole = bench.journal.whole(bench.cook_id)
    shifted = replace(whole, traces=tuple(replace(t, shift=120.0) for t in whole.traces))
    bench.journal.files.overlay(overlaid([bench.read]))
    trace = with_readings(shifted, [bench.read]).traces[0]
    first = float(bench.journal.files.samples(trace).times[0])
    assert datetime.fromtimestamp(first, UTC) == NOON + timedelta(minutes=2)


def test_that_what_is_not_lent_is_read_from_its_file(bench: Bench) -> None:
    bench.keep(text(10))
    trace = replace(bench.journal.find(Trace)[0], samples="at hand:nothing:1")
    with pytest.raises(JournalError):
        bench.journal.files.samples(trace)


def test_that_a_file_that_only_changed_its_date_is_not_read_again(bench: Bench) -> None:
    bench.keep(text(10))
    first = bench.look()
    os.utime(bench.path, (1, 1))
    again = bench.look()
    assert again.readings is first.readings
    assert again.grew_at == first.grew_at


def test_that_a_file_that_grows_all_day_is_kept_each_hour(bench: Bench) -> None:
    bench.keep(text(10))
    bench.look(NOW)
    later = NOW + timedelta(seconds=KEEP_EVERY)
    bench.path.write_text(text(70), encoding="utf-8")
    bench.look(later)
    assert not wants_keeping(bench.read, later)
    assert wants_keeping(bench.read, later + timedelta(seconds=1))


def test_that_a_probe_that_came_out_while_the_file_grew_is_left_out(bench: Bench) -> None:
    bench.keep(text(60))
    lines = text(180).splitlines()
    for minute in range(120, 150):  # on the table: 70 °F from one minute to the next
        lines[minute + 1] = lines[minute + 1].rsplit(",", 1)[0] + ",70.0"
    bench.path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    bench.look()
    whole = bench.journal.whole(bench.cook_id)
    command = keep_grown(bench.journal, whole, bench.file, bench.read)
    assert command is not None
    bench.journal.do(command)
    meat = next(trace for trace in bench.journal.find(Trace) if trace.sits is Sits.MEAT)
    out = [((a - NOON.timestamp()) / 60, (b - NOON.timestamp()) / 60) for a, b in meat.left_out]
    assert out
    assert all(start >= 59 for start, _ in out)  # nothing in the part that was kept before
    assert any(start <= 121 and end >= 149 for start, end in out)


def test_that_a_source_of_another_kind_is_laid_over_the_journal_and_keeps_nothing(
    bench: Bench,
) -> None:
    """A receiver, say, that hands readings over by themselves: a `Read` of them is all it takes."""
    bench.keep(text(10))
    (trace,) = (one for one in bench.journal.find(Trace) if one.sits is Sits.MEAT)
    times = NOON.timestamp() + 60.0 * np.arange(31.0)
    heard = Samples(times, np.linspace(5.0, 20.0, 31).astype(np.float32))
    bench.read = Read("receiver", readings={trace.id: heard}, grew_at=NOW)
    shown, values = bench.shown()
    assert shown.ends_at == NOON + timedelta(minutes=30)
    assert values[-1] == 68.0  # 20 °C
    assert not bench.read.is_silent(NOW + timedelta(seconds=300))
    assert bench.read.is_silent(NOW + timedelta(seconds=301))
    assert {one.count for one in bench.journal.find(Trace)} == {10}
    assert check_journal(bench.journal).held
