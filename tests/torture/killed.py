"""Does one thing again and again until it is killed: ``python -m tests.torture.killed WHAT FOLDER``.

Each line it writes was acknowledged: it is written only after the journal said that it is kept.
"""

import io
import itertools
import os
import random
import sqlite3
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from PIL import Image

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.tasting import Sample, Tasting
from pitjournal.files.schemes import shipped
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.attaching import attach_photos
from pitjournal.journal.backups.restoring import restore
from pitjournal.journal.backups.salvage import salvage
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.bring import BringCooks
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.files import KeepPhotos
from pitjournal.journal.commands.records import Change
from pitjournal.journal.commands.tasting import GiveScore
from pitjournal.journal.repair import repair_folder
from pitjournal.store import copies
from tests.builders import NOON, a_cook, add_comparison, three_arms

TYPED = "Smoke clean and thin, pit steady, the fat side up and the bark set well by noon. "
PANEL = ("Ada", "Bruno", "Clio")
BATCH = 12
"""So many cooks come in one import."""


def make(folder: Path) -> None:
    """Make a journal with a running cook, a drawn tasting and two backups that differ."""
    with closing(open_journal(folder, new=True)) as journal:
        command = add_comparison("The cook")
        journal.do(command)
        scheme = shipped("home-panel-1")
        journal.do(DrawTasting(command.cook.id, PANEL, 7, scheme))
        for title in ("The cook", "The other"):
            journal.do(Change(Cook, command.cook.id, {"title": title}))
            journal.backups.make("by-hand")


def the_cook(journal: Journal) -> Cook:
    """Return the first cook."""
    return min(journal.find(Cook), key=lambda cook: cook.number)


def a_photo(number: int) -> bytes:
    """Return a photo like no other."""
    draw = random.Random(number)
    picture = Image.frombytes("RGB", (64, 48), draw.randbytes(64 * 48 * 3))
    file = io.BytesIO()
    picture.save(file, "JPEG")
    return file.getvalue()


def taps(journal: Journal, start: int) -> Iterator[str]:
    """Log events; each acknowledged one by its id."""
    cook = the_cook(journal)
    for number in itertools.count(start):
        moment = NOON + timedelta(seconds=number)
        event = Event(cook_id=cook.id, kind=EventKind.LID, happened_at=moment, entered_at=moment)
        journal.do(LogEvent(event, "Lid"))
        yield event.id


def typing(journal: Journal, start: int) -> Iterator[str]:
    """Type on in a note, which saves itself; acknowledged is how long it is."""
    cook = the_cook(journal)
    for number in itertools.count(start + 1):
        whole = (TYPED * (number // len(TYPED) + 1))[:number]
        journal.do(Change(Cook, cook.id, {"note": whole}))
        yield str(number)


def scores(journal: Journal, start: int) -> Iterator[str]:
    """Score samples as fast as they are read out."""
    (tasting,) = journal.find(Tasting)
    samples = sorted(journal.find(Sample), key=lambda sample: sample.id)
    for number in itertools.count(start + 1):
        sample, taster = samples[number % len(samples)], PANEL[number % len(PANEL)]
        value = float(1 + number % 9)
        criterion = tasting.criteria[0]
        journal.do(GiveScore(tasting.id, sample.id, taster, criterion, value))
        yield f"{sample.id} {taster} {criterion} {value}"


def imports(journal: Journal, start: int) -> Iterator[str]:
    """Bring batches of cooks; each is all there or not at all."""
    for number in itertools.count(start + 1):
        cooks = [a_cook(f"Batch {number}", note=str(place)) for place in range(BATCH)]
        parts = [part for cook in cooks for part in three_arms(cook, pieces_each=1)]
        journal.do(BringCooks((*cooks, *parts), "Bring cooks along"))
        yield str(number)


def photos(journal: Journal, start: int) -> Iterator[str]:
    """Keep photos; acknowledged is the SHA-256 of what came."""
    cook = the_cook(journal)
    for number in itertools.count(start + 1):
        command = attach_photos(journal, cook.id, [(f"{number}.jpg", a_photo(number))])
        journal.do(command)
        assert isinstance(command, KeepPhotos)
        yield command.photos[0].attachment


def undo(journal: Journal, start: int) -> Iterator[str]:
    """Change a title, take it back, do it again; acknowledged is the title after each."""
    cook = the_cook(journal)
    for number in itertools.count(start + 1):
        journal.do(Change(Cook, cook.id, {"title": f"Title {number}", "place": str(number)}))
        for step in (journal.undo, journal.redo):
            yield the_cook(journal).title
            step()
        yield the_cook(journal).title


def backups(journal: Journal, start: int) -> Iterator[str]:
    """Back up after each change; acknowledged is the backup's name and what it must have."""
    cook = the_cook(journal)
    for number in itertools.count(start + 1):
        journal.do(Change(Cook, cook.id, {"place": str(number)}))
        made = journal.backups.make("by-hand")
        yield f"{made.path.name} {number}"


def derive(journal: Journal, start: int) -> Iterator[str]:
    """Work out what changed, again and again."""
    cook = the_cook(journal)
    for number in itertools.count(start + 1):
        journal.do(Change(Cook, cook.id, {"set_point": 100.0 + number % 50}))
        journal.values()
        yield str(number)


def restores(folder: Path, _start: int) -> Iterator[str]:
    """Restore the one backup and the other; acknowledged is the title that must stand."""
    kept = sorted(copies.kept(folder / "backups"), key=lambda copy: copy.path.name)
    first, other = [copy for copy in kept if copy.why == "by-hand"][:2]
    for copy, title in itertools.cycle(((first, "The cook"), (other, "The other"))):
        restore(folder, copy.path)
        yield title


def migrations(folder: Path, _start: int) -> Iterator[str]:
    """Make the journal an older one and open it, which brings it up to date."""
    for number in itertools.count(1):
        with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
            connection.execute("BEGIN IMMEDIATE")
            for table, column in (("piece", "slot"), ("cook", "vents")):
                connection.execute(f"ALTER TABLE {table} DROP COLUMN {column}")
            connection.execute("UPDATE schema_version SET minor = 0")
        with closing(open_journal(folder)) as journal:
            journal.find(Cook)
        yield str(number)


def repairs(folder: Path, start: int) -> Iterator[str]:
    """Spoil rows and have them mended."""
    for number in itertools.count(start + 1):
        with closing(sqlite3.connect(folder / "journal.sqlite")) as connection, connection:
            connection.execute("UPDATE cook SET status = 'x'")
            connection.execute("UPDATE piece SET label = x'ff' WHERE rowid % 3 = 0")
        repair_folder(folder)
        yield str(number)


def salvages(folder: Path, start: int) -> Iterator[str]:
    """Save what can be read into one new journal after the other; acknowledged is its name."""
    for number in itertools.count(start + 1):
        target = folder.with_name(f"saved {number} {os.getpid()}")
        salvage(folder, target)
        yield target.name


OPEN: dict[str, Callable[[Journal, int], Iterator[str]]] = {
    "taps": taps,
    "typing": typing,
    "scores": scores,
    "import": imports,
    "photos": photos,
    "undo": undo,
    "backup": backups,
    "derive": derive,
}
"""What is done to an open journal."""

CLOSED: dict[str, Callable[[Path, int], Iterator[str]]] = {
    "restore": restores,
    "migration": migrations,
    "repair": repairs,
    "salvage": salvages,
}
"""What is done to a journal's folder."""


def main(what: str, folder: Path, start: int) -> None:
    """Do it until someone ends this process."""
    if what in CLOSED:
        for line in CLOSED[what](folder, start):
            os.write(1, f"{line}\n".encode())
        return
    with closing(open_journal(folder)) as journal:
        for line in OPEN[what](journal, start):
            os.write(1, f"{line}\n".encode())


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), int(sys.argv[3]))
