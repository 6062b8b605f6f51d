"""A journal aged by ten years in a minute or two, and every page walked: what it takes by then.

python -m tests.benchmarks.aged
    ten thousand cooks, 3,000 photos, 200 probe files, 200 own variables, 200 saved questions
python -m tests.benchmarks.aged --little
    a handful of each: does it still run
"""

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from pitjournal.analysis.trends.question import By, Question
from pitjournal.analysis.trends.stored import kept
from pitjournal.domain.event import Photo
from pitjournal.domain.shelf import OwnValue, OwnVariable
from pitjournal.domain.trace import Sits
from pitjournal.files.photos import read_photo
from pitjournal.files.probe_log import read_probe_log
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.attaching import Placement, attach_probe_log
from pitjournal.journal.checks import check_folder
from pitjournal.journal.commands.files import KeepPhotos
from pitjournal.journal.commands.questions import SaveQuestion
from pitjournal.journal.commands.records import Add
from tests.benchmarks.idle_walk import COOKS
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.measure import ONCE
from tests.benchmarks.summary_photos import photograph

ROOT = Path(__file__).resolve().parents[2]
PHOTOS, PROBE_FILES, VARIABLES, QUESTIONS = 3_000, 200, 200, 200
PICTURES, TOGETHER = 40, 30
ROWS = 480
MEASURES = ("yield", "loss", "time_on", "thickness", "mass_trimmed")
BY = ("cut", "cooker", "set_point", "treatment", "wrap")


def age(journal: Journal, share: float) -> None:
    """Add what ten years leave behind: all of it, or a share."""
    count = journal.cooks.count()
    cooks = [line.id for line in journal.cooks.page("", 0, count)]
    _photos(journal, cooks, round(share * PHOTOS))
    _probe_files(journal, cooks, round(share * PROBE_FILES))
    _variables(journal, cooks, round(share * VARIABLES))
    for number in range(round(share * QUESTIONS)):
        asked = Question(MEASURES[number % 2], (By(BY[number % 3]),))
        journal.do(SaveQuestion(f"invented question {number}", kept(asked)))


def _photos(journal: Journal, cooks: list[str], photos: int) -> None:
    lot = np.random.default_rng(3)
    files = []
    for number in range(min(PICTURES, photos)):
        data = photograph(lot)
        small = read_photo(data, "rack.jpg").thumbnail
        whole = journal.files.keep(data, "image/jpeg", f"{number}.jpg")
        files.append((whole, journal.files.keep(small, "image/jpeg", f"small {number}.jpg")))
    for begin in range(0, photos, TOGETHER):
        cook = journal.whole(cooks[begin % len(cooks)]).cook
        records = tuple(
            Photo(
                cook_id=cook.id,
                name=f"rack {number}.jpg",
                attachment=files[number % len(files)][0].sha,
                thumbnail=files[number % len(files)][1].sha,
                width=1600,
                height=1200,
                taken_at=cook.starts_at + timedelta(minutes=number % 300),
            )
            for number in range(begin, min(begin + TOGETHER, photos))
        )
        journal.do(KeepPhotos(records, tuple(file for pair in files for file in pair)))


def _probe_files(journal: Journal, cooks: list[str], files: int) -> None:
    lot = np.random.default_rng(4)
    for number in range(files):
        whole = journal.whole(cooks[number % len(cooks)])
        lines = ["time,pit (F),meat (F)"]
        pit = 250.0 + lot.normal(0, 3, ROWS)
        meat = 40.0 + 160.0 * (np.arange(ROWS) / ROWS) ** 0.7
        for row in range(ROWS):
            at = (whole.cook.starts_at + timedelta(minutes=row)).astimezone(UTC)
            lines.append(f"{at:%Y-%m-%dT%H:%M:%SZ},{pit[row]:.1f},{meat[row]:.1f}")
        data, name = "\n".join(lines).encode(), f"logger {number}.csv"
        placed = {
            0: Placement(sits=Sits.PIT),
            1: Placement(sits=Sits.MEAT, piece_id=whole.pieces[0].id),
        }
        log = read_probe_log(data, name)
        journal.do(attach_probe_log(journal, whole.cook.id, data, name, log, placed))


def _variables(journal: Journal, cooks: list[str], variables: int) -> None:
    for number in range(variables):
        variable = OwnVariable(name=f"own number {number}", level="cook", kind="number")
        values = tuple(
            OwnValue(cook_id=cook, variable_id=variable.id, owner_id=cook, number=float(place % 7))
            for place, cook in enumerate(cooks[number : number + 20])
        )
        journal.do(Add((variable, *values), "Add a variable"))


def _seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


def report(share: float) -> dict[str, object]:
    """Age a journal, walk every page, and return what was found; times are of the processor."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "journal"
        shutil.copytree(large_journal(COOKS), folder)
        found: dict[str, object] = {}
        with closing(open_journal(folder)) as journal:
            found["aging, s"] = _seconds(lambda: age(journal, share))
            found["catching up, s"] = _seconds(journal.worked_out.catch_up)
            found["first backup, s"] = _seconds(lambda: journal.backups.make("hour"))
            found["next backup, s"] = _seconds(lambda: journal.backups.make("hour"))
        found["database, MB"] = (folder / "journal.sqlite").stat().st_size / 1e6
        found["opening, s"] = _seconds(lambda: open_journal(folder).close())
        out = Path(name) / "walk.json"
        environment = {**os.environ, "PITJOURNAL_SETTINGS": str(Path(name) / "settings.json")}
        subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.idle_walk", str(out)],
            cwd=ROOT,
            env=environment,
            check=True,
            capture_output=True,
        )
        found["walk"] = json.loads(out.read_text("utf-8"))
        found["check, s"] = _seconds(lambda: check_folder(folder))
        assert check_folder(folder).held
    return found


def main() -> int:
    """Print the figures."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.aged")
    parser.add_argument("--little", action="store_true")
    little = parser.parse_args().little
    if little:
        os.environ[ONCE] = "1"
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    begun = datetime.now(UTC)
    found = report(0.02 if little else 1.0)
    sys.stdout.write(json.dumps(found, indent=1) + "\n")
    sys.stdout.write(f"all in {(datetime.now(UTC) - begun).total_seconds():.0f} s\n")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
