"""A log from paper in the window: typed in one go, shown as read, kept as one step."""

from datetime import UTC, datetime

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.paper_panel import PaperPanel
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener

LATER = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)


def panel_of(window: Window) -> PaperPanel:
    window.desk.clock = lambda: LATER
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "bench")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    place.current.opens.paper()
    return window.findChildren(PaperPanel)[-1]


def test_that_a_list_is_kept_on_the_cooks_own_day_as_one_step(open_window: Opener) -> None:
    window = open_window()
    panel = panel_of(window)
    panel.text.setPlainText("6:10 lit\n7:05 on\n0:20 A1 203 feel 4\n0:30 off A1")
    panel.keep.click()
    journal = window.desk.journal
    # 2 May 2026 in Chicago is five hours behind UTC: 6:10 is 11:10, and 0:20 is of the 3rd
    assert [f"{event.happened_at:%d %H:%M} {event.kind}" for event in journal.find(Event)] == [
        "02 11:10 lit",
        "02 12:05 on",
        "03 05:30 off",
    ]
    (check,) = journal.find(DonenessCheck)
    assert (check.feel, f"{check.at:%d %H:%M}") == (4, "03 05:20")
    assert journal.find(Cook)[0].status is CookStatus.RUNNING
    assert journal.steps()[0] == "From paper: 4 lines"
    journal.undo()
    assert not journal.find(Event)
    assert not journal.find(DonenessCheck)


def test_that_what_cannot_be_read_stays_to_be_mended_and_the_rest_is_kept(
    open_window: Opener,
) -> None:
    window = open_window()
    panel = panel_of(window)
    panel.text.setPlainText("7:05 on\nwrapped at some time\n10:00 off")
    panel._show()
    assert panel.keep.text() == "Keep 2 lines"
    panel.keep.click()
    assert len(window.desk.journal.find(Event)) == 2
    assert panel.text.toPlainText() == "wrapped at some time"
    assert "could not be read" in panel.problem.text()


def test_that_a_cook_planned_for_another_day_takes_the_day_it_began(open_window: Opener) -> None:
    window = open_window()
    panel = panel_of(window)
    panel.text.setPlainText("9 May 7:00 on\n9 May 12:00 off")
    panel.keep.click()
    (cook,) = window.desk.journal.find(Cook)
    assert f"{cook.starts_at:%d %H:%M}" == "09 12:00"  # seven o'clock in Chicago
