"""The bench at arm's length: tiles in their places, taps for one, keys, back again."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from pitjournal.domain.alarm import Alarm, AlarmKind
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.journal.commands.bench import CheckDoneness, LogEvent, SetAlarms
from pitjournal.journal.commands.records import Change
from pitjournal.ui.bench.alarms.alarm_bar import AlarmBar
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.bench.wall.tiles import Sign
from pitjournal.ui.bench.wall.wall import Wall
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.theme import look
from pitjournal.ui.window import Window
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.clipped import faults_in
from tests.ui.conftest import Opener


def wall_of(window: Window) -> tuple[BenchPage, Wall, Clock]:
    """Open the wall of a bench on which all pieces lie since an hour."""
    clock = Clock()
    window.resize(1280, 800)
    window.show()
    bench = bench_on(window, clock)
    clock.pass_minutes(window, 60)
    bench._from_afar()
    wall = bench.from_afar.wall
    assert wall is not None
    return bench, wall, clock


def check(bench: BenchPage, piece: Piece, clock: Clock, celsius: float, feel: int | None) -> None:
    assert bench.whole is not None
    found = DonenessCheck(
        cook_id=bench.whole.cook.id, piece_id=piece.id, at=clock.now, internal=celsius, feel=feel
    )
    bench.desk.bridge.do(CheckDoneness(found))


def test_that_each_piece_has_a_tile_where_it_lies(open_window: Opener) -> None:
    window = open_window()
    bench, wall, _ = wall_of(window)
    assert bench.whole is not None
    for place, piece in enumerate(bench.whole.pieces):
        bench.desk.bridge.do(
            Change(Piece, piece.id, {"slot": str(len(bench.whole.pieces) - place)})
        )
    bench._tick()
    lines = [[card.tile.label for card in line if card.tile] for line in wall._lines]
    labels = [label for line in lines for label in line]
    assert labels == [piece.label for piece in reversed(bench.whole.pieces)]
    tops = [[card.mapTo(wall, card.rect().topLeft()).y() for card in line] for line in wall._lines]
    assert all(len(set(line)) == 1 for line in tops)
    assert [line[0] for line in tops] == sorted(line[0] for line in tops)


def test_that_right_under_over_and_probe_differ_by_word_and_by_shape(open_window: Opener) -> None:
    window = open_window()
    bench, wall, clock = wall_of(window)
    assert bench.whole is not None
    pieces = bench.whole.pieces
    for piece, celsius, feel in zip(
        pieces, (96.0, 95.0, 60.0, 99.0), (4, 1, None, 7), strict=False
    ):
        check(bench, piece, clock, celsius, feel)
    check(bench, pieces[4], clock, 95.0, None)
    bench._tick()
    signs = [wall.tiles[piece.id].tile.sign for piece in pieces[:5]]  # type: ignore[union-attr]
    assert signs == [Sign.RIGHT, Sign.UNDER, Sign.NOT_FELT, Sign.OVER, Sign.PROBE]
    said = wall.tiles[pieces[3].id].accessibleName()
    assert "over at" in said
    assert said.endswith("take it off")
    shares = [wall.tiles[piece.id].tile.share for piece in pieces[:5]]  # type: ignore[union-attr]
    assert shares[4] == 1.0
    assert shares[2] is not None
    assert 0.4 < shares[2] < 0.8


@pytest.mark.parametrize("theme", ["light", "night", "sun"])
def test_that_tiles_paint_in_every_look_and_size(open_window: Opener, theme: str) -> None:
    window = open_window()
    bench, wall, clock = wall_of(window)
    look().choose(theme)
    assert bench.whole is not None
    for piece, feel in zip(bench.whole.pieces, (4, 1, 7, None), strict=False):
        check(bench, piece, clock, 95.0, feel)
    bench._tick()
    for size in ((1280, 800), (1024, 700)):
        window.resize(*size)
        assert wall.size() == window.size()
        wall.grab()
    look().choose("light")


def test_that_a_touch_brings_the_taps_for_that_piece_and_a_tap_is_saved_for_it(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench, wall, _ = wall_of(window)
    assert bench.whole is not None
    piece = bench.whole.pieces[1]
    qtbot.mouseClick(wall.tiles[piece.id], Qt.MouseButton.LeftButton)
    assert wall.sheet.isVisible()
    assert wall.tiles[piece.id].isVisible()
    assert piece.label in wall.sheet.heading.text()
    for tap in wall.sheet.findChildren(QPushButton):
        assert tap.height() >= 44
    qtbot.mouseClick(wall.sheet.taps["wrap"], Qt.MouseButton.LeftButton)
    (wrap,) = (e for e in window.desk.journal.find(Event) if e.kind == EventKind.WRAP)
    assert wrap.pieces == (piece.id,)
    assert not wall.sheet.isVisible()
    assert bench.selector.chosen == ()


def test_that_on_and_off_in_one_moment_is_a_bounce(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench, wall, clock = wall_of(window)
    assert bench.whole is not None
    bench.log("on")  # this very moment
    first = next(iter(wall.tiles))
    wall.lift(first)
    assert wall.sheet.taps["on"].text() == "Off"
    qtbot.mouseClick(wall.sheet.taps["on"], Qt.MouseButton.LeftButton)
    assert not window.desk.journal.whole(bench.whole.cook.id).happened(EventKind.OFF)
    clock.pass_minutes(window, 1)
    wall.lift(first)
    qtbot.mouseClick(wall.sheet.taps["on"], Qt.MouseButton.LeftButton)
    (off,) = window.desk.journal.whole(bench.whole.cook.id).happened(EventKind.OFF)
    assert off.pieces == (first,)


def test_that_it_is_walked_tapped_and_left_by_keys(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench, wall, _ = wall_of(window)
    assert bench.whole is not None
    first = wall._lines[0][0]
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Right)
    beside = wall._lines[0][1]
    assert wall.focusWidget() is beside
    qtbot.keyClick(beside, Qt.Key.Key_3)  # the third tap is Lid, that of every piece
    qtbot.keyClick(beside, Qt.Key.Key_4)
    flips = [e for e in window.desk.journal.find(Event) if e.kind == EventKind.FLIP]
    assert beside.tile is not None
    assert [e.pieces for e in flips] == [(beside.tile.piece_id,)]
    qtbot.keyClick(beside, Qt.Key.Key_Return)
    assert wall.sheet.isVisible()
    wall.close_panel()  # Escape
    assert not wall.sheet.isVisible()
    assert bench.from_afar.wall is wall
    wall.close_panel()
    assert bench.from_afar.wall is None


def test_that_it_comes_back_after_a_restart_while_the_cook_runs(open_window: Opener) -> None:
    window = open_window()
    bench, _, _ = wall_of(window)
    assert bench.whole is not None
    assert window.desk.preferences.from_afar == bench.whole.cook.id
    kept = window.desk.preferences
    bench.from_afar.put_away()
    assert not window.desk.preferences.from_afar
    window.go("cooks")
    window.desk.preferences = replace(kept)
    window.go("cook", bench.whole.cook.id, "bench")
    assert bench.from_afar.wall is not None


def test_that_an_alarm_is_seen_and_answered_there(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench, wall, clock = wall_of(window)
    assert bench.whole is not None
    due = Alarm(
        cook_id=bench.whole.cook.id,
        kind=AlarmKind.AT,
        words="Spritz",
        set_at=clock.now,
        at=clock.now,
        does="spritz",
    )
    window.desk.journal.do(SetAlarms((due,), "Alarm"))
    clock.pass_seconds(window, 2)
    bar = wall.findChild(AlarmBar)
    assert bar is not None
    assert bar.isVisible()
    assert bar.said.accessibleName() == "Spritz"
    qtbot.mouseClick(bar.done, Qt.MouseButton.LeftButton)
    assert [e.kind for e in window.desk.journal.find(Event) if e.kind == "spritz"] == ["spritz"]
    assert not bar.isVisible()
    bench.from_afar.put_away()
    window.desk.watch.look()  # and what was put away hears nothing more


def test_that_the_taps_sink_by_themselves(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    _, wall, _ = wall_of(window)
    wall._sinks.setInterval(20)
    wall.lift(next(iter(wall.tiles)))
    qtbot.waitUntil(lambda: not wall.sheet.isVisible())
    assert all(card.isVisible() for card in wall.tiles.values())


@pytest.mark.parametrize("size", [(1280, 800), (1024, 700)])
def test_that_what_was_saved_is_said_over_no_tile_and_no_tap(
    open_window: Opener, size: tuple[int, int]
) -> None:
    window = open_window()
    bench, wall, _ = wall_of(window)
    window.resize(*size)
    assert bench.whole is not None
    bench.desk.bridge.do(Change(Piece, bench.whole.pieces[0].id, {"note": "a"}, "Note"))
    said = [bar for bar in window.findChildren(MessageBar) if bar.isVisible()]
    wall.lift(bench.whole.pieces[0].id)
    QApplication.processEvents()
    assert said
    for bar in said:
        there = QRect(bar.mapToGlobal(QPoint(0, 0)), bar.size())
        for tap in (*wall.tiles.values(), *wall.sheet.taps.values()):
            if tap.isVisible():
                assert not there.intersects(QRect(tap.mapToGlobal(QPoint(0, 0)), tap.size()))
    wall.sink()
    QApplication.processEvents()
    for bar in said:
        there = QRect(bar.mapToGlobal(QPoint(0, 0)), bar.size())
        for tap in wall.tiles.values():
            assert not there.intersects(QRect(tap.mapToGlobal(QPoint(0, 0)), tap.size()))


def test_that_the_smallest_window_shows_all_words_of_what_is_next(open_window: Opener) -> None:
    window = open_window()
    bench, wall, _ = wall_of(window)
    window.resize(1024, 700)
    QApplication.processEvents()
    assert not faults_in(wall.due)
    bench.from_afar.put_away()
    assert bench.whole is not None
    off = Event(
        cook_id=bench.whole.cook.id,
        kind=EventKind.OFF,
        happened_at=bench.desk.now(),
        entered_at=bench.desk.now(),
    )
    bench.desk.bridge.do(LogEvent(off, "Off"))
    bench._tick()
    QApplication.processEvents()
    assert bench.due.finish.isVisible()
    assert not bench.off.isVisible()  # everything is off is said once
    assert not faults_in(bench.due)
