"""A kept probe file: its clock, its places, its probe, and what is left out of it."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from pitjournal.domain.event import EventKind
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.errors import JournalError
from pitjournal.files.probe_log import read_probe_log
from pitjournal.journal import Journal
from pitjournal.journal.attaching import Placement, attach_probe_log, belongs, goes_beyond
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.files import SetClock, SwapTraces
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.journal.put_back import left_out_of, put_back
from tests.builders import NOON, add_comparison, an_event

HOURS = 6


def a_log(start: datetime, hours: float) -> bytes:
    """Return a log of a minute: a pit, a meat that climbs, and one whose probe fell out."""
    rows = ["Time,Pit (C),Meat 1 (C),Meat 2 (C)"]
    for minute in range(int(hours * 60)):
        moment = start + timedelta(minutes=minute)
        meat = 4.0 + 90.0 * (1 - np.exp(-minute / 100.0))
        fell = 20.0 if 200 <= minute < 240 else meat
        rows.append(f"{moment:%Y-%m-%dT%H:%M:%SZ},{121 + minute % 3},{meat:.2f},{fell:.2f}")
    return "\n".join([*rows, ""]).encode()


def logged_cook(journal: Journal) -> str:
    """Add a cook whose meat went on at noon and came off six hours later; return its id."""
    command = add_comparison()
    journal.do(command)
    pieces = [piece.id for piece in journal.whole(command.cook.id).pieces]
    for kind, minutes in ((EventKind.ON, 0), (EventKind.OFF, HOURS * 60)):
        event = an_event(command.cook.id, kind, minutes=minutes, pieces=pieces)
        journal.do(LogEvent(event, f"Log {kind}"))
    return command.cook.id


@pytest.fixture
def cook_id(journal: Journal) -> str:
    return logged_cook(journal)


def attach(
    journal: Journal,
    cook_id: str,
    data: bytes,
    between: tuple[datetime, datetime] | None = None,
) -> list[Trace]:
    first, second = journal.whole(cook_id).pieces[:2]
    where = {
        0: Placement(sits=Sits.PIT, place="grate"),
        1: Placement(sits=Sits.MEAT, piece_id=first.id),
        2: Placement(sits=Sits.MEAT, piece_id=second.id),
    }
    log = read_probe_log(data, "log.csv")
    journal.do(attach_probe_log(journal, cook_id, data, "log.csv", log, where, between=between))
    return sorted(journal.find(Trace, cook_id=cook_id), key=lambda trace: trace.channel)


def test_that_a_probe_that_fell_out_is_marked_and_not_deleted(
    journal: Journal, cook_id: str
) -> None:
    one, two, pit = attach(journal, cook_id, a_log(NOON, HOURS))
    assert one.left_out == ()
    assert pit.left_out == ()
    ((start, end),) = two.left_out
    assert start - NOON.timestamp() == pytest.approx(200 * 60, abs=61)
    assert end - NOON.timestamp() == pytest.approx(240 * 60, abs=61)
    assert journal.files.all_samples(two).times.size == HOURS * 60
    kept = journal.files.samples(two)
    assert HOURS * 60 - 42 <= kept.times.size <= HOURS * 60 - 39
    assert kept.values[100:].min() > 50
    journal.do(Change(Trace, two.id, {"left_out": ()}))
    assert journal.files.samples(journal.find(Trace, id=two.id)[0]).times.size == HOURS * 60


def test_that_swapped_probes_are_swapped_back_in_one_step(journal: Journal, cook_id: str) -> None:
    one, two, _ = attach(journal, cook_id, a_log(NOON, HOURS))
    journal.do(SwapTraces(one.id, two.id))
    found = {trace.id: trace.piece_id for trace in journal.find(Trace, cook_id=cook_id)}
    assert (found[one.id], found[two.id]) == (two.piece_id, one.piece_id)
    journal.undo()
    found = {trace.id: trace.piece_id for trace in journal.find(Trace, cook_id=cook_id)}
    assert (found[one.id], found[two.id]) == (one.piece_id, two.piece_id)


def test_that_a_clock_is_put_right_by_shift_and_drift(journal: Journal, cook_id: str) -> None:
    one, _, _ = attach(journal, cook_id, a_log(NOON, HOURS))
    journal.do(SetClock(one.probe_file_id, 90.0, 0.001))
    for trace in journal.find(Trace, cook_id=cook_id):
        times = journal.files.all_samples(trace).times
        assert times[0] == NOON.timestamp() + 90.0
        # 359 min later by the device's clock is 21.54 s more by a true one.
        assert times[-1] - times[0] == pytest.approx(359 * 60 * 1.001)


def test_that_a_correction_is_a_line(journal: Journal, cook_id: str) -> None:
    _, _, pit = attach(journal, cook_id, a_log(NOON, HOURS))
    before = journal.files.samples(pit).values
    journal.do(Change(Trace, pit.id, {"correction": -0.5, "correction_slope": 0.01}))
    after = journal.files.samples(journal.find(Trace, id=pit.id)[0]).values
    assert after == pytest.approx(before * 1.01 - 0.5, abs=1e-3)


def test_that_a_long_log_is_cut_to_the_cook_and_kept_whole(journal: Journal, cook_id: str) -> None:
    data = a_log(NOON - timedelta(hours=30), 60)
    whole = journal.whole(cook_id)
    assert goes_beyond(whole, read_probe_log(data, "log.csv"))
    assert not goes_beyond(whole, read_probe_log(a_log(NOON, HOURS), "log.csv"))
    part = belongs(whole)
    assert part == (NOON - timedelta(hours=1), NOON + timedelta(hours=HOURS + 4))
    traces = attach(journal, cook_id, data, part)
    assert all(trace.starts_at >= part[0] and trace.ends_at <= part[1] for trace in traces)
    (file,) = journal.whole(cook_id).probe_files
    assert journal.files.read(file.attachment) == data


def test_that_a_log_that_counts_from_its_start_goes_beyond_only_where_that_is_known(
    journal: Journal, cook_id: str
) -> None:
    whole = journal.whole(cook_id)
    part = belongs(whole)
    assert part is not None
    hours = (part[1] - part[0]).total_seconds() / 3600 + 8  # eight more than are the cook's
    rows = "\n".join(
        f"{minute // 60}:{minute % 60:02d}:00,100.0" for minute in range(int(hours * 60))
    )
    log = read_probe_log(f"Elapsed,Pit (C)\n{rows}\n".encode(), "log.csv")
    assert log.timezone == "elapsed"
    assert not goes_beyond(whole, log)
    assert goes_beyond(whole, log, part[0])
    assert not goes_beyond(whole, log, part[1] + timedelta(days=1))  # none of it is the cook's


def test_that_a_log_of_another_day_is_refused_for_this_cook(journal: Journal, cook_id: str) -> None:
    far = datetime(2026, 7, 1, 12, tzinfo=UTC)
    with pytest.raises(JournalError, match="no readings in the time of the cook"):
        attach(journal, cook_id, a_log(far, 2), belongs(journal.whole(cook_id)))


def put_meat_back(journal: Journal, cook_id: str, channel: str) -> Trace:
    """Put a channel that was left out into the second piece."""
    whole = journal.whole(cook_id)
    where = Placement(sits=Sits.MEAT, piece_id=whole.pieces[1].id)
    journal.do(put_back(journal, whole, journal.find(ProbeFile)[0], channel, where))
    return journal.find(Trace, channel=channel)[0]


@pytest.mark.parametrize("cut", [True, False])
def test_that_a_channel_put_back_is_as_if_it_had_never_been_left_out(
    journal: Journal, cook_id: str, *, cut: bool
) -> None:
    between = (NOON, NOON + timedelta(hours=2)) if cut else None
    _, two, _ = attach(journal, cook_id, a_log(NOON, HOURS), between)
    journal.do(SetClock(two.probe_file_id, 90.0, 0.001))
    (before,) = journal.find(Trace, channel="Meat 2")
    journal.do(Remove(Trace, two.id, "Leave out Meat 2"))
    whole = journal.whole(cook_id)
    assert left_out_of(whole, journal.find(ProbeFile)[0]) == [("Meat 2", HOURS * 60)]
    after = put_meat_back(journal, cook_id, "Meat 2")
    assert replace(after, id=before.id) == before
    assert not left_out_of(journal.whole(cook_id), journal.find(ProbeFile)[0])
    journal.undo()
    assert not journal.find(Trace, channel="Meat 2")


def test_that_a_log_that_counts_from_its_start_begins_where_its_other_channels_say(
    journal: Journal, cook_id: str
) -> None:
    rows = [f"{60 * n},{121 + n % 3},{20 + n / 2:.1f}" for n in range(60)]
    data = "\n".join(["Elapsed (s),Pit (C),Meat (C)", *rows, ""]).encode()
    log = read_probe_log(data, "log.csv")
    where = {0: Placement(sits=Sits.PIT, place="grate")}
    journal.do(attach_probe_log(journal, cook_id, data, "log.csv", log, where, started_at=NOON))
    meat = put_meat_back(journal, cook_id, "Meat")
    assert (meat.starts_at, meat.count) == (NOON, 60)


def test_that_a_channel_is_put_back_once_and_only_where_it_is(
    journal: Journal, cook_id: str
) -> None:
    attach(journal, cook_id, a_log(NOON, HOURS))
    with pytest.raises(JournalError, match="has its place already"):
        put_meat_back(journal, cook_id, "Meat 2")
    with pytest.raises(JournalError, match="no channel called Meat 9"):
        put_meat_back(journal, cook_id, "Meat 9")
