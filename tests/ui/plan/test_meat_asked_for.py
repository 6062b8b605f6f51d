"""Meat is asked for where it is typed, and judged by the strictest rule until it is known.

End points: FDA Food Code 2017/2022 3-401.11(A)(3) (resources/safety/rules.csv).
"""

from dataclasses import replace
from datetime import timedelta
from typing import cast

from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Arm
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import FuelLoad, WoodAddition
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.records import Add, AddCook, Change
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.plan.new_cook import NewCookPage
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.window import Window
from tests.builders import a_cook, an_event
from tests.ui.conftest import Opener

RULE = "165 °F (74 °C) all through (FDA Food Code 2017/2022 3-401.11(A)(3))"


def planned(window: Window, cut: str, **fields: object) -> tuple[PlanPage, Piece]:
    cook = replace(a_cook(), **fields)  # type: ignore[arg-type]
    arm = Arm(cook_id=cook.id, position=0, name="one")
    piece = Piece(cook_id=cook.id, position=0, label="A1", cut=cut, arm_id=arm.id)
    window.desk.journal.do(AddCook(cook, (arm, piece)))
    window.go("cook", cook.id, "plan")
    return cast("PlanPage", cast("CookPlace", window.place).current), piece


def test_a_new_cook_says_what_a_cut_is_read_as_while_it_is_typed(open_window: Opener) -> None:
    window = open_window()
    window.go("new cook")
    page = window.place
    assert isinstance(page, NewCookPage)
    page.cut.line.setText("Boston butt")
    assert page.cut.note.text().startswith("Read as pork butt, whole meat.")
    page.cut.line.setText("mystery")
    assert page.cut.note.text() == f"What meat is it? Until then: meat not known, {RULE}."
    assert page.cut.line.text() == "mystery"
    page.cut.line.setText("")
    assert not page.cut.note.isVisibleTo(page)


def test_the_plan_asks_until_the_meat_is_said(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    plan, piece = planned(window, "mystery")
    assert plan.pieces.asks.text().startswith("A1, “mystery”: What meat is it?")
    assert plan.notes.text().startswith("Meat not known: “mystery”. What meat is it?")
    window.desk.bridge.do(Change(Piece, piece.id, {"cut": "turkey legs"}, "Change the cut"))
    qtbot.waitUntil(lambda: not plan.pieces.asks.isVisibleTo(plan))
    assert plan.notes.text().startswith("Poultry: 165\N{NO-BREAK SPACE}°F")
    window.desk.bridge.undo()
    qtbot.waitUntil(lambda: plan.pieces.asks.isVisibleTo(plan))


def test_a_fire_says_what_is_planned_what_cannot_be_and_starts_as_its_cooker_does(
    open_window: Opener,
) -> None:
    window = open_window()
    offset = ShelfItem(kind=ShelfKind.COOKER, name="mine", details={"class": "offset"})
    window.desk.journal.do(Add((offset,), "Add"))
    plan, _ = planned(window, "brisket", cooker_id=offset.id)
    fire = plan.fire
    for pounds, words in (("4 lb", "put in"), ("5 lb", "left over")):
        fire.fuel.line.setText(pounds)
        fire.fuel.line.setModified(True)
        next(b for b in fire._stages if b.text() == words).click()
    fire._add_wood()
    journal = window.desk.journal
    assert {load.fuel for load in journal.find(FuelLoad)} == {"splits"}
    assert [wood.form for wood in journal.find(WoodAddition)] == ["split"]
    assert fire.used.text() == "Planned. It counts as used once the fire is lit."
    assert "More is left than was put in" in fire.cannot.text()
    whole = plan.whole
    assert whole is not None
    window.desk.bridge.do(LogEvent(an_event(whole.cook.id, EventKind.LIT), "Lit"))
    assert fire.used.text() == "Used: not recorded"  # never less than nothing


def test_a_weight_that_grows_is_asked_about_where_it_is_typed(open_window: Opener) -> None:
    window = open_window()
    plan, _ = planned(window, "brisket", starts_at=a_cook().starts_at + timedelta(days=1))
    row = plan.pieces.rows.rows[0]
    weights = {field.stage: field for field in row.weights}  # type: ignore[attr-defined]
    for stage, text in (("trimmed", "10 lb"), ("on", "12 lb")):
        weights[stage].line.setText(text)
        weights[stage].line.setModified(True)
        weights[stage]._commit(leaving=True)
    assert weights["on"].error.text() == "Heavier on than trimmed: is that so?"
    # The other way round: the earlier weight is typed after the later one.
    weights["bought"].line.setText("9 lb")
    weights["bought"].line.setModified(True)
    weights["bought"]._commit(leaving=True)
    assert weights["bought"].error.text() == "Lighter bought than trimmed: is that so?"
    # Said below the table, so that no row moves under the hand.
    assert not any(field.error.isVisibleTo(plan.pieces) for field in weights.values())
    name, said = plan.pieces.wrong.text().splitlines()[0].split(": ", 1)
    assert name.startswith("Weight bought")
    assert said == "Lighter bought than trimmed: is that so?"
