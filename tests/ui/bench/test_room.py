"""What appears on the bench has room: panels grow with it, and a refusal is read in full."""

from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from pitjournal.ui.bench.feel_panel import FeelPanel
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener


def test_that_a_panel_grows_with_what_appears_in_it(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    window.show()
    bench = bench_on(window, Clock())
    bench.opens.feel()
    panel = window.findChild(FeelPanel)
    assert panel is not None
    before = panel.height()
    assert panel.windows.isHidden()
    panel.taps[3].click()  # right, so that a bar of how long appears
    assert panel.windows.isVisible()
    qtbot.waitUntil(lambda: panel.height() >= before + panel.windows.minimumHeight())
    parts = (panel.internal, panel.taps[0], panel.said, panel.windows)
    tops = [part.mapTo(panel, part.rect().topLeft()).y() for part in parts]
    ends = [part.mapTo(panel, part.rect().bottomLeft()).y() for part in parts]
    assert all(end < top for end, top in zip(ends, tops[1:], strict=False))
    assert ends[-1] < panel.height() <= window.height()


def test_that_a_refusal_without_room_is_said_in_full_above_the_line(open_window: Opener) -> None:
    window = open_window()
    window.resize(1024, 700)
    window.show()
    bench = bench_on(window, Clock())
    long = (
        "letter.csv is not a temperature log that can be read. Choose the file your logger wrote."
    )
    window.desk.bridge.refused.emit(long)
    full = bench.bar.full
    assert full.isVisible()
    assert full.text.text() == long
    assert full.geometry().bottom() < bench.selector.geometry().top()
    assert not bench.bar.isVisible()  # it is said once
    away = full.findChildren(QPushButton)[0]
    away.click()
    assert not full.isVisible()
    window.desk.bridge.refused.emit("No.")
    assert not full.isVisible()
    assert bench.bar.isVisible()


def test_that_what_is_said_in_full_stays_in_sight_when_the_window_gets_smaller(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    window.resize(1280, 800)
    window.show()
    bench = bench_on(window, Clock())
    window.desk.bridge.refused.emit("A long refusal, and what to do about it. " * 3)
    full = bench.bar.full
    assert full.isVisible()
    window.resize(1024, 700)
    line = bench.selector.geometry
    qtbot.waitUntil(lambda: full.geometry().right() == line().right())
    qtbot.waitUntil(lambda: full.geometry().bottom() < line().top())
    assert full.geometry().left() >= line().left()


def test_that_why_something_is_not_saved_yet_is_read_without_hovering(
    open_window: Opener,
) -> None:
    window = open_window()
    window.resize(1024, 700)
    window.show()
    bench = bench_on(window, Clock())
    why = "The disk is full. Make room on it; what you log is kept till then, and tried again."
    bench.bar._bridge.why = why
    bench.bar._say_holding(1)
    full = bench.bar.full
    assert full.isVisible()
    assert "Make room on it; what you log is kept till then" in full.text.text()
    assert bench.bar.isVisible()
