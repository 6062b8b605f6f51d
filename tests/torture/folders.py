"""A folder that goes away under an open journal: ``python -m tests.torture.folders 200``.

Between edits the journal's folder, its parent, its database or its log is moved, deleted,
replaced by an older copy, a whole copy or another journal, cut off, made read-only or forbidden,
and brought back. What was acknowledged must be in the one journal it was acknowledged in, nothing may
be written into another, no folder may be made, and what waited must be saved once all is back.
Permissions are tried as nobody, for root may do everything.
"""

import contextlib
import os
import random
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing
from pathlib import Path

from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.records import AddCook
from pitjournal.store.faults import NotSavedError
from pitjournal.store.opening import LOCK_NAME
from tests.builders import a_cook
from tests.torture.script import run_by_name

NOBODY = 65534


@contextlib.contextmanager
def as_nobody(root: Path) -> Iterator[None]:
    """Work without the rights of root, where this is root."""
    if os.geteuid() != 0:
        yield
        return
    for path in (root, *root.rglob("*")):
        os.chown(path, NOBODY, NOBODY, follow_symlinks=False)
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


def titles(folder: Path) -> list[str]:
    """Return the titles in the database of a folder, as another program reads them."""
    address = f"{(folder / 'journal.sqlite').as_uri()}?mode=ro"
    with closing(sqlite3.connect(address, uri=True)) as connection:
        return [title for (title,) in connection.execute("SELECT title FROM cook")]


class Round:
    """One journal, one thing that happens to it, and the way back."""

    def __init__(self, root: Path, draw: random.Random) -> None:
        self.root, self.draw = root, draw
        self.folder = root / "parent" / "cooks"
        self.away = root / "away"
        self.acked: list[str] = []
        self.held: list[Command] = []
        self.wrong: list[str] = []
        self.number = 0
        self.settle: Callable[[], object] = lambda: None

    def edit(self, journal: Journal) -> None:
        """Add a cook, behind those that wait."""
        self.number += 1
        self.held.append(AddCook(a_cook(f"Cook {self.number}")))
        self.save(journal)

    def save(self, journal: Journal) -> None:
        """Try to save what waits, in order."""
        while self.held:
            command = self.held[0]
            try:
                journal.do(command)
            except NotSavedError:
                return
            assert isinstance(command, AddCook)
            self.acked.append(command.cook.title)
            self.held.pop(0)

    # what happens: each returns the way back, and where the journal is meanwhile

    def moved(self) -> tuple[Callable[[], object], Path | None]:
        """The folder goes elsewhere."""
        self.folder.rename(self.away)
        return lambda: self.away.rename(self.folder), self.away

    def parent_moved(self) -> tuple[Callable[[], object], Path | None]:
        """The folder it lies in goes elsewhere."""
        self.folder.parent.rename(self.away)
        return lambda: self.away.rename(self.folder.parent), self.away / "cooks"

    def database_moved(self) -> tuple[Callable[[], object], Path | None]:
        """The database's file goes elsewhere, its log stays."""
        path = self.folder / "journal.sqlite"
        path.rename(self.root / "database")
        return lambda: (self.root / "database").rename(path), None

    def replaced(self) -> tuple[Callable[[], object], Path | None]:
        """Another journal lies in its place."""
        self.folder.rename(self.away)
        with closing(open_journal(self.folder, new=True)) as other:
            other.do(AddCook(a_cook("Somebody else's")))

        def back() -> None:
            if titles(self.folder) != ["Somebody else's"]:
                self.wrong.append(f"written into another journal: {titles(self.folder)}")
            shutil.rmtree(self.folder)
            self.away.rename(self.folder)

        return back, self.away

    def copied(self) -> tuple[Callable[[], object], Path | None]:
        """A whole copy comes in its place: it is gone on with."""
        shutil.copytree(self.folder, self.away, ignore=shutil.ignore_patterns(LOCK_NAME))
        shutil.rmtree(self.folder)
        self.away.rename(self.folder)
        return lambda: None, None

    def log_removed(self) -> tuple[Callable[[], object], Path | None]:
        """The write-ahead log is deleted."""
        (self.folder / "journal.sqlite-wal").unlink()
        return lambda: None, None

    def index_cut(self) -> tuple[Callable[[], object], Path | None]:
        """What SQLite has mapped of the log's index is cut off, whole or in part."""
        os.truncate(self.folder / "journal.sqlite-shm", self.draw.choice((0, 100, 16384)))
        return lambda: None, None

    def log_cut(self) -> tuple[Callable[[], object], Path | None]:
        """The log is cut off after the window had a moment of rest."""
        self.settle()
        os.truncate(self.folder / "journal.sqlite-wal", self.draw.choice((0, 100, 5000)))
        return lambda: None, None

    def read_only(self) -> tuple[Callable[[], object], Path | None]:
        """The folder and its files can only be read from now on."""
        return self._rights(0o555, 0o444)

    def forbidden(self) -> tuple[Callable[[], object], Path | None]:
        """The folder cannot be entered from now on."""
        self.folder.parent.chmod(0o000)
        return lambda: self.folder.parent.chmod(0o755), None

    def _rights(self, folder: int, file: int) -> tuple[Callable[[], object], Path | None]:
        def give(folder: int, file: int) -> None:
            for path in self.folder.rglob("*"):
                path.chmod(folder if path.is_dir() else file)
            self.folder.chmod(folder)

        def back() -> None:
            self.folder.chmod(0o755)
            give(0o755, 0o644)

        give(folder, file)
        return back, None

    EVENTS = (
        moved,
        parent_moved,
        database_moved,
        replaced,
        copied,
        log_removed,
        index_cut,
        log_cut,
        read_only,
        forbidden,
    )

    def run(self, number: int) -> None:
        """Edit, let something happen, edit, bring it back, and look."""
        happens = self.EVENTS[number % len(self.EVENTS)]
        with closing(open_journal(self.folder, new=True)) as journal:
            for _ in range(self.draw.randint(1, 4)):
                self.edit(journal)
            self.settle = journal.database.settle
            back, here = happens(self)
            before = len(self.acked)
            for _ in range(self.draw.randint(1, 4)):
                self.edit(journal)
                self._keep_file(journal)
            if here is not None:
                self._must_be(here, self.acked, happens.__name__)
                if len(self.acked) > before:
                    self.wrong.append(f"{happens.__name__}: saved, and its folder is elsewhere")
            back()
            self.edit(journal)
            if self.held:
                self.wrong.append(f"{happens.__name__}: {len(self.held)} still wait")
            self._must_be(self.folder, self.acked, happens.__name__)
        with closing(open_journal(self.folder)) as again:
            if again.read_only or again.database.integrity() != (True, True):
                self.wrong.append(f"{happens.__name__}: does not hold afterwards")
        self._must_be(self.folder, self.acked, happens.__name__)

    @staticmethod
    def _keep_file(journal: Journal) -> None:
        with contextlib.suppress(NotSavedError):
            journal.files.keep(os.urandom(64), "image/jpeg", "a photo")

    def _must_be(self, folder: Path, wanted: list[str], what: str) -> None:
        there = titles(folder)
        if sorted(there) != sorted(wanted):
            self.wrong.append(f"{what}: {len(wanted)} acknowledged, {len(there)} there")


def work(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Let each thing happen in turn."""
    wrong: list[str] = []
    acked = 0
    for number in range(rounds):
        with tempfile.TemporaryDirectory() as name:
            root = Path(name)
            (root / "parent").mkdir()
            with as_nobody(root):
                told = Round(root, random.Random(seed + number))
                try:
                    told.run(number)
                except (JournalError, OSError, sqlite3.Error) as error:
                    told.wrong.append(
                        f"{Round.EVENTS[number % len(Round.EVENTS)].__name__}: {error!r}"
                    )
            wrong += told.wrong
            acked += len(told.acked)
    return {"rounds": rounds, "acknowledged": acked, "lost or astray": len(wrong)}, wrong


if __name__ == "__main__":
    raise SystemExit(run_by_name("folders", 200, work))
