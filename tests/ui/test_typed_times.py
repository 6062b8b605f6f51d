"""Times typed into the window: in a plan they lie ahead, on the bench behind."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.event import Event, EventKind
from pitjournal.journal.commands.records import AddCook
from pitjournal.ui.bench.panels import WhenPanel
from pitjournal.ui.plan import new_cook
from pitjournal.ui.plan.new_cook import NewCookPage
from pitjournal.ui.window import Window
from tests.builders import a_cook, an_event, three_arms
from tests.ui.bench.clock import Clock, bench_of
from tests.ui.conftest import Opener

CHICAGO = "America/Chicago"
MONDAY = datetime(2026, 11, 30, 10, 0, tzinfo=ZoneInfo(CHICAGO)).astimezone(UTC)


def wall(moment: datetime | None, zone: str = CHICAGO) -> str:
    assert moment is not None
    return moment.astimezone(ZoneInfo(zone)).strftime("%a %d %b %H:%M")


def typed(qtbot: QtBot, line: QLineEdit, text: str) -> None:
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)


@pytest.fixture
def window(open_window: Opener, monkeypatch: pytest.MonkeyPatch) -> Window:
    monkeypatch.setattr(new_cook, "local_zone", lambda: CHICAGO)
    made = open_window()
    Clock(MONDAY).wind(made)
    made.activateWindow()
    return made


def started(qtbot: QtBot, window: Window, when: str) -> Cook:
    window.go("new cook")
    page = window.place
    assert isinstance(page, NewCookPage)
    page.cut.set_value("back ribs")
    if when:
        typed(qtbot, page.when.line, when)
    page.start_plan()
    return max(window.desk.journal.find(Cook), key=lambda cook: cook.number)


def test_that_saturday_typed_on_a_monday_is_the_coming_one(qtbot: QtBot, window: Window) -> None:
    cook = started(qtbot, window, "Saturday 09:00")
    assert wall(cook.starts_at) == "Sat 05 Dec 09:00"


def test_that_a_cook_of_another_zone_keeps_its_clock_when_cooked_again(
    qtbot: QtBot, window: Window
) -> None:
    berlin = a_cook(zone="Europe/Berlin")
    window.desk.journal.do(AddCook(berlin, three_arms(berlin)))
    window.go("new cook", berlin.id)
    page = window.place
    assert isinstance(page, NewCookPage)
    assert "Europe/Berlin" in page.older.comes_along.text()
    typed(qtbot, page.when.line, "Saturday 09:00")
    page.start_plan()
    cook = max(window.desk.journal.find(Cook), key=lambda one: one.number)
    assert cook.zone == "Europe/Berlin"
    assert wall(cook.starts_at, "Europe/Berlin") == "Sat 05 Dec 09:00"
    # The next one is by the clock at home again.
    assert wall(started(qtbot, window, "Saturday 09:00").starts_at) == "Sat 05 Dec 09:00"


@pytest.mark.parametrize(
    ("days", "status", "text", "meant"),
    [
        (0, CookStatus.RUNNING, "8:00", "Mon 30 Nov 08:00"),
        (0, CookStatus.RUNNING, "22:00", "Sun 29 Nov 22:00"),
        (0, CookStatus.RUNNING, "Sat 22:00", "Sat 28 Nov 22:00"),
        (1, CookStatus.DONE, "9:30", "Sun 29 Nov 09:30"),  # and not half an hour ago
        (2, CookStatus.RUNNING, "9:30", "Sat 28 Nov 09:30"),  # never said to be done
    ],
)
def test_that_a_time_at_the_bench_is_that_of_its_cook(
    qtbot: QtBot, window: Window, *, days: int, status: CookStatus, text: str, meant: str
) -> None:
    start = MONDAY - timedelta(days=days, hours=2)
    cook = a_cook(starts_at=start, status=status)
    lit = an_event(cook.id, EventKind.LIT)
    lit = Event(cook_id=cook.id, kind=EventKind.LIT, happened_at=start, entered_at=lit.entered_at)
    window.desk.journal.do(AddCook(cook, (*three_arms(cook), lit)))
    window.go("cook", cook.id, "bench")
    bench_of(window).taps["flip"].held.emit()
    panel = window.findChild(WhenPanel)
    assert panel is not None
    typed(qtbot, panel.time.line, text)
    panel.keep.click()
    assert QApplication.activePopupWidget() is None
    flip = window.desk.journal.find(Event, kind=EventKind.FLIP)[0]
    assert wall(flip.happened_at) == meant
