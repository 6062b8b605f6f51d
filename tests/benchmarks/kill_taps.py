"""Kill the program in the middle of fast tapping: ``python -m tests.benchmarks.kill_taps 200``.

What showed its tick must be there, the journal must open and hold, and no event may be there
by half: each has its step to undo, and each step its event.
"""

import os
import random
import select
import subprocess
import sys
import tempfile
import time
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import select as choose

from pitjournal.domain.event import Event, EventKind
from pitjournal.journal import open_journal
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.store.schema import row_image
from tests.builders import add_comparison, an_event

ROOT = Path(__file__).resolve().parents[2]
LONGEST = 1.0
"""A round is killed within so many seconds of its first tick."""

PATIENCE = 60.0


@dataclass
class Told:
    """What a run of rounds found."""

    rounds: int = 0
    ticks: int = 0
    events: int = 0
    lost: int = 0
    halves: int = 0
    broken: int = 0

    @property
    def held(self) -> bool:
        """Whether nothing was lost, halved or broken."""
        return not (self.lost or self.halves or self.broken)


def make(folder: Path) -> None:
    """Make a journal with a running cook."""
    with closing(open_journal(folder, new=True)) as journal:
        command = add_comparison()
        journal.do(command)
        for kind in (EventKind.LIT, EventKind.ON):
            journal.do(LogEvent(an_event(command.cook.id, kind), f"Log {kind}"))


def tapped(folder: Path, environment: dict[str, str], after: float) -> list[str]:
    """Start the program, let it tap, kill it so long after its first tick; return what ticked."""
    command = [sys.executable, "-m", "tests.benchmarks.tapping", str(folder)]
    with subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        pipe = process.stdout.fileno()
        ready, _, _ = select.select([pipe], [], [], PATIENCE)
        time.sleep(after if ready else 0)
        process.kill()
        said = process.stdout.read().decode()
    whole = said[: said.rfind("\n") + 1]  # a line that was cut off is no tick
    return whole.split()


def look(folder: Path, ticked: list[str], told: Told) -> None:
    """Open the journal and compare it with what ticked."""
    told.rounds += 1
    told.ticks += len(ticked)
    with closing(open_journal(folder)) as journal:
        there = {event.id for event in journal.find(Event)}
        query = choose(row_image.c.row_id).where(row_image.c.kind == Event.KIND)
        steps = [row.row_id for row in journal.database.rows(query)]
        told.lost += len(set(ticked) - there)
        told.halves += len(there ^ set(steps)) + len(steps) - len(set(steps))
        told.broken += not check_journal(journal).held
        told.events = len(there)


def run(rounds: int, seed: int = 20261114) -> Told:
    """Tap, kill and look, so many times on one journal."""
    draw, told = random.Random(seed), Told()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "journal"
        make(folder)
        environment = {
            **os.environ,
            "PITJOURNAL_SETTINGS": str(Path(name) / "settings.json"),
            "QT_QPA_PLATFORM": "offscreen",
        }
        for _ in range(rounds):
            look(folder, tapped(folder, environment, draw.uniform(0, LONGEST)), told)
    return told


def main() -> int:
    """Run as many rounds as asked for, and say what was found."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    told = run(rounds)
    print(
        f"{told.rounds} kills, {told.ticks} ticks, {told.events} events: {told.lost} lost, "
        f"{told.halves} halves, {told.broken} broken journals"
    )
    return 0 if told.held and told.ticks else 1


if __name__ == "__main__":
    raise SystemExit(main())
