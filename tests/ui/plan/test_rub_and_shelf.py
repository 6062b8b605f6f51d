"""What is typed in a cook is offered to the Shelf: one tap, once, and undone in one step."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import FuelLoad, FuelStage, Seasoning, WoodAddition
from pitjournal.journal.commands.records import Add, Change
from pitjournal.journal.commands.shelf import KeepOnShelf
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.forms import RecordRow
from pitjournal.ui.plan.fire import FuelRow, SeasoningRow, WoodRow
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.tasting.page import TastingPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener

LEFT = Qt.MouseButton.LeftButton


def on(window: Window, kind: ShelfKind) -> list[str]:
    return [item.name for item in window.desk.journal.shelf.items(kind) if not item.retired]


def planned(window: Window, *more: Record) -> PlanPage:
    """Return the plan of a comparison; `more` are other records of the journal."""
    command = add_comparison()
    window.desk.journal.do(command)
    parts: tuple[Record, ...] = (
        Seasoning(cook_id=command.cook.id, position=0, rub="red rub"),
        FuelLoad(cook_id=command.cook.id, stage=FuelStage.IN, fuel="lump", mass=1000.0),
        WoodAddition(cook_id=command.cook.id, wood="pear"),
    )
    window.desk.journal.do(Add((*parts, *more), "Add"))
    window.go("cook", command.cook.id, "plan")
    assert isinstance(window.place, CookPlace)
    page = window.place.current
    assert isinstance(page, PlanPage)
    return page


def first(rows: list[RecordRow]) -> SeasoningRow | FuelRow | WoodRow:
    row = rows[0]
    assert isinstance(row, SeasoningRow | FuelRow | WoodRow)
    return row


def test_that_the_side_of_a_layer_is_a_tap_on_and_a_tap_off(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    row = first(planned(window).seasoning.rows.rows)
    assert isinstance(row, SeasoningRow)
    journal = window.desk.journal

    def tap(name: str) -> None:
        chip = next(c for c in row.side.findChildren(QAbstractButton) if c.text() == name)
        qtbot.mouseClick(chip, LEFT)

    tap("back first")
    assert journal.find(Seasoning)[0].side == "back first"
    assert row.side.values() == ("back first",)
    window.desk.bridge.undo()
    assert journal.find(Seasoning)[0].side == ""
    window.desk.bridge.redo()
    tap("front")
    assert journal.find(Seasoning)[0].side == "front"
    tap("front")
    assert journal.find(Seasoning)[0].side == ""
    assert row.side.values() == ()


@pytest.mark.parametrize(
    ("kind", "name"),
    [(ShelfKind.RUB, "red rub"), (ShelfKind.FUEL, "lump"), (ShelfKind.WOOD, "pear")],
)
def test_that_a_name_in_a_plan_is_kept_by_one_tap_and_undone(
    kind: ShelfKind, name: str, open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    page = planned(window)
    rows = {
        ShelfKind.RUB: page.seasoning.rows,
        ShelfKind.FUEL: page.fire.rows,
        ShelfKind.WOOD: page.fire.woods,
    }[kind]
    offer = first(rows.rows).offer
    assert offer.isVisible()
    assert offer.missing == (name,)
    assert offer.link.accessibleName().startswith("Keep on the Shelf")
    qtbot.mouseClick(offer.link, LEFT)
    assert on(window, kind) == [name]
    assert not offer.isVisible()
    window.desk.bridge.undo()
    assert on(window, kind) == []
    assert offer.isVisible()


def test_that_a_name_that_stands_there_in_any_case_is_not_offered(open_window: Opener) -> None:
    window = open_window()
    page = planned(window, ShelfItem(kind=ShelfKind.RUB, name="Red  Rub"))
    assert not first(page.seasoning.rows.rows).offer.isVisible()
    window.desk.journal.do(KeepOnShelf(ShelfKind.RUB, ("RED RUB", "gold rub", "Gold rub"), "Keep"))
    assert on(window, ShelfKind.RUB) == ["gold rub", "Red  Rub"]


def test_that_a_retired_name_is_brought_back(open_window: Opener, qtbot: QtBot) -> None:
    window = open_window()
    page = planned(window, ShelfItem(kind=ShelfKind.RUB, name="Red rub", retired=True))
    offer = first(page.seasoning.rows.rows).offer
    qtbot.mouseClick(offer.link, LEFT)
    assert on(window, ShelfKind.RUB) == ["Red rub"]


def test_that_half_a_name_is_not_offered_while_it_is_typed(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    page = planned(window, ShelfItem(kind=ShelfKind.RUB, name="red rub"))
    window.activateWindow()
    row = first(page.seasoning.rows.rows)
    assert isinstance(row, SeasoningRow)
    window.activateWindow()
    row.rub.line.setFocus()
    qtbot.waitUntil(row.rub.line.hasFocus)
    row.rub.line.selectAll()
    qtbot.keyClicks(row.rub.line, "pin")
    layer = window.desk.journal.find(Seasoning)[0]
    window.desk.bridge.do(Change(Seasoning, layer.id, {"note": "on both sides"}))
    assert not row.offer.isVisible()
    qtbot.keyClicks(row.rub.line, "k rub")
    qtbot.keyClick(row.rub.line, Qt.Key.Key_Return)
    assert row.offer.missing == ("pink rub",)


def test_that_tasters_who_are_typed_become_chips_and_come_back_by_undo(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    page = planned(window, ShelfItem(kind=ShelfKind.TASTER, name="Ada"))
    assert page.whole is not None
    window.go("cook", page.whole.cook.id, "tasting")
    assert isinstance(window.place, CookPlace)
    tasting = window.place.current
    assert isinstance(tasting, TastingPage)
    set_up = tasting.set_up
    assert not set_up.offer.isVisible()
    qtbot.keyClicks(set_up.names, "ada, Bruno, Clio")
    assert set_up.offer.missing == ("Bruno", "Clio")
    qtbot.mouseClick(set_up.offer.link, LEFT)
    assert on(window, ShelfKind.TASTER) == ["Ada", "Bruno", "Clio"]
    assert set_up.known.values() == ("Ada", "Bruno", "Clio")
    assert not set_up.names.text()
    assert not set_up.offer.isVisible()
    window.desk.bridge.undo()
    assert set_up.names.text() == "Bruno, Clio"
    assert set_up.known.values() == ("Ada",)


def test_that_the_page_stays_where_hands_are_when_something_is_saved(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    page = planned(window)
    QApplication.processEvents()  # it opens at its head
    bar = page._area.verticalScrollBar()
    bar.setValue(200)
    (wood,) = [w for w in window.desk.journal.find(WoodAddition) if w.wood == "pear"]
    window.desk.bridge.do(Change(WoodAddition, wood.id, {"wood": "plum"}, "Change wood"))
    qtbot.waitUntil(lambda: page.whole is not None and "plum" in str(page.whole.wood_additions))
    for _ in range(3):
        QApplication.processEvents()
    assert bar.value() == 200
