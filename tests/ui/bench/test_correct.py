"""*Correct* mends all of an entry, as one step that one undo takes back."""

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import DonenessCheck, Event, EventKind, Note
from pitjournal.domain.record import Record
from pitjournal.domain.treatment import FuelLoad, FuelStage, WoodAddition
from pitjournal.journal.commands.records import Add
from pitjournal.ui.bench.correct import CorrectPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.window import Window
from tests.builders import NOON, an_event
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener

NOW = NOON + timedelta(hours=4)


def typed(qtbot: QtBot, field: Field, text: str) -> None:
    field.line.setFocus()
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)


def chip(inside: QWidget, text: str) -> None:
    next(c for c in inside.findChildren(Chip) if c.text() == text).click()


@pytest.fixture
def bench(open_window: Opener) -> BenchPage:
    made = bench_on(open_window(), Clock(NOW))
    made.day.turn("log")
    return made


def opened(bench: BenchPage, record: Record) -> CorrectPanel:
    """Keep a record, and press *Correct* on its line of the log."""
    bench.desk.journal.do(Add((record,), "Log"))
    line = next(row for row in bench.day.log._rows if row._record == record)
    line.correct.click()
    window = bench.window()
    assert isinstance(window, Window)
    assert isinstance(window.panel, CorrectPanel)
    return window.panel


def ids(bench: BenchPage) -> dict[str, str]:
    assert bench.whole is not None
    return {piece.label: piece.id for piece in bench.whole.pieces}


def cook_id(bench: BenchPage) -> str:
    assert bench.whole is not None
    return bench.whole.cook.id


def test_that_a_probe_is_mended_whole(qtbot: QtBot, bench: BenchPage) -> None:
    pieces = ids(bench)
    check = DonenessCheck(
        cook_id=cook_id(bench), piece_id=pieces["A1"], at=NOON, internal=60.0, feel=2
    )
    panel = opened(bench, check)
    typed(qtbot, panel.fields["internal"], "195F")
    typed(qtbot, panel.fields["point"], "thick end")
    chip(panel.choices["feel"], "4 right")
    chip(panel.choices["piece_id"], "B2")
    typed(qtbot, panel.time, "20 min ago")
    panel.keep.click()
    kept = bench.desk.journal.find(DonenessCheck)[0]
    assert kept.internal == pytest.approx((195 - 32) / 1.8)
    assert (kept.feel, kept.piece_id, kept.point) == (4, pieces["B2"], "thick end")
    assert kept.typed["internal"] == "195F"
    assert kept.at == NOW - timedelta(minutes=20)
    bench.desk.bridge.undo()
    assert bench.desk.journal.find(DonenessCheck) == [check]


def test_that_a_probe_that_would_say_nothing_stays_open(qtbot: QtBot, bench: BenchPage) -> None:
    check = DonenessCheck(cook_id=cook_id(bench), piece_id=ids(bench)["A1"], at=NOON, feel=2)
    panel = opened(bench, check)
    chip(panel.choices["feel"], "not felt")
    panel.keep.click()
    assert "needs a temperature or a feel" in panel.time.error.text()
    assert bench.desk.journal.find(DonenessCheck) == [check]
    typed(qtbot, panel.fields["internal"], "hot")
    panel.keep.click()
    assert panel.fields["internal"].line.text() == "hot"  # refused beside it, and kept
    assert "Try" in panel.fields["internal"].error.text()


def test_that_an_event_is_for_other_pieces_in_another_wrap(qtbot: QtBot, bench: BenchPage) -> None:
    pieces = ids(bench)
    event = an_event(cook_id(bench), EventKind.WRAP, pieces=[pieces["A1"], pieces["A2"]])
    panel = opened(bench, event)
    chip(panel.choices["pieces"], "A2")
    chip(panel.choices["pieces"], "C3")
    chip(panel.wrap, "paper")
    typed(qtbot, panel.fields["note"], "tore a bit")
    panel.keep.click()
    kept = bench.desk.journal.find(Event, id=event.id)[0]
    assert set(kept.pieces) == {pieces["A1"], pieces["C3"]}
    assert kept.details == {"wrap": "paper"}
    assert kept.note == "tore a bit"
    assert kept.happened_at == event.happened_at


def test_that_fuel_wood_and_words_are_mended(qtbot: QtBot, bench: BenchPage) -> None:
    journal, cook = bench.desk.journal, cook_id(bench)
    load = FuelLoad(cook_id=cook, stage=FuelStage.ADDED, fuel="lump", mass=900.0, at=NOON)
    panel = opened(bench, load)
    typed(qtbot, panel.fields["mass"], "2 lb")
    typed(qtbot, panel.fields["fuel"], "briquettes")
    panel.keep.click()
    kept = journal.find(FuelLoad)[0]
    assert kept.mass == pytest.approx(2 * 453.59237)  # the pound of 1959
    assert kept.fuel == "briquettes"
    wood = WoodAddition(cook_id=cook, wood="oak", form="chunk", at=NOON)
    panel = opened(bench, wood)
    typed(qtbot, panel.fields["wood"], "cherry")
    panel.keep.click()
    assert journal.find(WoodAddition)[0].wood == "cherry"
    note = Note(cook_id=cook, text="windy", at=NOON)
    panel = opened(bench, note)
    typed(qtbot, panel.fields["text"], "")
    qtbot.keyClick(panel.fields["text"].line, Qt.Key.Key_Backspace)
    panel.keep.click()
    assert "take the entry away" in panel.fields["text"].error.text()
    typed(qtbot, panel.fields["text"], "windy, from the door side")
    panel.keep.click()
    assert journal.find(Note)[0].text == "windy, from the door side"
