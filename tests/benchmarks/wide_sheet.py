"""Wide things: the next taster of 40 at 24 pieces, and a panel of 200 own variables.

What is measured is the processor time of the window's thread until it is painted, of the slower
one; the limit is the peer.
"""

import os
import tempfile
from contextlib import closing
from pathlib import Path
from statistics import median

from PySide6.QtWidgets import QApplication

from pitjournal.domain.shelf import OwnVariable
from pitjournal.files.schemes import shipped
from pitjournal.journal import open_journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.tasting.page import TastingPage
from pitjournal.ui.trends.by_panel import by_panel
from tests.benchmarks.measure import Measurement, rounds
from tests.benchmarks.page_switch import application, our_window
from tests.benchmarks.turns import MOST, Turns, visit_all
from tests.builders import a_cook, three_arms

LIMIT = 1.0
TASTERS, EACH, VARIABLES = 40, 8, 200
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
        window.close()
    return Measurement("wide-sheet", max(median(turned), median(opened)), MOST, LIMIT)
