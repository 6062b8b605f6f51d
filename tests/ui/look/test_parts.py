"""Parts by themselves: fields, tables, taps, messages."""

import time
from datetime import UTC, datetime

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.day.course import Part, Stretch
from pitjournal.domain.day.ribbon import Lane, Mark, Ribbon
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip
from pitjournal.ui.look.parts.buttons import HOLD, Tap
from pitjournal.ui.look.parts.chips import Chip, Choice
from pitjournal.ui.look.parts.fields import QuantityField, TextField
from pitjournal.ui.look.parts.sort_table import Cell, Heading, SortTable
from pitjournal.ui.look.parts.time_fields import TimeField
from pitjournal.ui.look.parts.words import row
from pitjournal.ui.look.parts.words_field import WordsField
from pitjournal.ui.look.theme import look
from pitjournal.units import Dimension, UnitSystem
from tests.ui.clipped import faults_in

POUND = 453.59237
"""g (international yard and pound agreement, 1959)."""


class Kept:
    """Remembers what a field saved."""

    def __init__(self, refuse: str = "") -> None:
        self.values: list[tuple[object, str]] = []
        self._refuse = refuse

    def __call__(self, value: object, typed: str) -> str:
        if not self._refuse:
            self.values.append((value, typed))
        return self._refuse


def type_into(qtbot: QtBot, field: QuantityField | TimeField, text: str) -> None:
    qtbot.addWidget(field)
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("3 lb 4 oz", 3.25 * POUND),
        ("1.5 kg", 1500.0),
        ("3.25", 3.25 * POUND),
        ("52 oz", 3.25 * POUND),
    ],
)
def test_that_any_unit_may_be_typed(qtbot: QtBot, text: str, grams: float) -> None:
    kept = Kept()
    field = QuantityField("Weight", Dimension.MASS, UnitSystem.US, kept)
    type_into(qtbot, field, text)
    ((value, typed),) = kept.values
    assert value == pytest.approx(grams)
    assert typed == text
    assert not field.error.text()


def test_that_nonsense_is_refused_beside_the_field_with_an_example(qtbot: QtBot) -> None:
    kept = Kept()
    field = QuantityField("Set point", Dimension.TEMPERATURE, UnitSystem.US, kept)
    type_into(qtbot, field, "quite hot")
    assert not kept.values
    assert "225 °F" in field.error.text()
    assert field.line.text() == "quite hot"


def test_that_what_the_journal_refuses_is_said_beside_the_field(qtbot: QtBot) -> None:
    field = QuantityField("Weight", Dimension.MASS, UnitSystem.US, Kept("That cannot be."))
    type_into(qtbot, field, "9 lb")
    assert field.error.text() == "That cannot be."


def test_that_what_is_typed_is_saved_at_a_pause(qtbot: QtBot) -> None:
    kept = Kept()
    field = QuantityField("Weight", Dimension.MASS, UnitSystem.METRIC, kept)
    qtbot.addWidget(field)
    qtbot.keyClicks(field.line, "2")
    qtbot.waitUntil(lambda: bool(kept.values), timeout=5000)
    assert kept.values[0][0] == pytest.approx(2000.0)


@pytest.mark.parametrize("several_lines", [False, True])
def test_that_what_is_typed_without_a_pause_is_saved_within_three_seconds(
    qtbot: QtBot, *, several_lines: bool
) -> None:
    kept = Kept()
    field = WordsField("Notes", kept) if several_lines else TextField("Notes", kept)
    qtbot.addWidget(field)
    line = field.edit if isinstance(field, WordsField) else field.line
    typing, typed, started = QTimer(interval=100), [], time.monotonic()

    def key() -> None:
        typed.append("a")
        qtbot.keyClick(line, Qt.Key.Key_A)

    typing.timeout.connect(key)
    typing.start()
    qtbot.waitUntil(lambda: bool(kept.values), timeout=10_000)
    typing.stop()
    assert time.monotonic() - started < 3.0
    assert len(str(kept.values[0][0])) >= len(typed) - 1
    assert len(typed) > 5  # it was no pause


def test_that_an_emptied_field_is_not_recorded_and_not_nothing(qtbot: QtBot) -> None:
    kept = Kept()
    field = QuantityField("Weight", Dimension.MASS, UnitSystem.METRIC, kept)
    field.set_value(1500.0)
    qtbot.addWidget(field)
    field.line.selectAll()
    qtbot.keyClick(field.line, Qt.Key.Key_Delete)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)
    assert kept.values == [(None, "")]
    assert field.line.placeholderText() == "not recorded"


@pytest.mark.parametrize(
    ("text", "hour", "minute"),
    [("20 min ago", 13, 20), ("7:15", 7, 15), ("yesterday 22:00", 22, 0)],
)
def test_that_times_are_typed_as_they_are_said(
    qtbot: QtBot, text: str, hour: int, minute: int
) -> None:
    kept = Kept()
    now = datetime(2026, 5, 2, 13, 40, tzinfo=UTC)
    field = TimeField("When", "UTC", lambda: now, kept)
    type_into(qtbot, field, text)
    value = kept.values[0][0]
    assert isinstance(value, datetime)
    assert (value.hour, value.minute) == (hour, minute)


def test_that_a_hold_is_no_tap(qtbot: QtBot) -> None:
    tap = Tap("Lid")
    qtbot.addWidget(tap)
    taps: list[str] = []
    tap.clicked.connect(lambda *_: taps.append("tap"))
    tap.held.connect(lambda: taps.append("hold"))
    qtbot.mousePress(tap, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: "hold" in taps, timeout=10 * HOLD)
    qtbot.mouseRelease(tap, Qt.MouseButton.LeftButton)
    assert taps == ["hold"]
    qtbot.mouseClick(tap, Qt.MouseButton.LeftButton)
    assert taps == ["hold", "tap"]
    assert tap.minimumWidth() >= 76
    assert tap.minimumHeight() >= 60


def test_that_a_table_sorts_by_numbers_and_keeps_the_unknown_last(qtbot: QtBot) -> None:
    table = SortTable("cooks")
    qtbot.addWidget(table)
    heads = (Heading("cook"), Heading("yield", number=True))
    rows = [
        (Cell("b", "b"), Cell("9.5 %", 9.5)),
        (Cell("a", "a"), Cell("not recorded")),
        (Cell("c", "c"), Cell("10 %", 10.0)),
    ]
    table.show_rows(heads, rows)
    assert [line[0] for line in table.texts()] == ["b", "a", "c"]
    table.view.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    assert [line[0] for line in table.texts()] == ["c", "b", "a"]
    table.view.sortByColumn(1, Qt.SortOrder.AscendingOrder)
    assert [line[0] for line in table.texts()] == ["b", "c", "a"]
    chosen: list[int] = []
    table.chosen.connect(chosen.append)
    table.view.clicked.emit(table.view.model().index(1, 0))
    assert chosen == [2]  # the number it was given with


def test_that_one_choice_takes_the_place_of_another(qtbot: QtBot) -> None:
    choice = Choice("view")
    qtbot.addWidget(choice)
    choice.offer((("a", "a", -1), ("b", "b", -1)))
    choice.choose("a")
    choice.choose("b")
    assert choice.values() == ("b",)


def test_that_a_choice_beside_a_field_stands_in_one_line(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    holder = QWidget(window)
    choice = Choice("over or under")
    choice.offer((("over", "over", -1), ("under", "under", -1)))
    choice.keep_in_a_row()
    field = QuantityField("Temperature", Dimension.TEMPERATURE, UnitSystem.US, lambda *_: "")
    holder.setLayout(row(choice, field))
    holder.setGeometry(0, 0, 400, 80)
    window.show()
    over, under = choice.findChildren(Chip)
    assert over.y() == under.y()
    assert over.geometry().right() < under.x()
    assert under.geometry().right() < choice.width()


def test_that_a_strip_tells_its_moments(qtbot: QtBot) -> None:
    strip = RibbonStrip()
    qtbot.addWidget(strip)
    course = (Stretch(Part.LIT, 0.0, 3600.0), Stretch(Part.ON, 3600.0, 7200.0, planned=True))
    marks = (
        Mark("lit", "lit", 0.0, None, False, 0.0),
        Mark("on", "on", 3600.0, 3600.0, True, 3600.0),
    )
    strip.show_ribbon(Ribbon((Lane("", None, ("one",), (course,)),), marks), "UTC")
    assert strip.accessibleDescription() == "As it went: lit 00:00. Planned on 01:00."
    assert strip.table() == [
        ["what", "for", "planned", "happened"],
        ["lit", "all", "not planned", "00:00"],
        ["on", "all", "01:00", "not yet"],
    ]
    strip.resize(400, strip.height())
    assert faults_in(strip) == []


def test_that_a_narrow_table_gives_up_margins_before_it_cuts_a_name(
    qtbot: QtBot, qapp: QApplication
) -> None:
    look().start(qapp, "light")
    table = SortTable("groups")
    qtbot.addWidget(table)
    heads = (Heading("group"), *(Heading(name, number=True) for name in ("mean", "interval")))
    table.show_rows(heads, [(Cell("Injected"), Cell("1000020"), Cell("120000 to 2000000"))])
    needed = sum(table._widths) + 70
    table.resize(needed + 100, 200)
    assert faults_in(table) == []
    table.resize(needed, 200)
    assert faults_in(table) == []


def test_that_a_long_table_leaves_its_bar_room_and_gives_the_roomy_column_lines(
    qtbot: QtBot, qapp: QApplication
) -> None:
    look().start(qapp, "light")
    holder = QWidget()
    qtbot.addWidget(holder)
    table = SortTable("season")
    table.setParent(holder)
    heads = (Heading("day"), Heading("what"), Heading("what came of it", roomy=True))
    came = "Injected: tenderness +0.91 points, over four cooks of ribs"
    rows = [(Cell("30 Nov 2026"), Cell(f"{n} ribs"), Cell(came)) for n in range(30)]
    table.show_rows(heads, rows)
    table.resize(420, 700)
    holder.show()
    qtbot.waitUntil(table.view.verticalScrollBar().isVisible)
    head = table.view.horizontalHeader()
    QApplication.processEvents()
    wide = sum(head.sectionSize(place) for place in range(3))
    assert wide <= table.view.viewport().width()
    day = table.view.fontMetrics().horizontalAdvance("30 Nov 2026")
    assert head.sectionSize(0) > day  # in one line
    assert table.view.rowHeight(0) > 1.5 * table.view.fontMetrics().height()
    assert faults_in(table) == []


@pytest.mark.parametrize("theme", ["light", "night", "sun"])
def test_that_a_chosen_arm_is_told_from_the_others_by_its_edge(
    qtbot: QtBot, qapp: QApplication, theme: str
) -> None:
    look().start(qapp, theme)
    chips = [Chip("Injected", mark=0, checkable=True) for _ in range(2)]
    thick = []
    for chip, chosen in zip(chips, (True, False), strict=True):
        qtbot.addWidget(chip)
        chip.setChecked(chosen)
        chip.resize(chip.sizeHint())
        picture = chip.grab().toImage()
        ground = picture.pixelColor(8, picture.height() // 2).name()
        row_of = [picture.pixelColor(x, picture.height() // 2).name() for x in range(8)]
        thick.append(sum(one != ground for one in row_of))
    look().choose("light")
    assert thick[0] > thick[1] >= 1


def test_that_chips_ask_for_their_lines_before_they_are_shown(
    qtbot: QtBot, qapp: QApplication
) -> None:
    look().start(qapp, "light")
    holder = QWidget()
    qtbot.addWidget(holder)
    holder.show()
    choice = Choice("for which pieces", tall=True)
    choice.setParent(holder)
    choice.show()
    choice.offer((name, name, -1) for name in ("all nine", "left alone", "injected", "needled"))
    asked = choice.height_at(200)  # its chips are shown when the window comes to it
    QApplication.processEvents()
    assert choice.height_at(200) == asked
    assert asked > 1.5 * choice.findChildren(Chip)[0].sizeHint().height()
