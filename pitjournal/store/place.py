"""What sort of place a journal lies in: a network drive, or a folder that a program syncs."""

import re
import sys
from dataclasses import dataclass
from pathlib import Path

_NETWORK = {
    "9p",
    "afs",
    "afpfs",
    "beegfs",
    "ceph",
    "cifs",
    "coda",
    "davfs",
    "fuse.davfs2",
    "fuse.rclone",
    "fuse.sshfs",
    "gfs2",
    "glusterfs",
    "fuse.glusterfs",
    "lustre",
    "ncpfs",
    "nfs",
    "nfs4",
    "ocfs2",
    "orangefs",
    "smb3",
    "smbfs",
    "virtiofs",
    "webdav",
}
"""Types of file systems that lie on another machine, as the kernel names them."""

_SYNCED = re.compile(r"cloud|sync|[a-z] ?drive$", re.IGNORECASE)
"""In the name of a folder, or of a hidden thing in it."""

_COPY = re.compile(r"conflict|\bcopy\b|\(\d+\)|-[A-Z0-9-]{6,}$", re.IGNORECASE)
_PLACEHOLDER = 0x00400000
"""A file that lies elsewhere until it is read (Windows: FILE_ATTRIBUTE_RECALL_ON_DATA_ACCESS)."""

_ELSEWHERE = 4
"""GetDriveType's answer for a drive on another machine (Windows: DRIVE_REMOTE)."""


@dataclass(frozen=True)
class Place:
    """Where a journal lies.

    Attributes
    ----------
    network
        The type of the network drive, or nothing.
    synced
        The folder that a program seems to sync, or None.
    copies
        Databases beside the journal's own, as a program leaves them that met two versions.
    names
        How many names its database has: more than one are hard links.
    """

    network: str = ""
    synced: Path | None = None
    copies: tuple[str, ...] = ()
    names: int = 1

    @property
    def words(self) -> str:
        """What a cook should know of it, or nothing."""
        said = []
        if self.network:
            said.append(
                "This journal lies on a network drive. Use it on one computer at a time; when "
                "the network fails, what you log waits until it is back."
            )
        elif self.synced is not None:
            said.append(
                f"This journal seems to lie in a synced folder ({self.synced.name}). Use it on "
                "one computer at a time, and let the sync finish before you open it elsewhere."
            )
        if self.copies:
            names = ", ".join(self.copies[:3])
            said.append(
                f"Another copy of its database lies beside it: {names}. It is not read; open "
                "it as a backup to see what differs."
            )
        if self.names > 1:  # sqlite.org, "How To Corrupt An SQLite Database File", 2.5
            said.append(
                "Its database has a second name in another folder (a hard link). Open it here "
                "only: opened by both names it would be damaged."
            )
        return " ".join(said)


def place_of(folder: Path) -> Place:
    """Say what sort of place a journal's folder is; what cannot be found out is left out."""
    try:
        here = folder.expanduser().resolve()
        return Place(_network(here), _synced(here), _copies(here), _names(here))
    except OSError:
        return Place()


def _network(folder: Path) -> str:
    if sys.platform == "win32":
        return _windows_network(folder)
    try:
        table = Path("/proc/self/mountinfo").read_text(encoding="utf-8", errors="replace")
    except OSError:
        return ""
    return network_in(table, folder)


def network_in(table: str, folder: Path) -> str:
    """Return the type of the network drive that a folder is on, by the kernel's table of mounts.

    The table is of ``/proc/self/mountinfo`` (proc_pid_mountinfo(5)); nothing where it is none.
    """
    best, kind = -1, ""
    for line in table.splitlines():
        left, dash, right = line.partition(" - ")
        fields = left.split(" ")
        if not dash or len(fields) < 5:
            continue
        point = Path(re.sub(r"\\(\d{3})", lambda found: chr(int(found[1], 8)), fields[4]))
        if (folder == point or point in folder.parents) and len(point.parts) >= best:
            best, kind = len(point.parts), right.split(" ", 1)[0]
    return kind if kind in _NETWORK else ""


def _windows_network(folder: Path) -> str:
    import ctypes  # noqa: PLC0415 - of Windows only

    if str(folder).startswith("\\\\"):
        return "share"
    windll = getattr(ctypes, "windll", None)
    if windll is None:
        return ""
    return "drive" if windll.kernel32.GetDriveTypeW(folder.anchor) == _ELSEWHERE else ""


def _synced(folder: Path) -> Path | None:
    home = Path.home()
    for parent in (folder, *folder.parents):
        if parent in {home, Path(parent.anchor)}:
            break
        if _SYNCED.search(parent.name) or _is_marked(parent):
            return parent
    return folder if _is_placeholder(folder) else None


def _is_marked(folder: Path) -> bool:
    """Whether there is a hidden thing that a sync program leaves: named so, or like its folder."""
    own = re.sub(r"\W", "", folder.name).lower()
    try:
        names = [path.name for path in folder.iterdir() if path.name.startswith(".")]
    except OSError:
        return False
    bare = [re.sub(r"\W", "", name).lower() for name in names]
    named = any("sync" in name or "cloud" in name for name in bare)
    return named or (len(own) > 4 and any(name.startswith(own) for name in bare))


def _is_placeholder(folder: Path) -> bool:
    return bool(getattr(folder.stat(), "st_file_attributes", 0) & _PLACEHOLDER)


def _names(folder: Path) -> int:
    path = folder / "journal.sqlite"
    return path.stat().st_nlink if path.exists() else 1


def _copies(folder: Path) -> tuple[str, ...]:
    found = (path for path in folder.glob("journal*.sqlite") if path.name != "journal.sqlite")
    return tuple(sorted(path.name for path in found if _COPY.search(path.stem[7:])))
