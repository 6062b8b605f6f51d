"""Eight hours of eight probes at a second, in minutes: ``python -m tests.torture.hours 480``.

A logger's file grows under the bench while its chart is seen. Memory stays flat, no turn of the
event loop takes the window's thread more than 100 ms of work, and in the end all is kept.
"""

import os
import random
import tempfile
import time
from collections.abc import Mapping
from contextlib import closing
from datetime import timedelta
from pathlib import Path

from PySide6.QtCore import QTimer

from pitjournal.domain.alarm import Alarm, AlarmKind, Watched
from pitjournal.domain.event import EventKind
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.files.probe_log import read_probe_log
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.attaching import Placement, attach_probe_log
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.bench import LogEvent, SetAlarms
from pitjournal.journal.commands.files import FollowFile
from pitjournal.ui.follow import Follow
from tests.builders import NOON, add_comparison, an_event
from tests.torture.hands import open_window, run_for, run_until
from tests.torture.hostile import resident
from tests.torture.script import run_by_name

ROUNDS = 480
SECONDS = 8 * 3600
CHANNELS = 8
MOST = 0.100
"""Seconds of work that one turn of the event loop may take."""

GROWTH = 1.2
WARM_AFTER = 0.2


def rows(first: int, last: int, rng: random.Random) -> str:
    """Return readings of these seconds: a pit, and pieces that warm up."""
    lines = []
    for second in range(first, last):
        stamp = (NOON + timedelta(seconds=second)).strftime("%Y-%m-%dT%H:%M:%SZ")
        pit = 250 + rng.gauss(0, 2)
        meat = (40 + 160 * (second / SECONDS) ** 0.6 + place for place in range(CHANNELS - 1))
        lines.append(f"{stamp},{pit:.1f}," + ",".join(f"{value:.1f}" for value in meat))
    return "\n".join(lines) + "\n"


class Heart:
    """Beats in the window's thread, and keeps the work of the longest turn between two beats."""

    def __init__(self) -> None:
        self.longest, self.turns, self.late = 0.0, 0, 0
        self._before = time.thread_time()
        self._timer = QTimer(interval=1)
        self._timer.timeout.connect(self._beat)

    def start(self) -> None:
        """Beat from now on."""
        self._before = time.thread_time()
        self._timer.start()

    def stop(self) -> None:
        """Beat no more."""
        self._timer.stop()

    def _beat(self) -> None:
        now = time.thread_time()
        self.longest = max(self.longest, now - self._before)
        self.late += now - self._before > MOST
        self.turns += 1
        self._before = now


def begin(journal: Journal, path: Path) -> str:
    """Begin a cook whose probes are followed; return its id."""
    command = add_comparison()
    journal.do(command)
    for kind, minutes in ((EventKind.LIT, -60), (EventKind.ON, 0)):
        journal.do(LogEvent(an_event(command.cook.id, kind, minutes=minutes), f"Log {kind}"))
    pieces = journal.whole(command.cook.id).pieces[: CHANNELS - 1]
    placed = {n + 1: Placement(sits=Sits.MEAT, piece_id=p.id) for n, p in enumerate(pieces)}
    placed[0] = Placement(sits=Sits.PIT)
    data = path.read_bytes()
    log = read_probe_log(data, path.name)
    journal.do(attach_probe_log(journal, command.cook.id, data, path.name, log, placed))
    journal.do(FollowFile(journal.find(ProbeFile)[0].id, str(path)))
    alarm = Alarm(
        cook_id=command.cook.id,
        kind=AlarmKind.REACHES,
        words="Start probing",
        set_at=NOON,
        watched=Watched.PIECE,
        piece_id=pieces[0].id,
        high=80.0,
    )
    journal.do(SetAlarms((alarm,), "Alarm"))
    return command.cook.id


def torture(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Let the hours pass in so many looks."""
    rng, wrong = random.Random(seed), list[str]()
    with tempfile.TemporaryDirectory() as parent:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(parent) / "settings.json")
        folder, path = Path(parent) / "journal", Path(parent) / "smoker.csv"
        heads = ",".join(f"meat {n} (F)" for n in range(1, CHANNELS))
        path.write_text(f"time,pit (F),{heads}\n" + rows(0, 120, rng), encoding="utf-8")
        with closing(open_journal(folder, new=True)) as journal:
            cook_id = begin(journal, path)
        _, window = open_window(folder)
        now = [NOON + timedelta(seconds=120)]
        window.desk.clock = lambda: now[0]
        window.show()
        window.go("cook", cook_id, "bench")
        run_until(lambda: window.ahead.over and not window.desk.bridge._waits, 30_000)
        heart, follow = Heart(), window.desk.follow
        follow._timer.stop()
        heart.start()
        warm, begun, last = 0, time.monotonic(), 120
        for number in range(rounds):
            until = 120 + (SECONDS - 120) * (number + 1) // rounds
            with path.open("a", encoding="utf-8") as file:
                file.write(rows(last, until, rng))
            heart._before = time.thread_time()  # writing the file is the logger's work
            last, now[0] = until, NOON + timedelta(seconds=until)
            if not _read_to(window.desk.follow, until):
                wrong.append(f"after {until} s the file is not read: {_problems(follow)}")
                break
            if number == int(rounds * WARM_AFTER):
                warm = resident()
        heart.stop()
        grown = resident() / max(warm, 1)
        took = time.monotonic() - begun
        window.close()
        run_for(100)
        with closing(open_journal(folder)) as journal:
            counts = {trace.count for trace in journal.find(Trace)}
            if counts != {SECONDS}:
                wrong.append(f"kept are {counts} readings")
            if not check_journal(journal).held:
                wrong.append("the journal does not hold")
    if grown > GROWTH:
        wrong.append(f"memory is {grown:.2f} times what it was")
    if heart.longest > MOST:
        wrong.append(f"{heart.late} turns took over {MOST * 1e3:.0f} ms of work")
    figures = {
        "looks": rounds,
        "readings": SECONDS * CHANNELS,
        "in": f"{took:.0f} s",
        "memory": f"{100 * (grown - 1):+.0f} %",
        "turns": heart.turns,
        "longest turn": f"{1e3 * heart.longest:.0f} ms",
    }
    return figures, wrong


def _read_to(follow: Follow, count: int) -> bool:
    """Look until so many readings were seen."""

    def seen() -> bool:
        sizes = {s.times.size for read in follow.reads.values() for s in read.readings.values()}
        if sizes == {count} and not follow._busy:
            return True
        follow._not_before = 0.0
        follow.look()
        return False

    return run_until(seen, 60_000)


def _problems(follow: Follow) -> list[str]:
    return [read.problem for read in follow.reads.values()]


if __name__ == "__main__":
    raise SystemExit(run_by_name("hours", ROUNDS, torture))
