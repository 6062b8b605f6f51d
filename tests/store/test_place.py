"""Network drives and synced folders are told apart from a disk of one's own."""

import ctypes
from pathlib import Path, PureWindowsPath

import pytest

from pitjournal.store import place
from pitjournal.store.place import Place, network_in, place_of

# Lines as proc_pid_mountinfo(5) shows them.
TABLE = """\
23 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
36 23 0:31 / /mnt/barn rw,noatime shared:9 - nfs4 barn:/cooks rw,vers=4.2
37 36 8:17 / /mnt/barn/stick rw - vfat /dev/sdb1 rw
38 23 0:40 / /home/ada/My\\040Share rw - cifs //barn/share rw
39 23 0:41 / /media/far rw - fuse.sshfs ada@barn: rw
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/home/ada/cooks", ""),
        ("/mnt/barn/cooks", "nfs4"),
        ("/mnt/barn", "nfs4"),
        ("/mnt/barnyard", ""),
        ("/mnt/barn/stick/cooks", ""),
        ("/home/ada/My Share/cooks", "cifs"),
        ("/media/far/cooks", "fuse.sshfs"),
    ],
)
def test_that_the_nearest_mount_decides(folder: str, kind: str) -> None:
    assert network_in(TABLE, Path(folder)) == kind


def test_that_a_folder_of_ones_own_says_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "Documents" / "Pitjournal"
    (folder / "backups").mkdir(parents=True)
    assert place_of(folder) == Place()
    assert place_of(folder).words == ""


@pytest.mark.parametrize("name", ["Cloud", "mysync", "Work Cloud Files", "SomeDrive"])
def test_that_a_folder_named_as_one_that_is_synced_is_recognised(tmp_path: Path, name: str) -> None:
    folder = tmp_path / name / "cooks"
    folder.mkdir(parents=True)
    found = place_of(folder)
    assert found.synced == tmp_path / name
    assert "one computer at a time" in found.words


@pytest.mark.parametrize("mark", [".sync_1f2e.db", ".barnbox", ".barnbox.cache", ".stsyncfolder"])
def test_that_what_a_sync_program_leaves_behind_is_recognised(tmp_path: Path, mark: str) -> None:
    folder = tmp_path / "Barnbox" / "cooks"
    folder.mkdir(parents=True)
    (tmp_path / "Barnbox" / mark).mkdir()
    assert place_of(folder).synced == tmp_path / "Barnbox"


def test_that_a_second_database_of_a_conflict_is_told(tmp_path: Path) -> None:
    (tmp_path / "journal.sqlite").touch()
    (tmp_path / "journal-old.sqlite").touch()
    name = "journal (conflicted copy 2026-11-14).sqlite"
    (tmp_path / name).touch()
    found = place_of(tmp_path)
    assert found.copies == (name,)
    assert name in found.words


def test_that_a_folder_that_is_gone_says_nothing(tmp_path: Path) -> None:
    assert place_of(tmp_path / "nowhere").words == ""


class _Drives:
    """What Windows says of drives: Z lies elsewhere (GetDriveType: 4 remote, 3 fixed)."""

    class kernel32:  # noqa: N801 - as Windows spells it
        @staticmethod
        def GetDriveTypeW(anchor: str) -> int:  # noqa: N802 - likewise
            return 4 if anchor.startswith("Z") else 3


def test_that_windows_tells_a_share_and_a_drive_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    assert place._windows_network(PureWindowsPath("Z:/cooks")) == ""  # type: ignore[arg-type] # as there
    monkeypatch.setattr(ctypes, "windll", _Drives, raising=False)
    for folder, kind in ((r"\\barn\cooks", "share"), ("Z:/cooks", "drive"), ("C:/cooks", "")):
        assert place._windows_network(PureWindowsPath(folder)) == kind  # type: ignore[arg-type] # as there
