"""The stray-touch lock: no touch and no key does anything until it is held open."""

from typing import ClassVar

import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import Event
from pitjournal.ui.bench.lock import HOLD, Veil
from pitjournal.ui.look.theme import look
from pitjournal.ui.window import Window
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def locked(qtbot: QtBot, window: Window) -> Veil:
    bench = bench_on(window, Clock())
    window.activateWindow()
    qtbot.mouseClick(bench.lock_tap, LEFT)
    veil = window.findChild(Veil)
    assert veil is not None
    return veil


def middle_of(veil: Veil) -> QPoint:
    return veil.foot().center().toPoint()


def test_that_a_locked_window_takes_no_touch_and_no_key(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    locked(qtbot, window)
    before = len(window.desk.journal.find(Event))
    place = window.place
    tap = window.findChildren(type(place.current.taps["lid"]))[0]  # type: ignore[attr-defined]
    for target in (tap, window.rail.buttons["shelf"], window):
        qtbot.mouseClick(target, LEFT)
        for key in ("3", "5", "L"):
            qtbot.keyClick(target, key)
        qtbot.keyClick(target, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        qtbot.keyClick(target, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    assert len(window.desk.journal.find(Event)) == before
    assert window.place is place
    assert window.findChild(Veil) is not None


class Listening(Veil):
    """A lock that notes what it hears."""

    heard: ClassVar[list[QEvent.Type]] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - as Qt names it
        """Note it."""
        self.heard.append(event.type())
        return super().eventFilter(watched, event)


def test_that_the_lock_hears_nothing_of_a_window_that_is_away(open_window: Opener) -> None:
    window = open_window()
    veil = Listening(window)
    for there in (True, False, True):
        window.setVisible(there)
        veil.heard.clear()
        QApplication.sendEvent(window, QEvent(QEvent.Type.User))
        assert (QEvent.Type.User in veil.heard) == there
    window.close()


def test_that_the_lock_survives_another_look_and_size(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    veil = locked(qtbot, window)
    for theme in ("sun", "night", "light"):
        look().choose(theme)
        window.grab()
        assert veil.isVisible()
    window.resize(1024, 700)
    qtbot.waitUntil(lambda: veil.size() == window.size())


def test_that_a_short_press_does_not_unlock_and_a_long_one_does(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    veil = locked(qtbot, window)
    qtbot.mouseClick(veil, LEFT, pos=middle_of(veil))
    QTest.mousePress(veil, LEFT, pos=QPoint(200, 200))  # beside the foot
    assert not veil._held.isActive()
    QTest.mouseRelease(veil, LEFT, pos=QPoint(200, 200))
    assert veil.isVisible()
    QTest.mousePress(veil, LEFT, pos=middle_of(veil))
    with qtbot.waitSignal(veil.opened, timeout=5 * HOLD):
        pass
    bench = window.place.current  # type: ignore[attr-defined]
    before = len(window.desk.journal.find(Event))
    qtbot.mouseClick(bench.taps["lid"], LEFT)
    assert len(window.desk.journal.find(Event)) == before + 1


def test_that_the_key_unlocks_only_when_it_is_held(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    veil = locked(qtbot, window)
    qtbot.keyClick(window, Qt.Key.Key_L)
    assert not veil._held.isActive()
    QTest.keyPress(window, Qt.Key.Key_L)
    with qtbot.waitSignal(veil.opened, timeout=5 * HOLD):
        pass


@pytest.mark.parametrize("times", [1, 3])
def test_that_locking_twice_is_one_lock(qtbot: QtBot, open_window: Opener, times: int) -> None:
    window = open_window()
    locked(qtbot, window)
    for _ in range(times):
        window.place.current.opens.lock()  # type: ignore[attr-defined]
    assert len(window.findChildren(Veil)) == 1
