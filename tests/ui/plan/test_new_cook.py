"""Starting a cook in the real window: compared, two by two, again, from a recipe."""

from datetime import UTC, datetime
from typing import cast
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.journal.commands.records import Add
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look.parts.chips import Chip, Choice
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.plan.new_cook import NewCookPage
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener


def chip(qtbot: QtBot, choice: Choice, text: str) -> None:
    found = [c for c in choice.findChildren(Chip) if c.text() == text]
    qtbot.mouseClick(found[-1], Qt.MouseButton.LeftButton)


def type_into(field: Field, text: str) -> None:
    """Fill a field in and leave it; no key by key, since no list may open without a screen."""
    field.line.setText(text)
    field.line.setModified(True)
    field.commit()


def new_cook(window: Window) -> NewCookPage:
    window.go("new cook")
    return cast("NewCookPage", window.place)


def test_that_two_by_two_is_started_in_one_go(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = new_cook(window)
    chip(qtbot, page.ways, "needled")
    chip(qtbot, page.what.every, "every combination, two by two")
    type_into(page.cut, "back ribs")
    chip(qtbot, page.count, "2")
    assert page.warning.text() == ""
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    journal = window.desk.journal
    assert [arm.name for arm in journal.find(Arm)] == ["Left alone", "Injected", "Needled", "Both"]
    assert len(journal.find(Piece)) == 8
    assert journal.find(Cook)[0].seed is not None


def test_that_two_things_are_warned_of_and_halves_need_two_ways(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = new_cook(window)
    chip(qtbot, page.what.things, "the wrap")
    assert "Two things change" in page.warning.text()
    chip(qtbot, page.what.things, "the wrap")
    chip(qtbot, page.ways, "needled")
    chip(qtbot, page.within, "slabs cut in half")
    assert "two halves" in page.warning.text()
    page.cut.line.setText("back ribs")
    with qtbot.waitSignal(window.desk.bridge.refused) as told:
        qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    assert "two halves" in told.args[0]
    assert not window.desk.journal.find(Cook)
    type_into(page.cut, "brisket flat")
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    assert window.place is page
    chip(qtbot, page.ways, "needled")
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    pieces = window.desk.journal.find(Piece)
    assert {piece.end for piece in pieces} == {"front", "back"}
    assert len({piece.pair for piece in pieces}) == 3


def test_that_what_is_wrong_is_scrolled_into_sight(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    window.resize(1024, 560)
    window.show()
    page = new_cook(window)
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)  # the cut is missing, far down
    area = next(area for area in page.findChildren(QScrollArea) if area.isAncestorOf(page.cut))

    def in_sight() -> bool:
        port = area.viewport()
        foot = page.cut.error.mapTo(port, page.cut.error.rect().bottomLeft()).y()
        return page.cut.error.isVisible() and 0 < foot < port.height()

    qtbot.waitUntil(in_sight)


def test_that_again_lists_what_changes_and_keeps_the_older_cook(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "plan")
    place = cast("CookPlace", window.place)
    cast("PlanPage", place.current)._again()
    page = cast("NewCookPage", window.place)
    assert "nothing but the day" in page.older.comes_along.text()
    type_into(page.set_point, "275 F")
    assert "set point: not recorded → 275 °F" in page.older.comes_along.text()
    assert page.warning.text() == ""
    type_into(page.cooker, "the drum")
    assert "More than one thing changes" in page.warning.text()
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    first, second = sorted(window.desk.journal.find(Cook), key=lambda cook: cook.number)
    assert first.set_point is None
    assert second.set_point is not None
    whole = window.desk.journal.whole(second.id)
    assert [arm.name for arm in whole.arms] == ["Left alone", "Injected", "Needled"]
    assert whole.cooker is not None


def test_that_an_older_cook_that_is_not_there_is_said(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = new_cook(window)
    chip(qtbot, page.sort, "again, but…")
    type_into(page.older.like, "99")
    assert "No cook is called" in page.older.like.error.text()
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    assert "Say which cook" in page.older.like.error.text()


def test_that_a_recipe_of_ones_own_stands_beside_a_control(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    parts = {"stock": 960, "salt": 25, "phosphate": 15}
    item = ShelfItem(kind=ShelfKind.RECIPE, name="house injection", details={"parts": parts})
    window.desk.journal.do(Add((item,), "Add a recipe"))
    page = new_cook(window)
    chip(qtbot, page.sort, "a recipe of mine")
    type_into(page.cut, "pork butt")
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    told = {t.kind: (t.recipe, t.salt) for t in window.desk.journal.find(Treatment)}
    assert told == {
        TreatmentKind.NONE: ("", None),
        TreatmentKind.INJECTED: ("house injection", 0.025),
    }


def test_that_places_are_drawn_again_within_blocks_and_the_lot_is_kept(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "plan")
    plan = cast("PlanPage", cast("CookPlace", window.place).current)
    qtbot.mouseClick(plan.again, Qt.MouseButton.LeftButton)
    whole = window.desk.journal.whole(command.cook.id)
    assert whole.cook.seed is not None
    assert f"Lot {whole.cook.seed}. Half way, swap slots 1 with 9" in plan.swap.text()
    for pack in {piece.pack for piece in whole.pieces}:
        mine = sorted(int(p.slot) for p in whole.pieces if p.pack == pack)
        assert mine == list(range(mine[0], mine[0] + 3))


def test_that_drawing_again_evens_the_weights_once_all_pieces_are_weighed(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    command = add_comparison()
    journal = window.desk.journal
    journal.do(command)
    cook_id = command.cook.id
    weighings = tuple(
        Weighing(cook_id=cook_id, piece_id=piece.id, stage=Stage.TRIMMED, mass=1300.0 + 30 * n)
        for n, piece in enumerate(journal.find(Piece, cook_id=cook_id))
    )
    journal.do(Add(weighings, "Weigh"))
    window.go("cook", cook_id, "plan")
    plan = cast("PlanPage", cast("CookPlace", window.place).current)
    assert "All pieces are weighed: draw again" in plan.swap.text()
    qtbot.mouseClick(plan.again, Qt.MouseButton.LeftButton)
    whole = journal.whole(cook_id)
    assert whole.cook.evened == "mass_trimmed"
    assert "drawn so that their trimmed weights come out even" in plan.swap.text()
    assert {(p.pack, p.label[0]) for p in whole.pieces} == {
        (f"pack {n}", letter) for n in (1, 2, 3) for letter in "ABC"
    }
    window.desk.bridge.undo()
    assert journal.whole(cook_id).cook.evened == ""


def test_that_a_cook_is_not_started_past_a_field_that_was_not_understood(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = new_cook(window)
    type_into(page.cut, "back ribs")
    for field, text in ((page.set_point, "hot"), (page.when, "after lunch")):
        field.line.setFocus()
        field.line.selectAll()
        qtbot.keyClicks(field.line, text)
        qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
        assert window.place is page
        assert not window.desk.journal.find(Cook)
        assert text in field.error.text()
        assert window.focusWidget() is field.line
        type_into(field, "")
    type_into(page.set_point, "250")
    type_into(page.when, "tomorrow 9:00")
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    assert len(window.desk.journal.find(Cook)) == 1


def test_that_a_range_and_a_day_with_an_hour_are_understood_as_cooks_type_them(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    monday = datetime(2026, 11, 30, 18, tzinfo=UTC)
    window.desk.clock = lambda: monday
    page = new_cook(window)
    type_into(page.cut, "back ribs")
    type_into(page.set_point, "250-275")
    type_into(page.when, "next Saturday 9")
    assert page.set_point.line.text() == "250-275"
    qtbot.mouseClick(page.start, Qt.MouseButton.LeftButton)
    (cook,) = window.desk.journal.find(Cook)
    assert cook.set_point == pytest.approx((262.5 - 32) / 1.8)  # the middle, in °C
    assert cook.typed["set_point"] == "250-275"
    local = cook.starts_at.astimezone(ZoneInfo(cook.zone))
    assert (local.month, local.day, local.hour) == (12, 5, 9)
