"""Recipes on the Shelf: a line for each ingredient, kept as typed, and an old one's text."""

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.journal.commands.records import Add
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.shelf.page import ShelfPage
from pitjournal.ui.shelf.recipe_row import IngredientRow, RecipeRow
from pitjournal.ui.shelf.rub_row import IngredientItemRow
from pitjournal.ui.window import Window
from tests.ui.conftest import Opener


def recipe_row(window: Window, **details: object) -> RecipeRow:
    item = ShelfItem(kind=ShelfKind.RECIPE, name="house brine", details=details)
    window.desk.journal.do(Add((item,), "Add"))
    window.go("shelf")
    page = window.place
    assert isinstance(page, ShelfPage)
    page.turn(ShelfKind.RECIPE)
    return next(row for row in page.findChildren(RecipeRow) if row.isVisible())


def kept(window: Window) -> list[tuple[str, ...]]:
    lines = window.desk.journal.shelf.items(ShelfKind.RECIPE)[0].details["lines"]
    return [tuple(line) for line in lines]


def seen(row: RecipeRow) -> list[IngredientRow]:
    return [line for line in row.rows if line.isVisible()]


def type_into(qtbot: QtBot, field: Field, text: str) -> None:
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def test_that_ingredients_are_typed_a_line_each_and_undone(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    row = recipe_row(window)
    for name, amount in (("water", "1 qt"), ("sugar", "2 tbsp")):
        qtbot.mouseClick(row.more, Qt.MouseButton.LeftButton)
        line = seen(row)[-1]
        type_into(qtbot, line.name, name)
        type_into(qtbot, line.amount, amount)
    assert kept(window) == [("water", "1 qt"), ("sugar", "2 tbsp")]
    qtbot.mouseClick(seen(row)[0].away, Qt.MouseButton.LeftButton)
    assert kept(window) == [("sugar", "2 tbsp")]
    window.desk.bridge.undo()
    assert kept(window) == [("water", "1 qt"), ("sugar", "2 tbsp")]
    assert [line.name.line.text() for line in seen(row)] == ["water", "sugar"]


def test_that_an_amount_that_cannot_be_read_stays_in_its_field(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    row = recipe_row(window, lines=[["salt", "50 g"]])
    (line,) = seen(row)
    type_into(qtbot, line.amount, "two fists")
    assert line.amount.error.text()
    assert line.amount.line.text() == "two fists"
    assert kept(window) == [("salt", "50 g")]


def test_that_an_old_recipe_keeps_its_text_as_its_note(open_window: Opener, qtbot: QtBot) -> None:
    window = open_window()
    row = recipe_row(window, parts="stock 960 g, salt 40 g")
    assert [(line.name.line.text(), line.amount.line.text()) for line in seen(row)] == [
        ("stock", "960 g"),
        ("salt", "40 g"),
    ]
    assert row.note.line.text() == "stock 960 g, salt 40 g"
    type_into(qtbot, seen(row)[1].amount, "30 g")
    assert kept(window) == [("stock", "960 g"), ("salt", "30 g")]
    assert row.note.line.text() == "stock 960 g, salt 40 g"
    assert not row.cure.isVisible()


def test_that_curing_salt_is_said_not_to_scale(open_window: Opener) -> None:
    row = recipe_row(open_window(), lines=[["water", "1 L"], ["curing salt", "12 g"]])
    assert row.cure.isVisible()
    first, last = seen(row)
    assert "ingredient 1 of house brine" in first.amount.line.accessibleName()
    assert "ingredient 2 of house brine" in last.away.accessibleName()


def test_that_spoons_say_their_weight_and_an_unknown_one_is_offered_to_the_shelf(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    row = recipe_row(window, lines=[["water", "1 qt"], ["salt", "2 tbsp"]])
    water, salt = seen(row)
    assert "counted as water" in water.told.text()
    assert "not on the Shelf" in salt.told.text()
    assert not water.offer.isVisible()
    qtbot.mouseClick(salt.offer.link, Qt.MouseButton.LeftButton)
    (item,) = window.desk.journal.shelf.items(ShelfKind.INGREDIENT)
    assert item.name == "salt"
    page = window.place
    assert isinstance(page, ShelfPage)
    page.turn(ShelfKind.INGREDIENT)
    line = next(row for row in page.findChildren(IngredientItemRow) if row.isVisible())
    type_into(qtbot, line.spoon, "18 g")
    line.spoon.typed = ""  # as when the journal is opened again
    page.refresh()
    assert line.spoon.line.text() == "18 g"
    page.turn(ShelfKind.RECIPE)
    assert salt.told.text() == "36 g: a tablespoon of it weighs 18 g"
    assert not salt.offer.isVisible()
