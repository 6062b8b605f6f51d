"""A caption among two thousand photos on the bench: its longest turn, until it is painted.

What is measured is the processor time of the window's thread; the limit is the peer.
"""

import os
import tempfile
from contextlib import closing
from datetime import timedelta
from functools import partial
from pathlib import Path
from statistics import median

import numpy as np

from pitjournal.domain.event import EventKind, Photo
from pitjournal.files.photos import read_photo
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.files import KeepPhotos, KeptFile
from pitjournal.journal.commands.records import Change, Together
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from tests.benchmarks.measure import Measurement, rounds, size
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.summary_photos import photograph
from tests.benchmarks.turns import MOST, Turns, visit_all
from tests.builders import NOON, add_comparison, an_event

LIMIT = 1.0
PHOTOS = size(2_000, 30)
PICTURES = size(60, 6)
EVENTS = size(150, 10)
ROUNDS = rounds(15)


def run() -> Measurement:
    """Measure the median caption; no turn while the strip is first seen may be longer either."""
    application()
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        command = add_comparison()
        cook = command.cook.id
        with closing(open_journal(Path(name) / "journal", new=True)) as journal:
            journal.do(command)
            add_events(journal, cook)
            add_photos(journal, cook, PHOTOS)
        window = our_window(Path(name) / "journal")
        visit_all(window, cook)
        assert isinstance(window.place, CookPlace)
        bench = window.place.current
        assert isinstance(bench, BenchPage)
        turns = Turns()
        turns.do("seen", lambda: bench.day.turn("photos"))
        turns.until("unpacked", lambda: not bench.day.photos.pictures_wait)
        if turns.longest > MOST:
            raise AssertionError(f"{turns.slowest} took {1e3 * turns.longest:.0f} ms")
        took = []
        photos = window.desk.journal.whole(cook).photos
        for round_ in range(ROUNDS):
            photo = photos[round_ * 37 % len(photos)]
            change = Change(Photo, photo.id, {"caption": f"caption {round_}"}, "Caption a photo")
            turns = Turns()
            turns.do("caption", partial(window.desk.bridge.do, change))
            took.append(turns.spent)
        window.close()
    return Measurement("photos-2000", median(took), MOST, LIMIT)


def add_events(journal: Journal, cook_id: str) -> None:
    """Log a long cook."""
    kinds = (EventKind.LID, EventKind.SPRITZ, EventKind.FLIP, EventKind.ROTATE)
    pieces = [piece.id for piece in journal.whole(cook_id).pieces]
    events = [an_event(cook_id, EventKind.LIT), an_event(cook_id, EventKind.ON, pieces=pieces)]
    events += [an_event(cook_id, kinds[n % 4], minutes=1 + n) for n in range(EVENTS)]
    journal.do(Together(tuple(LogEvent(e, "Log") for e in events), "Log all"))


def add_photos(journal: Journal, cook_id: str, count: int) -> None:
    """Keep so many photos, of a few pictures, over five hours."""
    lot = np.random.default_rng(7)
    kept = []
    for number in range(PICTURES):
        data = photograph(lot)
        small = read_photo(data, "a.jpg").thumbnail
        kept.append(
            (
                journal.files.keep(data, "image/jpeg", f"{number}.jpg"),
                journal.files.keep(small, "image/jpeg", f"small {number}.jpg"),
            )
        )
    photos = tuple(
        Photo(
            cook_id=cook_id,
            name=f"rack {number}.jpg",
            attachment=kept[number % PICTURES][0].sha,
            thumbnail=kept[number % PICTURES][1].sha,
            width=1600,
            height=1200,
            taken_at=NOON + timedelta(seconds=9 * number),
        )
        for number in range(count)
    )
    files: tuple[KeptFile, ...] = tuple(file for pair in kept for file in pair)
    journal.do(KeepPhotos(photos, files))
