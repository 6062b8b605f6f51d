"""Another theme with a bench of twenty-four pieces open and every page made: until it is painted.

Each hidden page is then gone to, and may take no longer for it either; Plan with its hundreds of
fields is gone to after each change, and no turn of it may be long. What is measured is the
processor time of the window's thread; the limit is the peer.
"""

import os
import tempfile
from contextlib import closing
from functools import partial
from pathlib import Path
from statistics import median

from PySide6.QtWidgets import QApplication

from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import AddCook
from pitjournal.ui.look.theme import look
from tests.benchmarks.measure import ONCE, Measurement, rounds
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.turns import MOST as TURN
from tests.benchmarks.turns import Turns, visit_all
from tests.builders import a_cook, three_arms

LIMIT = 1.0
MOST = 0.15
"""Seconds of the window's thread."""

ROUNDS = rounds(9)
EACH = 8
THEMES = ("night", "sun", "light")


def run() -> Measurement:
    """Measure the median change, and that no page is slow to be gone to after one."""
    application()
    cook = a_cook()
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        with closing(open_journal(Path(name) / "journal", new=True)) as journal:
            journal.do(AddCook(cook, three_arms(cook, pieces_each=EACH)))
        window = our_window(Path(name) / "journal")
        waiting = Turns()
        waiting.until("made", lambda: window.ahead.over and not window.desk.bridge.waits)
        visit_all(window, cook.id)
        took, plans = [], []
        for round_ in range(ROUNDS):
            turns = Turns()
            turns.do("theme", partial(look().choose, THEMES[round_ % 3]))
            turns.do("painted", QApplication.processEvents)
            took.append(turns.spent)
            first = Turns()
            first.do("plan", partial(window.go, "cook", cook.id, "plan"))
            first.until("restyled", lambda: not look().restyling.waits)
            plans.append(first.longest)
            window.go("cook", cook.id, "bench")
            QApplication.processEvents()
        if ONCE not in os.environ and min(plans) > TURN:  # the best: others take the caches away
            raise AssertionError(f"Plan took {1e3 * min(plans):.0f} ms in a turn after a change")
        visits = Turns()
        for page in ("plan", "tasting", "findings"):
            visits.do(page, partial(window.go, "cook", cook.id, page))
        for place in ("trends", "shelf", "new cook", "cooks"):
            visits.do(place, partial(window.go, place))
        if ONCE not in os.environ and visits.longest > MOST:
            raise AssertionError(f"{visits.slowest} took {1e3 * visits.longest:.0f} ms")
        window.close()
        look().choose("light")
    return Measurement("theme-switch", median(took), MOST, LIMIT)
