"""Killed in the middle of everything that writes: ``python -m tests.torture.kills 200 --seed 7``.

Taps, typing, score entry, import, photos, undo, backup, restore, migration, derived values,
repair and salvage, in turn: a process does one of them again and again and says what was acknowledged; it is killed
by SIGKILL at a moment drawn by lot. Then the journal must open and be whole, what was
acknowledged must be there, and nothing may be there by half. `tests.benchmarks.kill_taps` does
the same to taps in a real window.
"""

import os
import random
import select
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import Event, Photo
from pitjournal.domain.tasting import Score
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.checks import check_journal
from pitjournal.journal.repair import repair_folder
from pitjournal.store import copies, replacing
from tests.torture.killed import BATCH, CLOSED, OPEN, TYPED, make, the_cook
from tests.torture.script import run_by_name

ROOT = Path(__file__).resolve().parents[2]
LONGEST = 0.5
"""A round is killed within so many seconds of its first acknowledgement."""

PATIENCE = 60.0


@dataclass
class Run:
    """The journal of one sort of work, and what was acknowledged in it so far."""

    what: str
    folder: Path
    acked: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)

    def fail(self, words: str) -> None:
        """Note what went wrong."""
        self.wrong.append(f"{self.what}: {words}")


def killed(run: Run, after: float) -> list[str]:
    """Let it work, kill it so long after its first acknowledgement; return what was acknowledged."""
    command = [sys.executable, "-m", "tests.torture.killed", run.what, str(run.folder)]
    with subprocess.Popen(
        [*command, str(len(run.acked))], cwd=ROOT, env=os.environ, stdout=subprocess.PIPE
    ) as process:
        assert process.stdout is not None
        ready, _, _ = select.select([process.stdout.fileno()], [], [], PATIENCE)
        time.sleep(after if ready else 0)
        process.kill()
        said = process.stdout.read().decode()
    return said[: said.rfind("\n") + 1].splitlines()  # a line that was cut off counts for nothing


def look(run: Run, fresh: list[str]) -> None:
    """Open the journal and compare it with what was acknowledged."""
    if not fresh:
        run.fail("nothing was acknowledged at all")
    run.acked += fresh
    try:
        if run.what == "repair":
            repair_folder(run.folder)  # it may have been killed before it mended
        with closing(open_journal(run.folder)) as journal:
            if journal.read_only:
                run.fail("opens for reading only")
            if not check_journal(journal).held:
                run.fail(f"does not hold: {check_journal(journal).as_json()}")
            LOOKS[run.what](run, journal)
            copies.sweep_journal(run.folder, 0)
            if copies.count_rubbish(run.folder):
                run.fail("rubbish stays")
    except JournalError as error:
        run.fail(f"does not open: {error}")


def _taps(run: Run, journal: Journal) -> None:
    there = {event.id for event in journal.find(Event)}
    if set(run.acked) - there:
        run.fail(f"{len(set(run.acked) - there)} taps lost")


def _typing(run: Run, journal: Journal) -> None:
    note = the_cook(journal).note
    longest = max(map(int, run.acked), default=0)
    if len(note) < longest or (TYPED * (len(note) // len(TYPED) + 1))[: len(note)] != note:
        run.fail(f"{longest} letters acknowledged, {len(note)} there")


def _scores(run: Run, journal: Journal) -> None:
    found = journal.find(Score)
    there = {(s.sample_id, s.taster, s.criterion): s.value for s in found}
    last: dict[tuple[str, str, str], float] = {}
    for line in run.acked:
        sample, taster, criterion, value = line.split(" ")
        last[sample, taster, criterion] = float(value)
    lost = [key for key, value in last.items() if there.get(key) != value]
    if len(lost) > 1:  # the last may have been overwritten by one not acknowledged yet
        run.fail(f"{len(lost)} scores lost")


def _imports(run: Run, journal: Journal) -> None:
    batches: dict[str, int] = {}
    for cook in journal.find(Cook):
        batches[cook.title] = batches.get(cook.title, 0) + 1
    lost = [line for line in run.acked if f"Batch {line}" not in batches]
    halves = [name for name, count in batches.items() if name[:5] == "Batch" and count % BATCH]
    if lost or halves:
        run.fail(f"{len(lost)} imports lost, {len(halves)} by half")


def _photos(run: Run, journal: Journal) -> None:
    there = {photo.attachment for photo in journal.find(Photo)}
    named = set(journal.database.attachment_ids())
    if set(run.acked) - there or there - named:
        run.fail(f"{len(set(run.acked) - there)} photos lost")


def _undo(run: Run, journal: Journal) -> None:
    cook, last = the_cook(journal), run.acked[-1] if run.acked else ""
    place = cook.title.removeprefix("Title ")
    if cook.title.startswith("Title ") and cook.place != place:
        run.fail(f"a step by half: {cook.title}, {cook.place}")
    known = {*run.acked, last}
    numbers = [int(name.removeprefix("Title ")) for name in known if name.startswith("Title ")]
    if cook.title.startswith("Title ") and numbers and int(place) < max(numbers) - 1:
        run.fail(f"{last} acknowledged, {cook.title} there")


def _backups(run: Run, journal: Journal) -> None:
    names = {copy.path.name: copy for copy in journal.backups.kept()}
    newest = run.acked[-1].split(" ")[0] if run.acked else ""
    if newest and newest not in names:
        run.fail(f"the backup {newest} is gone")
    for copy in names.values():
        if not replacing.can_be_read(copy.path):
            run.fail(f"the backup {copy.path.name} counts and is not whole")
    if run.acked and int(the_cook(journal).place or 0) < int(run.acked[-1].split(" ")[1]):
        run.fail("a change before a backup is lost")


def _restores(run: Run, journal: Journal) -> None:
    if the_cook(journal).title not in {"The cook", "The other"}:
        run.fail(f"neither the one nor the other: {the_cook(journal).title}")


def _as_it_was(run: Run, journal: Journal) -> None:
    whole = journal.whole(the_cook(journal).id)
    if len(whole.pieces) != 9 or len(whole.arms) != 3:
        run.fail("pieces or arms are gone")


def _salvages(run: Run, journal: Journal) -> None:
    _as_it_was(run, journal)
    there = {path.name for path in run.folder.parent.glob("saved *")}
    if set(run.acked) - there:
        run.fail(f"{len(set(run.acked) - there)} salvaged journals are gone")
    for name in there:  # none may bear its name by half
        with closing(open_journal(run.folder.with_name(name), read_only=True)) as saved:
            if not check_journal(saved).held:
                run.fail(f"{name} does not hold")
            _as_it_was(run, saved)


LOOKS: Mapping[str, Callable[[Run, Journal], None]] = {
    "taps": _taps,
    "typing": _typing,
    "scores": _scores,
    "import": _imports,
    "photos": _photos,
    "undo": _undo,
    "backup": _backups,
    "restore": _restores,
    "migration": _as_it_was,
    "derive": _as_it_was,
    "repair": _as_it_was,
    "salvage": _salvages,
}


def work(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Work, kill and look so many times, one sort of work after the other."""
    draw = random.Random(seed)
    with tempfile.TemporaryDirectory() as name:
        runs = [Run(what, Path(name) / what) for what in (*OPEN, *CLOSED)]
        for run in runs[: max(rounds, 1)]:
            make(run.folder)
        for number in range(rounds):
            run = runs[number % len(runs)]
            look(run, killed(run, draw.uniform(0, LONGEST)))
        wrong = [line for run in runs for line in run.wrong]
        acked = sum(len(run.acked) for run in runs)
    return {"kills": rounds, "acknowledged": acked, "lost or by half": len(wrong)}, wrong


if __name__ == "__main__":
    raise SystemExit(run_by_name("kills", 200, work))
