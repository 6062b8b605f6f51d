"""Damage to a journal's database: ``python -m tests.torture.damage 500``.

Bits flip, pages are lost, swapped or filled, files are cut or emptied, logs are garbled, rows get
values that no record has. Whatever is asked of the journal then is answered or refused in a clear
line; nothing ends the program; a salvage brings what can be read; and the newest backup brings
back all that was there when it was made.
"""

import random
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from functools import partial
from pathlib import Path

import numpy as np

from pitjournal.analysis.trends.question import By, Question
from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Photo
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.errors import JournalError
from pitjournal.files.samples import pack
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.backups.restoring import newest_backup, restore
from pitjournal.journal.backups.salvage import salvage
from pitjournal.journal.checks import check_folder
from pitjournal.journal.commands.files import KeepPhotos, KeepProbeFile
from pitjournal.journal.commands.records import AddCook, Change
from pitjournal.journal.repair import repair_folder
from pitjournal.store.schema import TABLES
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook, add_comparison, add_judged
from tests.torture.by_seed import by_seed
from tests.torture.script import run_by_name

PAGE = 4096
COOKS = 24


def make(folder: Path) -> None:
    """Make a journal with all sorts of records and worked-out values, and a backup of it."""
    with by_seed(0), closing(open_journal(folder, new=True)) as journal:
        for number in range(COOKS):
            journal.do(add_comparison(f"Cook {number}"))
        add_judged(journal, "Judged", [(6.0, 7.0), (5.0, 6.0), (7.0, 8.0)])
        for line in journal.cooks.page()[:3]:
            keep_files(journal, line.id)
        journal.values()
    settle(folder / "journal.sqlite")
    with closing(open_journal(folder)) as journal:
        journal.backups.make("by-hand")


def settle(path: Path) -> None:
    """Lay everything into the same pages each time: indexes come in the order of a set."""
    query = "SELECT name, sql FROM sqlite_schema WHERE type = 'index' AND sql <> '' ORDER BY name"
    with closing(sqlite3.connect(path)) as connection:
        for name, made in connection.execute(query).fetchall():
            connection.execute(f"DROP INDEX {name}")
            connection.execute(made)
        connection.commit()
        connection.execute("VACUUM")


def keep_files(journal: Journal, cook_id: str) -> None:
    """Give a cook a photo and a probe file with a trace, each with kept files of its own."""
    log, large, small = (
        journal.files.keep(f"{what} of {cook_id}".encode(), "text/plain", f"{what}.txt")
        for what in ("log", "large", "small")
    )
    times = NOON.timestamp() + 60.0 * np.arange(30, dtype=np.float64)
    readings = pack(Samples(times, np.full(30, 70.0, np.float32)))
    samples = journal.files.keep(readings, "application/octet-stream", "log.txt, pit")
    file = ProbeFile(cook_id=cook_id, name="log.txt", attachment=log.sha, added_at=NOON)
    trace = Trace(
        cook_id=cook_id,
        probe_file_id=file.id,
        channel="pit",
        unit_in_file="°C",
        sits=Sits.PIT,
        samples=samples.sha,
        count=30,
        starts_at=NOON,
        ends_at=NOON + timedelta(minutes=29),
        interval=60.0,
    )
    journal.do(KeepProbeFile(file, (trace,), (log, samples)))
    photo = Photo(
        cook_id=cook_id,
        name="large.txt",
        attachment=large.sha,
        thumbnail=small.sha,
        width=4,
        height=3,
    )
    journal.do(KeepPhotos((photo,), (large, small)))


def flipped(data: bytearray, draw: random.Random) -> None:
    """Flip some bits anywhere."""
    for _ in range(draw.choice((1, 4, 64, 1000))):
        data[draw.randrange(len(data))] ^= 1 << draw.randrange(8)


def filled(data: bytearray, draw: random.Random) -> None:
    """Fill some pages with zeros, ones or noise."""
    for _ in range(draw.choice((1, 2, 8))):
        page = draw.randrange(len(data) // PAGE) * PAGE
        fill = draw.choice((b"\0" * PAGE, b"\xff" * PAGE, draw.randbytes(PAGE)))
        data[page : page + PAGE] = fill


def swapped(data: bytearray, draw: random.Random) -> None:
    """Swap two pages."""
    one, two = (draw.randrange(len(data) // PAGE) * PAGE for _ in range(2))
    data[one : one + PAGE], data[two : two + PAGE] = (
        data[two : two + PAGE],
        data[one : one + PAGE],
    )


def cut(data: bytearray, draw: random.Random) -> None:
    """Cut the end off."""
    del data[draw.randrange(len(data)) :]


def beheaded(data: bytearray, draw: random.Random) -> None:
    """Destroy the beginning, or words of the schema in it."""
    size = draw.choice((16, 100, 600, PAGE))
    start = 0 if size <= 100 else draw.choice((0, 100))
    data[start:size] = draw.randbytes(size - start)


ON_BYTES = (flipped, filled, swapped, cut, beheaded)

_ODD: tuple[object, ...] = (
    "smouldering",
    "",
    "2026-13-45",
    "not a time",
    '{"a": ',
    "[1, 2",
    b"\xff\xfe",
    -1,
    3.5,
    10**18,
    float("inf"),
    None,
    "x" * 5000,
)


def rows(path: Path, draw: random.Random) -> None:
    """Give some rows values that no program wrote."""
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        for _ in range(draw.choice((1, 3, 20))):
            table = TABLES[draw.choice(list(TABLES))]
            column = draw.choice(list(table.c)).name
            value = draw.choice(_ODD)
            there = [number for (number,) in connection.execute(f"SELECT rowid FROM {table.name}")]
            some = [(value, number) for number in draw.sample(there, min(2, len(there)))]
            try:
                connection.executemany(
                    f'UPDATE {table.name} SET "{column}" = ? WHERE rowid = ?', some
                )
            except sqlite3.IntegrityError:
                continue  # the database itself would not have it


def damage(folder: Path, draw: random.Random) -> str:
    """Damage a journal; return how."""
    path = folder / "journal.sqlite"
    if draw.random() < 0.25:
        rows(path, draw)
        return "rows"
    how = draw.choice(ON_BYTES)
    data = bytearray(path.read_bytes())
    how(data, draw)
    path.write_bytes(data)
    if draw.random() < 0.1:
        (folder / "journal.sqlite-wal").write_bytes(draw.randbytes(draw.randrange(1, 20_000)))
    return how.__name__


class Tried:
    """What was asked of a damaged journal, and what came of it."""

    def __init__(self) -> None:
        self.answered = self.refused = self.opened = self.whole = 0
        self.salvaged = self.could_be = 0
        self.wrong: list[str] = []

    def ask(self, what: str, work: Callable[[], object]) -> bool:
        """Ask; a clear line is as good as an answer, anything else is wrong."""
        try:
            work()
        except JournalError as error:
            self.refused += 1
            if "\n" in str(error):
                self.wrong.append(f"{what}: more than a line: {error}")
            return False
        except Exception as error:  # noqa: BLE001 - any other is what is looked for
            self.wrong.append(f"{what}: {type(error).__name__}: {error}"[:300])
            return False
        self.answered += 1
        return True

    def read(self, journal: Journal, how: str) -> None:
        """Ask for all that a page would show."""
        cooks: list[str] = []

        def find() -> None:
            cooks.extend(line.id for line in journal.cooks.page())

        self.ask(f"{how}, the list", find)
        self.ask(f"{how}, a search", lambda: journal.cooks.page("cook"))
        self.ask(f"{how}, whole cooks", lambda: journal.wholes(cooks))
        for cook_id in cooks[:3]:
            self.ask(f"{how}, a cook", partial(journal.whole, cook_id))
            self.ask(f"{how}, findings", partial(journal.findings.of, cook_id))
        self.ask(f"{how}, headlines", lambda: journal.findings.headlines(cooks, UnitSystem.US))
        self.ask(f"{how}, values", journal.values)
        question = Question("thickness", (By("cut"),))
        self.ask(f"{how}, a question", lambda: journal.trends.ask(question, UnitSystem.US))
        self.ask(f"{how}, the catalogue", journal.catalogue)
        self.ask(f"{how}, the steps", journal.steps)
        self.ask(f"{how}, an edit", lambda: journal.do(AddCook(a_cook("New"))))
        change = Change(Cook, cooks[0] if cooks else "", {"note": "changed"})
        self.ask(f"{how}, a change", lambda: journal.do(change))
        self.ask(f"{how}, undo", journal.undo)
        self.ask(f"{how}, redo", journal.redo)
        self.ask(f"{how}, a backup", lambda: journal.backups.make("hour"))


def one(good: Path, folder: Path, draw: random.Random, tried: Tried) -> None:
    """Damage a copy of the journal and ask everything of it."""
    shutil.copytree(good, folder)
    how = damage(folder, draw)
    damaged = folder.with_name("damaged")
    shutil.copytree(folder, damaged)

    def read() -> None:
        with closing(open_journal(folder)) as journal:
            tried.opened += 1
            tried.read(journal, how)

    tried.ask(f"{how}, opening", read)
    tried.ask(f"{how}, a check", lambda: check_folder(damaged))
    target = folder.with_name("salvaged")
    if tried.ask(f"{how}, a salvage", lambda: salvage(damaged, target)):
        with closing(open_journal(target)) as journal:
            tried.salvaged += journal.cooks.count()
        tried.could_be += COOKS + 1
        found = check_folder(target)
        # A digit may have become another one: what cannot be is named, and stays.
        if not replace(found, impossible=()).held:
            tried.wrong.append(f"{how}: what was salvaged does not hold: {found.as_json()}")
    tried.ask(f"{how}, a repair", lambda: repair_folder(damaged))
    restore(folder, newest_backup(good))
    with closing(open_journal(folder, read_only=True)) as journal:
        if journal.cooks.count() != COOKS + 1:
            tried.wrong.append(f"{how}: the restored journal has {journal.cooks.count()} cooks")
    if not check_folder(folder).held:
        tried.wrong.append(f"{how}: the restored journal does not hold")


def work(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Damage so many copies of a journal."""
    tried = Tried()
    with tempfile.TemporaryDirectory() as name:
        good = Path(name) / "good"
        make(good)
        for number in range(rounds):
            before = len(tried.wrong)
            with tempfile.TemporaryDirectory(dir=name) as place, by_seed(seed + number):
                one(good, Path(place) / "cooks", random.Random(seed + number), tried)
            tried.wrong[before:] = [f"seed {seed + number}: {w}" for w in tried.wrong[before:]]
    share = f"{100 * tried.salvaged / max(tried.could_be, 1):.1f} %"
    figures = {
        "damaged": rounds,
        "opened": tried.opened,
        "answered": tried.answered,
        "refused in a line": tried.refused,
        "cooks salvaged": share,
        "faults": len(tried.wrong),
    }
    return figures, tried.wrong


if __name__ == "__main__":
    raise SystemExit(run_by_name("damage", 500, work))
