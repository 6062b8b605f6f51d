"""From a file as it came to kept traces and photos."""

import io
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from PIL import ExifTags, Image

from pitjournal.domain.event import Photo
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.errors import JournalError
from pitjournal.files.probe_log import ReadOptions, read_probe_log
from pitjournal.journal import Journal
from pitjournal.journal.attaching import (
    Placement,
    attach_photos,
    attach_probe_log,
    local_to_utc,
)
from pitjournal.journal.checks import check_journal
from tests.builders import add_comparison

CHICAGO = ZoneInfo("America/Chicago")

LOCAL = b"""Time,Pit (F),Probe 1 (F)
2026-05-02 08:00:00,212.0,41.0
2026-05-02 08:01:00,230.0,
2026-05-02 08:02:00,248.0,50.0
2026-05-02 08:03:00,250.0,51.0
"""

OFFSET = b"""Time,Pit (C)
2026-05-02T13:00:00Z,100.0
2026-05-02T13:01:00Z,110.0
2026-05-02T13:02:00Z,120.0
"""

ELAPSED = b"""Elapsed,Pit (C)
0:00:00,100.0
0:01:00,110.0
0:02:00,120.0
"""


@pytest.fixture
def cook_id(journal: Journal) -> str:
    command = add_comparison()
    journal.do(command)
    return command.cook.id


def attach(
    journal: Journal,
    cook_id: str,
    data: bytes,
    placements: dict[int, Placement],
    started_at: datetime | None = None,
) -> None:
    log = read_probe_log(data, "log.csv", ReadOptions())
    command = attach_probe_log(
        journal, cook_id, data, "log.csv", log, placements, started_at=started_at
    )
    journal.do(command)


PIT = Placement(sits=Sits.PIT, place="grate")


def test_that_the_bytes_and_the_report_are_kept(journal: Journal, cook_id: str) -> None:
    attach(journal, cook_id, LOCAL, {0: PIT})
    (kept,) = journal.find(ProbeFile, cook_id=cook_id)
    assert journal.files.read(kept.attachment) == LOCAL
    assert kept.name == "log.csv"
    assert kept.report["timezone"] == "local"


def test_that_local_times_are_those_of_the_cook_and_readings_are_in_celsius(
    journal: Journal, cook_id: str
) -> None:
    # Chicago is five hours behind in May (IANA: CDT, UTC−5); 212, 230, 248 °F are 100, 110, 120 °C
    piece = journal.whole(cook_id).pieces[0]
    meat = Placement(sits=Sits.MEAT, piece_id=piece.id, place="middle")
    attach(journal, cook_id, LOCAL, {0: PIT, 1: meat})
    pit, probe = journal.find(Trace, cook_id=cook_id)
    eight = datetime(2026, 5, 2, 13, 0, tzinfo=UTC)
    assert pit.starts_at == eight
    assert (pit.ends_at - pit.starts_at).total_seconds() == 180.0
    assert (pit.count, pit.interval, pit.place) == (4, 60.0, "grate")
    assert journal.files.samples(pit).times[0] == eight.timestamp()
    assert journal.files.samples(pit).values[:3] == pytest.approx([100.0, 110.0, 120.0])
    assert (probe.count, probe.piece_id, probe.sits) == (3, piece.id, Sits.MEAT)
    assert journal.files.samples(probe).values[:2] == pytest.approx([5.0, 10.0])


def test_that_a_file_with_an_offset_needs_no_zone(journal: Journal, cook_id: str) -> None:
    attach(journal, cook_id, OFFSET, {0: PIT})
    (trace,) = journal.find(Trace, cook_id=cook_id)
    assert trace.starts_at == datetime(2026, 5, 2, 13, 0, tzinfo=UTC)


def test_that_an_elapsed_log_begins_when_it_is_said_to(journal: Journal, cook_id: str) -> None:
    began = datetime(2026, 5, 2, 9, 30, tzinfo=UTC)
    attach(journal, cook_id, ELAPSED, {0: PIT}, started_at=began)
    (trace,) = journal.find(Trace, cook_id=cook_id)
    assert trace.starts_at == began
    assert (trace.ends_at - began).total_seconds() == 120.0


def test_that_an_elapsed_log_without_a_beginning_keeps_nothing(
    journal: Journal, cook_id: str
) -> None:
    with pytest.raises(JournalError, match="counts from its own start"):
        attach(journal, cook_id, ELAPSED, {0: PIT})
    assert not journal.find(ProbeFile)
    assert not list(journal.folder.rglob("attachments/*/*"))


def test_that_a_file_with_no_placed_channel_is_refused(journal: Journal, cook_id: str) -> None:
    with pytest.raises(JournalError, match="No channel has a place"):
        attach(journal, cook_id, LOCAL, {})


def test_that_the_same_file_twice_is_refused_and_one_undo_takes_all_back(
    journal: Journal, cook_id: str
) -> None:
    attach(journal, cook_id, LOCAL, {0: PIT})
    with pytest.raises(JournalError, match="has that file already"):
        attach(journal, cook_id, LOCAL, {0: PIT})
    assert check_journal(journal).held
    journal.undo()
    assert not journal.find(ProbeFile)
    assert not journal.find(Trace)


def test_that_a_removed_cook_is_said_to_be_gone(journal: Journal) -> None:
    with pytest.raises(JournalError, match="no longer in the journal"):
        attach(journal, "gone", LOCAL, {0: PIT})


def clock(day: int, hour: int, minute: int = 0, month: int = 11) -> float:
    """Return wall-clock seconds in 2026."""
    return datetime(2026, month, day, hour, minute, tzinfo=UTC).timestamp()


def test_that_the_hour_that_comes_twice_is_read_in_the_files_order() -> None:
    # The clocks of Chicago go back from 2:00 CDT to 1:00 CST on 1 November 2026 (IANA tz)
    written = [clock(1, 0, 30), clock(1, 1, 0), clock(1, 1, 30), clock(1, 1, 0), clock(1, 1, 30)]
    written.append(clock(1, 2, 0))
    found = local_to_utc(np.array(written), CHICAGO)
    half_hours = clock(1, 5, 30) + 1800.0 * np.arange(6)
    assert found.tolist() == half_hours.tolist()


def test_that_only_one_of_the_two_hours_is_read_as_the_first() -> None:
    found = local_to_utc(np.array([clock(1, 1, 0), clock(1, 1, 30)]), CHICAGO)
    assert found.tolist() == [clock(1, 6, 0), clock(1, 6, 30)]


def test_that_a_skipped_time_has_the_offset_from_before() -> None:
    # RFC 5545, 3.3.5: 02:30 on the night clocks go forward (8 March 2026) is 03:30 CDT
    found = local_to_utc(np.array([clock(8, 2, 30, month=3)]), CHICAGO)
    assert found.tolist() == [clock(8, 8, 30, month=3)]


def test_that_zones_of_half_hours_are_read_whole() -> None:
    # Kolkata is five and a half hours ahead (IANA tz)
    found = local_to_utc(np.array([clock(8, 12, 0)]), ZoneInfo("Asia/Kolkata"))
    assert found.tolist() == [clock(8, 6, 30)]


def a_photo(taken: str = "") -> bytes:
    exif = Image.Exif()
    if taken:
        exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = taken
    out = io.BytesIO()
    Image.new("RGB", (640, 480), "brown" if taken else "gray").save(out, "JPEG", exif=exif)
    return out.getvalue()


def test_that_a_photo_is_kept_as_it_came_with_a_small_one(journal: Journal, cook_id: str) -> None:
    data = a_photo("2026:05:02 08:15:00")
    piece = journal.whole(cook_id).pieces[0]
    journal.do(attach_photos(journal, cook_id, [("rack.jpg", data)], piece_id=piece.id))
    (photo,) = journal.find(Photo, cook_id=cook_id)
    assert journal.files.read(photo.attachment) == data
    assert photo.taken_at == datetime(2026, 5, 2, 13, 15, tzinfo=UTC)
    assert (photo.width, photo.height, photo.piece_id) == (640, 480, piece.id)
    with Image.open(io.BytesIO(journal.files.read(photo.thumbnail))) as small:
        assert small.size == (480, 360)


def test_that_a_photo_without_a_time_takes_the_one_given(journal: Journal, cook_id: str) -> None:
    moment = datetime(2026, 5, 2, 14, 0, tzinfo=UTC)
    photos = [("a.jpg", a_photo()), ("b.jpg", a_photo("2026:05:02 08:15:00"))]
    journal.do(attach_photos(journal, cook_id, photos, taken_at=moment))
    times = {photo.name: photo.taken_at for photo in journal.find(Photo, cook_id=cook_id)}
    assert times == {"a.jpg": moment, "b.jpg": datetime(2026, 5, 2, 13, 15, tzinfo=UTC)}


def test_that_one_unreadable_photo_keeps_none(journal: Journal, cook_id: str) -> None:
    with pytest.raises(JournalError, match=r"notes\.txt is not a picture"):
        attach_photos(journal, cook_id, [("a.jpg", a_photo()), ("notes.txt", b"flip at two")])
    assert not list(journal.folder.rglob("attachments/*/*"))
