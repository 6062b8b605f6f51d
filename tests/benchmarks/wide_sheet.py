"""Wide things: the next taster of 40 at 24 pieces, 200 own variables, 200 saved questions.

What is measured is the processor time of the window's thread until it is painted, of the slowest
of a turn to the next taster, the panel to group by, and a question's other name; the limit is the peer.
"""

import os
import sys
import tempfile
from contextlib import closing
from functools import partial
from pathlib import Path
from statistics import median

from PySide6.QtWidgets import QApplication

from pitjournal.analysis.trends.question import By, Question
from pitjournal.analysis.trends.stored import kept
from pitjournal.domain.shelf import OwnVariable, SavedQuestion
from pitjournal.files.schemes import shipped
from pitjournal.journal import open_journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.questions import SaveQuestion
from pitjournal.journal.commands.records import Add, AddCook, Change
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.tasting.page import TastingPage
from pitjournal.ui.trends.by_panel import by_panel
from pitjournal.ui.trends.page import TrendsPage
from pitjournal.ui.window import Window
from tests.benchmarks.measure import Measurement, rounds, size
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.turns import MOST, Turns, visit_all
from tests.builders import a_cook, three_arms

LIMIT = 1.0
TASTERS, EACH, VARIABLES, QUESTIONS = 40, 8, 200, size(200, 20)
ROUNDS = rounds(9)


def _nothing(_by: object) -> None:
    return


def run() -> Measurement:
    """Measure the medians."""
    application()
    cook = a_cook()
    tasters = tuple(f"Taster {number}" for number in range(TASTERS))
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        with closing(open_journal(Path(name) / "journal", new=True)) as journal:
            journal.do(AddCook(cook, three_arms(cook, pieces_each=EACH)))
            journal.do(DrawTasting(cook.id, tasters, seed=1, scheme=shipped("home-panel-1")))
            own = tuple(
                OwnVariable(name=f"own number {n}", level="cook", kind="number")
                for n in range(VARIABLES)
            )
            journal.do(Add(own, "Add variables"))
            asked = kept(Question("yield_off", (By("cut"),)))
            for number in range(QUESTIONS):
                journal.do(SaveQuestion(f"invented question {number}", asked))
        window = our_window(Path(name) / "journal")
        visit_all(window, cook.id)
        window.go("cook", cook.id, "tasting")
        assert isinstance(window.place, CookPlace)
        page = window.place.current
        assert isinstance(page, TastingPage)
        QApplication.processEvents()
        turned, opened = [], []
        for _ in range(ROUNDS):
            turns = Turns()
            turns.do("next taster", page.scoring.next_taster)
            turned.append(turns.spent)
        assert len(page.scoring.sheet.fields) >= 3 * EACH
        for _ in range(ROUNDS):
            turns = Turns()
            turns.do("group by", lambda: by_panel(window, window.desk, _nothing).open_panel())
            opened.append(turns.spent)
            assert window.panel is not None
            window.panel.close_panel()
        renamed = _renamed(window)
        window.close()
    took = {"next taster": turned, "group by": opened, "rename": renamed}
    for what, times in took.items():
        sys.stderr.write(f"    {what}: {1e3 * median(times):.1f} ms\n")
    return Measurement("wide-sheet", max(map(median, took.values())), MOST, LIMIT)


def _renamed(window: Window) -> list[float]:
    """Give saved questions other names while all of them stand on the page."""
    window.go("trends")
    turns = Turns()
    turns.until("read", lambda: not window.desk.bridge.waits)
    page = window.place
    assert isinstance(page, TrendsPage)
    turns.until("lines", lambda: page.saved.lines.count() == QUESTIONS)
    took = []
    for round_, saved in enumerate(window.desk.journal.find(SavedQuestion)[:ROUNDS]):
        change = Change(SavedQuestion, saved.id, {"name": f"other {round_}"}, "Name")
        turns = Turns()
        turns.do("rename", partial(window.desk.bridge.do, change))
        took.append(turns.spent)
    return took
