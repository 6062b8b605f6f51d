"""What is synced when a row names it, shown with a disk that forgets the rest.

The model is POSIX's: bytes last once their file is synced, a name once its folder is
(fsync, rationale; Pillai et al., "All File Systems Are Not Created Equal", OSDI 2014). The
database has SQLite's own proof; ours is that a kept file lasts before its row is committed.
"""

from collections.abc import Iterable
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.store.attachments import Attachments
from pitjournal.store.database import Database
from pitjournal.store.disk import Disk


class ForgetfulDisk(Disk):
    """Writes for real, and remembers what would be there after the power was lost."""

    def __init__(self, root: Path, *, syncs_names: bool = True) -> None:
        self._syncs_names = syncs_names
        self._synced: dict[int, bytes] = {}
        self._names: dict[Path, int | None] = {root: None}

    def make_folder(self, path: Path) -> None:
        super().make_folder(path)

    def write_part(self, part: Path, pieces: Iterable[bytes]) -> None:
        super().write_part(part, pieces)
        self._synced[part.stat().st_ino] = part.read_bytes()

    def sync_file(self, path: Path) -> None:
        super().sync_file(path)
        self._synced[path.stat().st_ino] = path.read_bytes()

    def sync_folder(self, path: Path) -> None:
        super().sync_folder(path)
        if self._syncs_names:
            for entry in path.iterdir():
                self._names[entry] = None if entry.is_dir() else entry.stat().st_ino

    def after_power_loss(self, path: Path) -> bytes | None:
        """Return a file's bytes as they would be; None where its name would be gone."""
        if path not in self._names or any(
            parent not in self._names for parent in self._way_to(path)
        ):
            return None
        number = self._names[path]
        return self._synced.get(number, b"") if number is not None else None

    def _way_to(self, path: Path) -> list[Path]:
        roots = [name for name in self._names if name in path.parents]
        top = min(roots, key=lambda name: len(name.parts))
        return [parent for parent in path.parents if top in (parent, *parent.parents)]


def keep_and_name(folder: Path, disk: Disk) -> tuple[Path, bytes | None]:
    """Keep a file and name it in a row; return its path, and what lasted just before the row."""
    with closing(Database(folder, new=True)) as database:
        attachments = Attachments(folder / "attachments", disk=disk)
        sha = attachments.keep(b"a photo of a rack")
        assert isinstance(disk, ForgetfulDisk)
        lasted = disk.after_power_loss(attachments.path(sha))
        row = (sha, 17, "image/jpeg", "rack")
        database.change("Name it", lambda t: t.name_attachments([row]))
        return attachments.path(sha), lasted


def test_that_a_kept_file_and_its_name_last_before_a_row_names_it(tmp_path: Path) -> None:
    folder = tmp_path / "cooks"
    folder.mkdir()
    path, lasted = keep_and_name(folder, ForgetfulDisk(folder))
    assert path.exists()
    assert lasted == b"a photo of a rack"


def test_that_the_forgetful_disk_shows_a_name_that_was_not_synced(tmp_path: Path) -> None:
    # The check of the check: without the syncing of folders the file would be lost.
    folder = tmp_path / "cooks"
    folder.mkdir()
    path, lasted = keep_and_name(folder, ForgetfulDisk(folder, syncs_names=False))
    assert path.exists()
    assert lasted is None


def test_that_a_file_found_there_gets_its_name_synced_too(tmp_path: Path) -> None:
    # Kept by a run that was ended between naming it and syncing the name.
    folder = tmp_path / "cooks"
    folder.mkdir()
    sha = Attachments(folder / "attachments").keep(b"bytes")
    disk = ForgetfulDisk(folder)
    disk.sync_folder(folder)
    disk.sync_folder(folder / "attachments")
    attachments = Attachments(folder / "attachments", disk=disk)
    assert disk._names.get(attachments.path(sha), 0) == 0
    attachments.keep(b"bytes")
    assert attachments.path(sha) in disk._names


def test_that_a_damaged_kept_file_is_written_anew(tmp_path: Path) -> None:
    attachments = Attachments(tmp_path / "attachments")
    sha = attachments.keep(b"a photo")
    attachments.path(sha).write_bytes(b"")  # as after a loss of power on some file systems
    assert attachments.how(sha) == "changed"
    assert attachments.keep(b"a photo") == sha
    assert attachments.read(sha) == b"a photo"


@pytest.mark.parametrize("at", ["make_folder", "write_part", "settle"])
def test_that_a_disk_that_refuses_leaves_no_file_by_half(
    tmp_path: Path, at: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    disk = Disk()

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(disk, at, refuse)
    attachments = Attachments(tmp_path / "attachments", disk=disk)
    with pytest.raises(Exception, match="The disk is full"):
        attachments.keep(b"a photo")
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []
