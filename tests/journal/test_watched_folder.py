"""A folder that pictures come into: each joins the cook once, at the time it was taken."""

import os
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from PIL import Image

from pitjournal.domain.event import EventKind, Photo
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.following import TRIES
from pitjournal.journal.watched_folder import Watching, take_in
from tests.builders import NOON, add_comparison, an_event

TAKEN = 0x9003
"""Exif 2.3 (JEITA CP-3451), DateTimeOriginal."""


class Camera:
    """A journal with a running cook, and a folder with a camera that writes into it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "camera"
        self.folder.mkdir()
        self.journal: Journal = open_journal(folder / "journal", new=True)
        command = add_comparison()
        self.journal.do(command)
        self.cook_id = command.cook.id
        self.journal.do(LogEvent(an_event(self.cook_id, EventKind.LIT), "Log lit"))
        self.watching = Watching(str(self.folder))

    def write(self, name: str, taken: datetime | None, shade: str = "#884422") -> Path:
        """Write a picture, taken at a moment of the cook's own clock."""
        path = self.folder / name
        image = Image.new("RGB", (64, 48), shade)
        exif = image.getexif()
        if taken is not None:
            exif.get_ifd(0x8769)[TAKEN] = taken.strftime("%Y:%m:%d %H:%M:%S")
        image.save(path, exif=exif)
        return path

    def look(self, times: int = 1) -> list[str]:
        """Look so many times, keep what comes, and return the names of all photos."""
        for _ in range(times):
            whole = self.journal.whole(self.cook_id)
            self.watching, command = take_in(self.journal, whole, self.watching)
            if command is not None:
                self.journal.do(command)
        return [photo.name for photo in self.journal.find(Photo)]


@pytest.fixture
def camera(tmp_path: Path) -> Iterator[Camera]:
    made = Camera(tmp_path)
    yield made
    made.journal.close()


def test_that_a_new_picture_joins_at_the_time_it_was_taken(camera: Camera) -> None:
    # Chicago is 5 h behind UTC in May (15 USC 260a): 08:30 there is 13:30 UTC.
    camera.write("wrap.jpg", datetime(2026, 5, 2, 8, 30))  # noqa: DTZ001 - a camera's own clock
    assert camera.look() == []  # it may still be written
    assert camera.look() == ["wrap.jpg"]
    assert camera.look(3) == ["wrap.jpg"]
    photo = camera.journal.find(Photo)[0]
    assert photo.taken_at == datetime(2026, 5, 2, 13, 30, tzinfo=UTC)
    assert check_journal(camera.journal).held


def test_that_a_picture_that_says_no_time_has_that_of_its_file(camera: Camera) -> None:
    path = camera.write("plain.png", None)
    stamp = (NOON + timedelta(minutes=50)).timestamp()
    os.utime(path, (stamp, stamp))
    camera.look(2)
    assert camera.journal.find(Photo)[0].taken_at == NOON + timedelta(minutes=50)


def test_that_pictures_of_an_older_day_are_left_alone(camera: Camera) -> None:
    camera.write("christmas.jpg", datetime(2025, 12, 25, 12, 0))  # noqa: DTZ001 - a camera knows no zone
    camera.write("prep.jpg", datetime(2026, 5, 1, 21, 0), "#112233")  # noqa: DTZ001 - a camera knows no zone
    assert camera.look(3) == ["prep.jpg"]


def test_that_a_picture_still_being_copied_waits_until_it_is_whole(camera: Camera) -> None:
    data = camera.write("large.jpg", datetime(2026, 5, 2, 8, 30)).read_bytes()  # noqa: DTZ001 - a camera knows no zone
    path = camera.folder / "large.jpg"
    for end in (100, 300, 500):
        path.write_bytes(data[:end])
        assert camera.look() == []
    path.write_bytes(data)
    assert camera.look(2) == ["large.jpg"]


def test_that_a_damaged_picture_is_said_once_and_the_others_come(camera: Camera) -> None:
    (camera.folder / "broken.jpg").write_bytes(b"\xff\xd8\xff no picture")
    camera.write("good.jpg", datetime(2026, 5, 2, 8, 30))  # noqa: DTZ001 - a camera knows no zone
    assert camera.look(2) == ["good.jpg"]
    camera.look(TRIES)
    assert "broken.jpg" in camera.watching.problems["broken.jpg"]
    failed = dict(camera.watching.failed)
    camera.look(3)
    assert camera.watching.failed == failed  # it is not tried for ever
    (camera.folder / "broken.jpg").unlink()
    camera.look()
    assert not camera.watching.problems


def test_that_a_picture_that_was_taken_out_again_stays_out(camera: Camera) -> None:
    camera.write("wrap.jpg", datetime(2026, 5, 2, 8, 30))  # noqa: DTZ001 - a camera knows no zone
    camera.look(2)
    camera.journal.undo()
    assert camera.look(2) == []
    camera.watching = Watching(str(camera.folder))  # a restart
    assert camera.look(3) == []


def test_that_the_same_picture_under_two_names_comes_once(camera: Camera) -> None:
    path = camera.write("one.jpg", datetime(2026, 5, 2, 8, 30))  # noqa: DTZ001 - a camera knows no zone
    (camera.folder / "two.jpg").write_bytes(path.read_bytes())
    assert camera.look(3) == ["one.jpg"]


def test_that_a_folder_that_vanishes_is_said_and_looked_into_when_it_is_back(
    camera: Camera,
) -> None:
    camera.write("wrap.jpg", datetime(2026, 5, 2, 8, 30))  # noqa: DTZ001 - a camera knows no zone
    camera.look(2)
    away = camera.folder.with_name("unplugged")
    camera.folder.rename(away)
    camera.look()
    assert "is gone" in camera.watching.problems[""]
    away.rename(camera.folder)
    camera.write("slice.jpg", datetime(2026, 5, 2, 10, 0), "#445566")  # noqa: DTZ001 - a camera knows no zone
    assert camera.look(2) == ["wrap.jpg", "slice.jpg"]
    assert not camera.watching.problems


def test_that_other_files_are_no_pictures(camera: Camera) -> None:
    (camera.folder / "notes.txt").write_text("rub", encoding="utf-8")
    (camera.folder / ".hidden.jpg").write_bytes(b"x")
    assert camera.look(3) == []
    assert not camera.watching.problems
