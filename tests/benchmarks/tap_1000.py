"""A tap at the bench while a thousand events stand: its longest turn, until it is painted.

What is measured is the processor time of the window's thread; the limit is the peer.
"""

import os
import tempfile
from contextlib import closing
from pathlib import Path
from statistics import median

from PySide6.QtWidgets import QApplication

from pitjournal.domain.event import Event, EventKind
from pitjournal.journal import open_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.records import Together
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from tests.benchmarks.measure import Measurement, rounds, size
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.turns import Turns, visit_all
from tests.builders import add_comparison, an_event

LIMIT = 1.0
MOST = 0.035
"""A tap should take no longer, s of the window's thread."""

EVENTS = size(1_000, 30)
ROUNDS = rounds(15)
KINDS = (EventKind.LID, EventKind.SPRITZ, EventKind.FLIP, EventKind.ROTATE)


def run() -> Measurement:
    """Measure the median tap."""
    application()
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        command = add_comparison()
        with closing(open_journal(Path(name) / "journal", new=True)) as journal:
            journal.do(command)
            pieces = [piece.id for piece in journal.whole(command.cook.id).pieces]
            cook = command.cook.id
            events = [an_event(cook, EventKind.LIT), an_event(cook, EventKind.ON, pieces=pieces)]
            events += [an_event(cook, KINDS[n % 4], minutes=1 + n) for n in range(EVENTS)]
            journal.do(Together(tuple(LogEvent(e, "Log") for e in events), "Log all"))
        window = our_window(Path(name) / "journal")
        visit_all(window, command.cook.id)
        assert isinstance(window.place, CookPlace)
        bench = window.place.current
        assert isinstance(bench, BenchPage)
        took = []
        for round_ in range(ROUNDS):
            turns = Turns()
            bench.bar.put_away()
            turns.do("tap", bench.taps[("spritz", "flip")[round_ % 2]].click)
            took.append(turns.spent)
            QApplication.processEvents()
        logged = len(window.desk.journal.find(Event, cook_id=command.cook.id))
        assert logged == len(events) + ROUNDS
        window.close()
    return Measurement("tap-1000", median(took), MOST, LIMIT)
