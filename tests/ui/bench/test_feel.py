"""Probe and feel as hands do it: a piece chosen, a figure typed, a slip asked about."""

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.piece import Piece
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.panels import WhenPanel
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.window import Window
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def panel_on(window: Window, hours: float) -> FeelPanel:
    clock = Clock()
    bench = bench_on(window, clock)
    clock.now += timedelta(hours=hours)
    bench.opens.feel()
    panel = window.findChild(FeelPanel)
    assert panel is not None
    return panel


def kept(window: Window) -> dict[str, tuple[int, int | None]]:
    """Return what stands in the journal: by piece the last temperature, °F, and feel."""
    journal = window.desk.journal
    labels = {piece.id: piece.label for piece in journal.find(Piece)}
    mine = max(journal.find(Cook), key=lambda cook: cook.number)
    return {
        labels[one.piece_id]: (round(1.8 * (one.internal or 0) + 32), one.feel)
        for one in journal.find(DonenessCheck, cook_id=mine.id)
    }


def test_that_a_piece_that_was_clicked_takes_the_temperature_typed_next(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    panel = panel_on(window, 4)
    chip = next(c for c in panel.findChildren(Chip) if c.text() == "B2")
    qtbot.mouseClick(chip, LEFT)
    qtbot.keyClicks(window.focusWidget(), "195")
    qtbot.keyClick(window.focusWidget(), Qt.Key.Key_Return)
    qtbot.keyClick(window.focusWidget(), Qt.Key.Key_4)
    assert kept(window) == {"B2": (195, 4)}


def test_that_a_figure_cut_short_is_asked_about_and_kept_when_it_is_given_again(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    panel = panel_on(window, 4)
    qtbot.keyClicks(panel.internal.line, "19")
    qtbot.mouseClick(panel.taps[0], LEFT)
    assert not kept(window)
    assert "so cold after so long on the fire?" in panel.asks.text()
    assert panel.asks.isVisible()
    qtbot.keyClicks(window.focusWidget(), "195")
    qtbot.mouseClick(panel.taps[2], LEFT)
    assert list(kept(window).values()) == [(195, 3)]
    assert not panel.asks.isVisible()
    qtbot.keyClicks(window.focusWidget(), "95")
    for _ in range(2):
        qtbot.keyClick(window.focusWidget(), Qt.Key.Key_Return)
        qtbot.keyClick(window.focusWidget(), Qt.Key.Key_4)
    assert sorted(kept(window).values()) == [(95, 4), (195, 3)]


def test_that_a_question_falls_when_another_piece_is_chosen(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    panel = panel_on(window, 4)
    for _ in range(2):
        qtbot.keyClicks(panel.internal.line, "19")
        qtbot.mouseClick(panel.taps[0], LEFT)
        assert panel.asks.isVisible()  # anew, each time
        for piece in reversed(panel.pieces.offered[:2]):
            panel.pieces.choose(piece)
            panel.pieces.chosen.emit(piece)
            assert not panel.asks.isVisible()
        panel.internal.line.clear()
    assert not kept(window)


@pytest.mark.usefixtures("qtbot")
def test_that_the_panel_stays_where_it_is_when_the_windows_appear(open_window: Opener) -> None:
    window = open_window()
    panel = panel_on(window, 4)
    QApplication.processEvents()
    top = panel.y()
    for score in (4, 5):
        QTest.mouseClick(panel.taps[score - 1], LEFT)
        QApplication.processEvents()
        assert panel.windows.isVisible()
        assert panel.y() == top


@pytest.mark.usefixtures("qtbot")
def test_that_a_panel_grows_with_a_line_of_what_is_wrong(open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    bench._hold("lid")
    panel = window.findChild(WhenPanel)
    assert panel is not None
    QApplication.processEvents()
    panel.time.line.selectAll()
    QTest.keyClicks(panel.time.line, "whenever")
    panel.time.commit()
    for _ in range(5):
        QApplication.processEvents()
    (area,) = panel.findChildren(QScrollArea)
    assert panel.time.error.isVisible()
    assert not area.verticalScrollBar().maximum()  # all of Keep it is seen


def test_that_undo_stays_beside_a_tap_while_eyes_are_on_the_meat(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    qtbot.mouseClick(bench.taps["lid"], LEFT)
    assert bench.bar.undo.isVisible()
    assert bench.bar._fade.remainingTime() > 60_000
