"""An open journal written elsewhere: stopped, ended and refused in the middle."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.backups.salvage import salvage
from pitjournal.journal.checks import check_folder
from pitjournal.journal.jobs import CancelledJobError, Progress
from pitjournal.journal.repair import repair_folder
from pitjournal.store import carrying
from tests.builders import add_comparison

COOKS = 30
FILES = 4


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with closing(open_journal(tmp_path / "journal", new=True)) as opened:
        for number in range(COOKS):
            opened.do(add_comparison(f"Cook {number}"))
        for number in range(FILES):
            name_file(opened, b"a photo %d" % number)
        yield opened


def name_file(journal: Journal, data: bytes) -> None:
    kept = journal.files.keep(data, "image/jpeg", "photo.jpg")
    with journal.database.writing() as connection:
        connection.exec_driver_sql(
            "INSERT INTO attachment (id, size, media_type, name) VALUES (?, ?, ?, ?)",
            (kept.sha, kept.size, kept.media_type, kept.name),
        )


def there(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.rglob("*")) if folder.exists() else []


class StopsAt(Progress):
    """Stopped once it was told so often how far it is."""

    def __init__(self, count: int) -> None:
        super().__init__()
        self.left = count
        self.told: list[float] = []

    def report(self, fraction: float | None, words: str = "") -> None:
        self.told.append(fraction or 0.0)
        self.left -= 1
        if self.left == 0:
            self.cancel()
        super().report(fraction, words)


def test_that_all_comes_along_and_how_far_it_is_is_told(journal: Journal, tmp_path: Path) -> None:
    progress = StopsAt(-1)
    said = journal.keep_elsewhere(tmp_path / "new" / "place", progress)
    assert "gone" not in said
    assert progress.told == sorted(progress.told)
    assert len(progress.told) > FILES
    with closing(open_journal(tmp_path / "new" / "place")) as opened:
        assert opened.cooks.count() == COOKS
    assert check_folder(tmp_path / "new" / "place").held


@pytest.mark.parametrize("count", range(1, FILES + 2))
def test_that_one_that_is_stopped_leaves_nothing(
    journal: Journal, tmp_path: Path, count: int
) -> None:
    target = tmp_path / "elsewhere"
    with pytest.raises(CancelledJobError):
        journal.keep_elsewhere(target, StopsAt(count))
    assert not target.exists()
    target.mkdir()
    with pytest.raises(CancelledJobError):
        journal.keep_elsewhere(target, StopsAt(count))
    assert there(target) == []  # a folder that was there stays
    assert journal.cooks.count() == COOKS


def test_that_a_folder_with_other_things_is_refused_and_left_alone(
    journal: Journal, tmp_path: Path
) -> None:
    target = tmp_path / "elsewhere"
    target.mkdir()
    (target / "mine.txt").write_text("mine")
    with pytest.raises(JournalError, match="other things"):
        journal.keep_elsewhere(target)
    assert there(target) == ["mine.txt"]


def test_that_a_disk_that_is_full_in_the_middle_leaves_nothing(
    journal: Journal, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(carrying, "_carry_files", full)
    with pytest.raises(JournalError, match="disk is full"):
        journal.keep_elsewhere(tmp_path / "elsewhere")
    assert not (tmp_path / "elsewhere").exists()


ENDED = """
import os, shutil, sys
from pathlib import Path
from pitjournal.journal import open_journal
from pitjournal.journal.jobs import Progress

class Ends(Progress):
    left = int(sys.argv[3])
    def report(self, fraction, words=""):
        self.left -= 1
        if not self.left:
            os.kill(os.getpid(), 9)

journal = open_journal(Path(sys.argv[1]))
if sys.argv[4] == "gone":
    shutil.rmtree(sys.argv[1])
journal.keep_elsewhere(Path(sys.argv[2]), Ends())
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no such end there")
@pytest.mark.parametrize("gone", ["there", "gone"])
@pytest.mark.parametrize("count", [1, 2, 4])
def test_that_an_end_in_the_middle_loses_no_cook(
    journal: Journal, tmp_path: Path, count: int, gone: str
) -> None:
    source, target = tmp_path / "copy", tmp_path / "elsewhere"
    journal.close()
    shutil.copytree(journal.folder, source)
    command = [sys.executable, "-c", ENDED, str(source), str(target), str(count), gone]
    subprocess.run(command, check=False, env=os.environ)
    if (target / "journal.sqlite").exists():
        with closing(open_journal(target)) as opened:
            assert len(opened.find(Cook)) == COOKS
    else:
        assert count == 1  # before the cooks were written
    if gone == "there":
        with closing(open_journal(source)) as opened:
            assert opened.cooks.count() == COOKS
            other = target if count == 1 else tmp_path / "another"
            opened.keep_elsewhere(other)  # also into what was left of the first try
        assert check_folder(other).held


def test_that_a_name_too_long_is_refused_in_a_line_and_the_longest_is_taken(
    journal: Journal, tmp_path: Path
) -> None:
    too_long = tmp_path / ("n" * 300)
    with pytest.raises(JournalError, match="too long"):
        journal.keep_elsewhere(too_long)
    with pytest.raises(JournalError, match="too long"):
        salvage(journal.folder, too_long)
    longest = 255  # NAME_MAX of the usual file systems, bytes
    assert salvage(journal.folder, tmp_path / ("s" * longest)).cooks == COOKS
    journal.keep_elsewhere(tmp_path / ("m" * longest))
    assert check_folder(tmp_path / ("m" * longest)).held


def test_that_a_file_in_the_place_of_the_kept_files_is_said_and_nothing_faults(
    journal: Journal,
) -> None:
    sha = journal.database.attachment_ids()[0]
    shutil.rmtree(journal.folder / "attachments")
    (journal.folder / "attachments").write_text("mine")
    with pytest.raises(JournalError, match="missing"):
        journal.files.read(sha)
    with pytest.raises(JournalError, match="file is in the way"):
        journal.files.keep(b"another", "image/jpeg", "photo.jpg")
    journal.close()
    assert not check_folder(journal.folder).held
    repair_folder(journal.folder)  # no backup has them: they are named
    assert (journal.folder / "attachments").read_text() == "mine"
