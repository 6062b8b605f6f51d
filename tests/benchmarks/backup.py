"""The next backup of ten thousand cooks with hundreds of files, against a copy of the database.

Files that a backup has already are neither copied nor read again. Times are of the processor,
user and system.
"""

import shutil
import sqlite3
import tempfile
import time
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import numpy as np

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Photo
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.backups.keeping import FILES
from pitjournal.journal.commands.files import KeepPhotos
from pitjournal.journal.commands.records import Change
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import Measurement, alternately, rounds, size

LIMIT, MOST = 2.5, 1.5
COOKS = 10_000
PHOTOS, BYTES = size(400, 20), 250_000
ROUNDS = rounds(5)


def keep_photos(
    journal: Journal, cook: Cook, lot: np.random.Generator, count: int, length: int
) -> None:
    """Keep photos of a cook, each of so many bytes that no compression makes less."""
    small = journal.files.keep(lot.bytes(1_000), "image/jpeg", "small.jpg")
    files = [journal.files.keep(lot.bytes(length), "image/jpeg", f"{n}.jpg") for n in range(count)]
    photos = tuple(
        Photo(
            cook_id=cook.id,
            name=file.name,
            attachment=file.sha,
            thumbnail=small.sha,
            width=1600,
            height=1200,
            taken_at=cook.starts_at + timedelta(minutes=place),
        )
        for place, file in enumerate(files)
    )
    journal.do(KeepPhotos(photos, (small, *files)))


def seen(folder: Path) -> dict[str, tuple[int, int, int]]:
    """Return of each copied file by name what tells that it was written or read again."""
    found = {path: path.stat() for path in (folder / FILES).rglob("*") if path.is_file()}
    return {path.name: (at.st_ino, at.st_mtime_ns, at.st_size) for path, at in found.items()}


def copied(source: Path, target: Path) -> None:
    """Copy a database, and look whether the copy is whole, as a backup must."""
    target.unlink(missing_ok=True)
    with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(target)) as new:
        old.backup(new)
        assert new.execute("PRAGMA quick_check").fetchone() == ("ok",)


def run() -> Measurement:
    """Measure the next backups after a first one that copies all."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "journal"
        shutil.copytree(large_journal(COOKS), folder)
        with closing(open_journal(folder)) as journal:
            cook = journal.whole(journal.cooks.page("", 0, 1)[0].id).cook
            keep_photos(journal, cook, np.random.default_rng(8), PHOTOS, BYTES)
            journal.backups.make("hour")
            before, times = seen(journal.backups.folder), iter(range(10_000))
            if len(before) != PHOTOS + 1:
                raise AssertionError(f"{len(before)} files of {PHOTOS + 1} were copied")

            def ours() -> None:
                title = {"title": f"Wind from the east {next(times)}"}
                journal.do(Change(Cook, cook.id, title, "Title"))
                journal.backups.make("hour")

            def peer() -> None:
                copied(folder / "journal.sqlite", Path(name) / "copy.sqlite")

            took, plain = alternately(ours, peer, ROUNDS, time.process_time)
            if seen(journal.backups.folder) != before:
                raise AssertionError("a file that was copied before was copied again")
    return Measurement("backup", took, plain, LIMIT, most=MOST)
