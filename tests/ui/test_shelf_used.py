"""The Shelf's rows: where a thing is used, taken names, two made one, what lies in a cooker."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.shelf import ShelfItem, ShelfKind, price_of
from pitjournal.domain.treatment import Seasoning
from pitjournal.journal.commands.records import Add, AddCook
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.shelf.cooker_row import CookerRow, shelves_words
from pitjournal.ui.shelf.fuel_row import FuelRow
from pitjournal.ui.shelf.item_row import ItemRow
from pitjournal.ui.shelf.page import ShelfPage
from pitjournal.ui.window import Window
from tests.builders import a_cook
from tests.ui.conftest import Opener


def rows_of(window: Window, kind: ShelfKind) -> dict[str, ItemRow]:
    window.go("shelf")
    page = window.place
    assert isinstance(page, ShelfPage)
    page.turn(kind)
    return {row.name.line.text(): row for row in page.findChildren(ItemRow) if row.isVisible()}


def add(window: Window, kind: ShelfKind, *names: str) -> None:
    items = tuple(ShelfItem(kind=kind, name=name) for name in names)
    window.desk.journal.do(Add(items, "Add"))


def type_into(qtbot: QtBot, field: Field, text: str) -> None:
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def rub_a_cook(window: Window, rub: str) -> None:
    cook = a_cook()
    layer = Seasoning(cook_id=cook.id, position=0, rub=rub)
    window.desk.journal.do(AddCook(cook, (layer,)))


def test_that_a_renamed_rub_can_be_renamed_in_its_cooks_too(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    add(window, ShelfKind.RUB, "House rub")
    rub_a_cook(window, "House rub")
    row = rows_of(window, ShelfKind.RUB)["House rub"]
    assert row.used.text() == "in 1 cook"
    assert not row.there_too.isVisible()
    type_into(qtbot, row.name, "Sunday rub")
    assert window.desk.journal.find(Seasoning)[0].rub == "House rub"
    assert row.there_too.isVisible()
    row.there_too.click()
    assert window.desk.journal.find(Seasoning)[0].rub == "Sunday rub"
    assert not row.there_too.isVisible()


def test_that_a_taken_name_offers_to_make_one_of_the_two(open_window: Opener, qtbot: QtBot) -> None:
    window = open_window()
    add(window, ShelfKind.RUB, "House rub", "House")
    rub_a_cook(window, "House rub")
    row = rows_of(window, ShelfKind.RUB)["House rub"]
    type_into(qtbot, row.name, "house")
    assert row.name.error.text() == "This name is taken."
    assert row.merge.isVisible()
    row.merge.click()
    assert [item.name for item in window.desk.journal.shelf.items(ShelfKind.RUB)] == ["House"]
    assert window.desk.journal.find(Seasoning)[0].rub == "House"
    assert list(rows_of(window, ShelfKind.RUB)) == ["House"]


def test_that_a_cooker_on_the_shelf_knows_its_slots_and_shelves(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    add(window, ShelfKind.COOKER, "the drum")
    row = rows_of(window, ShelfKind.COOKER)["the drum"]
    assert isinstance(row, CookerRow)
    type_into(qtbot, row.counts["slots"], "8")
    type_into(qtbot, row.counts["across"], "3")
    (drum,) = window.desk.journal.shelf.items(ShelfKind.COOKER)
    assert (drum.details["slots"], drum.details["across"]) == ("8", "3")
    assert row.shelves.text() == "2 shelves of 3, one of 2"
    type_into(qtbot, row.counts["slots"], "0")
    assert "at least one" in row.counts["slots"].error.text()


def test_that_slots_and_shelves_are_said_as_they_lie() -> None:
    assert shelves_words(6, 3) == "2 shelves of 3"
    assert shelves_words(2, 3) == "one shelf of 2"
    assert shelves_words(3, 3) == "one shelf of 3"
    assert shelves_words(4, 3) == "1 shelf of 3, one of 1"
    assert not shelves_words(0, 3)


def test_that_a_fuel_keeps_its_price_as_it_was_typed(open_window: Opener, qtbot: QtBot) -> None:
    window = open_window()
    add(window, ShelfKind.FUEL, "lump")
    row = rows_of(window, ShelfKind.FUEL)["lump"]
    assert isinstance(row, FuelRow)
    type_into(qtbot, row.price, "2.40 per kg")
    (kept,) = window.desk.journal.shelf.items(ShelfKind.FUEL)
    assert price_of(kept.details) == pytest.approx(0.0024)
    assert row.price.line.text() == "2.40 per kg"
    type_into(qtbot, row.price, "cheap")
    assert row.price.line.text() == "cheap"
    assert row.price.error.text()
    (kept,) = window.desk.journal.shelf.items(ShelfKind.FUEL)
    assert price_of(kept.details) == pytest.approx(0.0024)
