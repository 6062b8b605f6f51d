"""The log of the bench: what is odd is flagged, and one tap mends it."""

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import Event, EventKind
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.ui.bench.log import LogRow
from pitjournal.ui.look.parts.chips import Chip
from tests.builders import an_event
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener


def test_that_a_second_off_is_flagged_and_taken_away_by_one_tap(
    qtbot: QtBot, open_window: Opener
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    assert bench.whole is not None
    cook_id, piece = bench.whole.cook.id, bench.whole.pieces[0]
    for minutes in (-3, -1):
        off = an_event(cook_id, EventKind.OFF, minutes=minutes, pieces=[piece.id])
        window.desk.journal.do(LogEvent(off, "Log off"))
    chips = [chip.text() for chip in bench.day.view.findChildren(Chip)]
    assert "log, 1 to look at" in chips
    bench.day.turn("log")
    odd = [row for row in bench.day.log.findChildren(LogRow) if row.odd.isVisible()]
    assert len(odd) == 1
    assert "off already" in odd[0].odd.words.text()
    assert odd[0].odd.button.height() >= 60
    qtbot.mouseClick(odd[0].odd.button, Qt.MouseButton.LeftButton)
    offs = [e for e in window.desk.journal.find(Event) if e.kind == EventKind.OFF]
    assert len(offs) == 1
    assert not [row for row in bench.day.log.findChildren(LogRow) if row.odd.isVisible()]
    window.desk.bridge.undo()
    assert len([e for e in window.desk.journal.find(Event) if e.kind == EventKind.OFF]) == 2
