"""A disk that is full at every write: ``python -m tests.torture.disk_full 120``.

The fault is put in below SQLite and below our own writing of files, by the kernel: on a small
disk in memory of its own, filled but for so many pages, where this may be mounted (as root on
Linux), else by a limit on how large a file may grow (RLIMIT_FSIZE: the write beyond it fails with
EFBIG, also half-way through a page). Round after round one page more is left, so that each write
of a tap, a typed note, a photo, an import, a backup, a restore, derived values and an undo is the
one that fails. Nothing acknowledged may be lost or by half, only a clear line may be said, and all
of it must work once there is room.
"""

import contextlib
import os
import random
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from pathlib import Path

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Event, EventKind, Photo
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.attaching import attach_photos
from pitjournal.journal.backups import backup
from pitjournal.journal.backups.restoring import restore
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.bring import BringCooks
from pitjournal.journal.commands.records import Change
from pitjournal.store import copies, replacing
from tests.builders import a_cook, an_event
from tests.torture.killed import a_photo, make, the_cook
from tests.torture.script import run_by_name

PAGE = 4096
DISK = 24 * 1024 * 1024
"""Bytes of the disk in memory."""

Room = Callable[[int | None], None]
"""Leaves so many pages; None for as many as there are."""


@contextlib.contextmanager
def small_disk() -> Iterator[tuple[Path, Room, str]]:
    """Give a folder on a disk whose room can be told, and how that is done."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        mount = ["mount", "-t", "tmpfs", "-o", f"size={DISK}", "tmpfs", name]
        if _may_mount() and subprocess.run(mount, check=False, capture_output=True).returncode == 0:
            try:
                yield folder, _ballast(folder), "disk in memory"
            finally:
                subprocess.run(["umount", "-l", name], check=False)
        else:
            try:
                yield folder, _limit(folder), "limit on files"
            finally:
                _limit(folder)(None)


def _may_mount() -> bool:
    return sys.platform.startswith("linux") and os.geteuid() == 0 and not os.environ.get("NO_MOUNT")


def _ballast(folder: Path) -> Room:
    ballast = folder / "ballast"

    def leave(pages: int | None) -> None:
        ballast.unlink(missing_ok=True)
        if pages is not None:
            free = os.statvfs(folder).f_bavail * os.statvfs(folder).f_frsize
            with ballast.open("wb") as file:
                file.write(b"\0" * max(0, free - pages * PAGE))

    return leave


def _limit(folder: Path) -> Room:
    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)

    def leave(pages: int | None) -> None:
        if pages is None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
            return
        sizes = [path.stat().st_size for path in folder.rglob("*.sqlite*")]
        log = [path.stat().st_size for path in folder.rglob("*.sqlite-wal")]
        # Odd, so that a write is also cut in the middle of a page.
        room = (max(log, default=0) if pages % 2 else min(sizes, default=0)) + pages * PAGE + 17
        resource.setrlimit(resource.RLIMIT_FSIZE, (room, most))

    return leave


class Round:
    """Works on a journal while there is little room, and says what was acknowledged."""

    def __init__(self, journal: Journal, number: int) -> None:
        self.journal, self.number = journal, number
        self.events: list[str] = []
        self.photos: list[str] = []
        self.batches: list[str] = []
        self.notes: list[str] = []
        self.refused = 0
        self.wrong: list[str] = []

    def steps(self) -> tuple[Callable[[], object], ...]:
        """Return what is done."""
        return (
            self._tap,
            self._type,
            self._photo,
            self._bring,
            self.journal.values,
            lambda: self.journal.backups.make("hour"),
            lambda: backup(self.journal.database),
            self._undo,
            self._tap,
        )

    def work(self, steps: tuple[Callable[[], object], ...]) -> None:
        """Do all of it; what is refused must be refused in a clear line."""
        for step in steps:
            try:
                step()
            except JournalError as error:
                self.refused += 1
                if "\n" in str(error) or not error.hint:
                    self.wrong.append(f"no clear line: {error}")
            except Exception as error:  # noqa: BLE001 - any other is what is looked for
                self.wrong.append(f"{type(error).__name__} with little room: {error}")

    def _tap(self) -> None:
        event = an_event(the_cook(self.journal).id, EventKind.LID, minutes=self.number)
        self.journal.do(LogEvent(event, "Lid"))
        self.events.append(event.id)

    def _type(self) -> None:
        note = f"Round {self.number}: " + "thin blue smoke " * 400
        self.journal.do(Change(Cook, the_cook(self.journal).id, {"note": note}))
        self.notes.append(note)

    def _photo(self) -> None:
        photo = (f"{self.number}.jpg", a_photo(self.number))
        command = attach_photos(self.journal, the_cook(self.journal).id, [photo])
        self.journal.do(command)
        self.photos.append(f"{self.number}.jpg")

    def _bring(self) -> None:
        title = f"Batch {self.number}"
        cooks = tuple(a_cook(title, note="n" * 600) for _ in range(10))
        self.journal.do(BringCooks(cooks, "Bring cooks along"))
        self.batches.append(title)

    def _undo(self) -> None:
        event = an_event(the_cook(self.journal).id, EventKind.FLIP, minutes=self.number)
        self.journal.do(LogEvent(event, "Flip"))
        try:
            self.journal.undo()
        except JournalError:
            self.events.append(event.id)
            raise

    def look(self, journal: Journal) -> None:
        """Compare what is there with what was acknowledged."""
        events = {event.id for event in journal.find(Event)}
        photos = {photo.name for photo in journal.find(Photo)}
        titles = [cook.title for cook in journal.find(Cook)]
        lost = len(set(self.events) - events) + len(set(self.photos) - photos)
        lost += sum(titles.count(name) != 10 for name in self.batches)
        lost += bool(self.notes) and the_cook(journal).note != self.notes[-1]
        halves = sum(
            titles.count(name) % 10 for name in {t for t in titles if t.startswith("Batch")}
        )
        if lost or halves:
            self.wrong.append(f"round {self.number}: {lost} lost, {halves} by half")
        found = check_journal(journal)
        if not found.held:
            self.wrong.append(f"round {self.number}: {found.as_json()}")
        for copy in journal.backups.kept():
            if not replacing.can_be_read(copy.path):
                self.wrong.append(f"round {self.number}: {copy.path.name} counts, is not whole")


def one(folder: Path, leave: Room, pages: int, number: int) -> Round:
    """Work with so many pages left, then with room; look each time."""
    with closing(open_journal(folder)) as journal:
        told = Round(journal, number)
        leave(pages)
        try:
            told.work(told.steps())
        finally:
            leave(None)
        told.look(journal)
        before, told.refused = told.refused, 0
        told.work(told.steps()[:2])
        if told.refused:
            told.wrong.append(f"round {number}: refused though there is room again")
        told.refused = before
    leave(pages)
    try:
        kept = copies.kept(folder / "backups")
        if kept and number % 3 == 0:
            told.work((lambda: restore(folder, kept[-1].path),))
            told.events.clear()  # a restore takes them back, and they are in its backup
            for acknowledged in (told.notes, told.photos, told.batches):
                acknowledged.clear()
    finally:
        leave(None)
    with closing(open_journal(folder)) as journal:
        told.look(journal)
    return told


def work(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Leave one page more in each round."""
    draw = random.Random(seed)
    wrong: list[str] = []
    refused = acknowledged = 0
    with small_disk() as (disk, leave, how):
        folder = disk / "cooks"
        make(folder)
        for number in range(rounds):
            if number % 20 == 19:  # a large journal would leave no room to try anything in
                for path in sorted(folder.rglob("*"), reverse=True):
                    path.unlink() if path.is_file() else path.rmdir()
                make(folder)
            pages = number if number < rounds // 2 else draw.randrange(rounds * 2)
            told = one(folder, leave, pages, number)
            wrong += told.wrong
            refused += told.refused
            acknowledged += len(told.events) + len(told.photos) + len(told.notes)
    figures = {
        "rounds": rounds,
        "by": how,
        "refused": refused,
        "acknowledged": acknowledged,
        "lost or by half": len(wrong),
    }
    if not refused:
        wrong.append("nothing was refused: the disk was never full")
    return figures, wrong


if __name__ == "__main__":
    raise SystemExit(run_by_name("disk_full", 120, work))
