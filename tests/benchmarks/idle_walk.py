"""A large journal's window from its first paint on: python -m tests.benchmarks.idle_walk OUT.

It has a process of its own, since what is loaded already costs nothing. Walked through is the
journal beside OUT, else a copy of ten thousand cooks. Written is a JSON of the turns that took
too long, of the longest turn, of what each first visit and action took, and of what the window's
thread read that a job should.
"""

import json
import shutil
import sys
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QEvent, QEventLoop, QObject
from PySide6.QtWidgets import QApplication, QLineEdit

from pitjournal.analysis.trends.question import Sign, Where
from pitjournal.domain.cook import Cook
from pitjournal.journal.commands.records import Change
from pitjournal.journal.preferences import Preferences
from pitjournal.ui import choosing
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.destination import Destination
from pitjournal.ui.start import Shell
from pitjournal.ui.trends.filter_panel import FilterPanel
from pitjournal.ui.trends.page import TrendsPage
from pitjournal.ui.window import Window
from tests.benchmarks.heartbeat import Heartbeat
from tests.benchmarks.large_journal import large_journal
from tests.benchmarks.reads import Reads

COOKS = 10_000
Act = tuple[str, Callable[[], object]]


class FirstPaint(QObject):
    """Sees that a widget was painted."""

    painted = False

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Take note."""
        self.painted = self.painted or event.type() is QEvent.Type.Paint
        return False


def main(out: Path) -> None:
    """Walk through a copy, since something is changed on the way."""
    folder = out.parent / "journal"
    if not folder.exists():
        shutil.copytree(large_journal(COOKS), folder)
    out.write_text(json.dumps(walk(folder)), encoding="utf-8")


def walk(folder: Path) -> dict[str, object]:
    """Walk through a journal, and return what was found."""
    application = QApplication(["pitjournal"])
    shell = Shell(application, Preferences(theme="light"))
    sys.excepthook = sys.__excepthook__
    first = FirstPaint()
    shell.open(str(folder))
    window = shell.window
    assert window is not None
    window.cooks.list.viewport().installEventFilter(first)
    while not first.painted:
        application.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
    beat, reads = Heartbeat(), Reads()
    with reads.watched():
        beat.until("idle", lambda: window.ahead.over and not window.desk.bridge.waits)
        visits = {name: _taken(beat, window, name, go) for name, go in first_visits(window)}
        actions = {name: _taken(beat, window, name, act) for name, act in actions_of(window)}
    beat.stop()
    found = {"long": [vars(one) for one in beat.long], "longest": beat.longest, "reads": reads}
    window.close()
    return {**found, "visits": visits, "actions": actions}


def _taken(beat: Heartbeat, window: Window, name: str, act: Callable[[], object]) -> float:
    """Return what an action takes until it is painted, s; its jobs are waited for too."""
    before = beat.spent
    beat.do(name, act)
    taken = beat.spent - before
    beat.until(name, lambda: not window.desk.bridge.waits)
    return taken


def first_visits(window: Window) -> Sequence[Act]:
    """Return the pages, each of which is made ahead."""
    cook = window.desk.journal.cooks.page("", 0, 1)[0].id
    of_cook = ("plan", "bench", "tasting", "findings")
    places = ("new cook", "trends", "shelf", "compare", "old cooks", "cooks")
    return [
        *((page, partial(window.go, "cook", cook, page)) for page in of_cook),
        *((place, partial(window.go, place)) for place in places),
    ]


def actions_of(window: Window) -> Sequence[Act]:
    """Return what a cook does of an evening."""
    desk, lines = window.desk, window.desk.journal.cooks.page("", 0, 3)
    cook = lines[0].id

    def search(words: str) -> None:
        window.go("cooks")
        window.cooks.search.setText(words)
        window.cooks.look_now()

    def bench() -> BenchPage:
        place = window.place
        assert isinstance(place, CookPlace)
        assert isinstance(place.current, BenchPage)
        return place.current

    def ask(sentence: str) -> None:
        trends = window.place
        assert isinstance(trends, TrendsPage)
        trends.ask_line.line.setText(sentence)
        trends.ask_line.line.returnPressed.emit()

    def pick(variable: str) -> None:
        window.cooks.narrowing.add()
        panel = window.panel
        assert isinstance(panel, FilterPanel)
        panel.choose(variable)

    def find(words: str) -> None:
        window._find_box()
        panel = window.panel
        assert panel is not None
        panel.findChildren(QLineEdit)[0].setText(words)

    change = Change(Cook, cook, {"title": "Wind from the east"}, "Title")
    beside = Destination(place="compare", cook_ids=tuple(line.id for line in lines))
    filters = (Where("set_point", Sign.AT_LEAST, (110.0,)),)
    return [
        ("search", partial(search, "smoke ba")),
        ("search no more", partial(search, "")),
        ("scroll to the end", window.cooks.list.scrollToBottom),
        ("narrow the list", lambda: window.cooks.narrowing.take(filters)),
        ("narrow no more", lambda: window.cooks.narrowing.take(())),
        ("pick a cut", partial(pick, "cut")),
        ("pick a number", partial(pick, "cook_loss")),
        ("open a cook", partial(window.go, "cook", cook, "plan")),
        ("name it", partial(desk.bridge.do, change)),
        ("go to the bench", partial(window.go, "cook", cook, "bench")),
        ("tap", lambda: bench().tap_line.tapped.emit("lid")),
        ("tap undone", desk.bridge.undo),
        ("log", lambda: bench().day.turn("log")),
        ("other cook", partial(window.go, "cook", lines[1].id, "bench")),
        ("findings", partial(window.go, "cook", cook, "findings")),
        ("settings", lambda: window.open_panel("settings", cook)),
        ("trends", partial(window.go, "trends")),
        ("ask", partial(ask, "yield by set point")),
        ("ask otherwise", partial(ask, "yield by cut by cooker")),
        ("compare", partial(desk.go_to, beside)),
        ("find and do", partial(find, "brisk")),
        ("units", partial(choosing.other_units, desk)),
    ]


if __name__ == "__main__":
    main(Path(sys.argv[1]))
