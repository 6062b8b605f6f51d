"""Variables of the cook's own in the window: made in a form, filled, renamed and removed."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.shelf import OwnValue, OwnVariable
from pitjournal.journal.commands.own import AddOwn
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.own.new_own import NewOwnPanel
from pitjournal.ui.own.own_card import OwnPanel
from pitjournal.ui.own.own_fields import MOST
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.shelf.own_variables import OwnRow
from pitjournal.ui.shelf.page import OWN, ShelfPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener


def plan_of(window: Window) -> PlanPage:
    command = add_comparison()
    window.desk.journal.do(command)
    window.go("cook", command.cook.id, "plan")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, PlanPage)
    return place.current


def type_into(qtbot: QtBot, field: QWidget, text: str) -> None:
    assert isinstance(field, Field)
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def test_that_one_is_made_on_the_plan_and_filled_in_any_unit_for_a_piece(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    plan = plan_of(window)
    plan.own.make()
    panel = window.findChildren(NewOwnPanel)[-1]
    qtbot.keyClicks(panel.name, "bone pull")
    panel.quantity.choose("length")
    qtbot.keyClick(panel.name, Qt.Key.Key_Return)
    journal = window.desk.journal
    (own,) = journal.find(OwnVariable)
    assert (own.name, own.level, own.dimension) == ("bone pull", "piece", "length")
    (piece, *_) = journal.whole(plan.whole.cook.id if plan.whole else "").pieces
    type_into(qtbot, plan.own.fields.tables["piece"].fields[own.id, piece.id].field, "9 mm")
    (value,) = journal.find(OwnValue)
    assert value.owner_id == piece.id
    assert value.number == pytest.approx(0.009)  # 9 mm in m, by hand
    assert value.typed == {"number": "9 mm"}


def test_that_a_taken_name_is_said_in_the_panel_and_nothing_typed_is_lost(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    plan = plan_of(window)
    plan.own.make()
    panel = window.findChildren(NewOwnPanel)[-1]
    qtbot.keyClicks(panel.name, "Yield")
    qtbot.keyClick(panel.name, Qt.Key.Key_Return)
    assert panel.isVisible()
    assert panel.name.text() == "Yield"
    assert "already" in panel.problem.text()


def test_that_the_bench_fills_them_too_and_a_yes_can_be_taken_back(open_window: Opener) -> None:
    window = open_window()
    plan = plan_of(window)
    own = OwnVariable(name="fire steady", level="cook", kind="yes/no")
    window.desk.journal.do(AddOwn(own))
    assert plan.whole is not None
    cook = plan.whole.cook.id
    window.go("cook", cook, "bench")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    place.current.opens.own()
    panel = window.findChildren(OwnPanel)[-1]
    box = panel.fields.tables["cook"].fields[own.id, cook].field
    assert isinstance(box, ChoiceBox)
    box.box.activated.emit(1)
    assert [value.answer for value in window.desk.journal.find(OwnValue)] == [True]
    box.box.activated.emit(0)
    assert not window.desk.journal.find(OwnValue)


def test_that_of_many_only_the_newest_have_fields_and_the_others_can_be_chosen(
    open_window: Opener,
) -> None:
    window = open_window()
    plan = plan_of(window)
    made = [OwnVariable(name=f"mine {n}", level="cook", kind="text") for n in range(MOST + 3)]
    for own in made:
        window.desk.journal.do(AddOwn(own))
    table = plan.own.fields.tables["cook"]
    assert plan.whole is not None
    cook = plan.whole.cook.id
    assert {own_id for own_id, _ in table.fields} == {own.id for own in made[-MOST:]}
    assert table.more.isVisibleTo(plan)
    table._more(made[0].id)
    assert (made[0].id, cook) in table.fields


def test_that_the_shelf_says_where_one_is_used_and_refuses_a_taken_name(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    plan = plan_of(window)
    journal = window.desk.journal
    for name in ("bark", "skin"):
        journal.do(AddOwn(OwnVariable(name=name, level="piece", kind="text")))
    bark = journal.find(OwnVariable)[0]
    assert plan.whole is not None
    piece = plan.whole.pieces[0]
    type_into(qtbot, plan.own.fields.tables["piece"].fields[bark.id, piece.id].field, "thin")
    window.go("shelf")
    shelf = window.place
    assert isinstance(shelf, ShelfPage)
    shelf.turn(OWN)
    rows = {row.name.line.text(): row for row in shelf.findChildren(OwnRow) if row.isVisible()}
    assert rows["bark"].used.text() == "1 value in 1 cook"
    assert rows["skin"].used.text() == "not used yet"
    type_into(qtbot, rows["skin"].name, "Bark")
    assert "already" in rows["skin"].name.error.text()
    rows["bark"].away.click()
    assert journal.steps()[0] == "Remove bark, with 1 value in 1 cook"
    journal.undo()
    assert journal.find(OwnValue)[0].text == "thin"
