"""A fire: what is planned is not used, what cannot be is said, and what a class starts with."""

from dataclasses import replace

import pytest

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.fires import (
    burnt,
    class_of,
    fuel_used,
    impossible_fuel,
    usual_burn,
    usual_fuel,
    usual_wood_form,
)
from pitjournal.domain.shelf import COOKER_CLASSES, ShelfItem, ShelfKind
from pitjournal.domain.treatment import FuelLoad, FuelStage
from pitjournal.domain.whole_cook import WholeCook
from tests.builders import a_cook, an_event

COOK = a_cook()


def a_fire(*loads: tuple[FuelStage, float]) -> WholeCook:
    made = tuple(FuelLoad(cook_id=COOK.id, stage=s, fuel="lump", mass=mass) for s, mass in loads)
    cook = replace(COOK, status=CookStatus.PLANNED)
    return WholeCook(cook=cook, fuel_loads=made)


def cooker(sort: str = "", name: str = "mine") -> ShelfItem:
    return ShelfItem(kind=ShelfKind.COOKER, name=name, details={"class": sort} if sort else {})


def test_planned_fuel_is_not_used_fuel() -> None:
    planned = a_fire((FuelStage.IN, 4000.0))
    assert not burnt(planned)
    assert fuel_used(planned) is None
    lit = replace(planned, events=(an_event(COOK.id, EventKind.LIT),))
    assert fuel_used(lit) == 4000.0
    running = replace(planned, cook=replace(COOK, status=CookStatus.RUNNING))
    assert fuel_used(running) == 4000.0


def test_more_left_than_was_put_in_is_said_and_no_negative_use_is_shown() -> None:
    loads = ((FuelStage.IN, 1000.0), (FuelStage.ADDED, 500.0), (FuelStage.LEFT, 1600.0))
    whole = replace(a_fire(*loads), events=(an_event(COOK.id, EventKind.LIT),))
    assert fuel_used(whole) is None
    assert "More is left than was put in" in impossible_fuel(whole.fuel_loads)
    assert not impossible_fuel(whole.fuel_loads[:2])


@pytest.mark.parametrize(
    ("sort", "fuel", "form"),
    [("offset", "splits", "split"), ("pellet", "pellets", "chunk"), ("drum", "lump", "chunk")],
)
def test_a_fire_starts_with_what_its_class_burns(sort: str, fuel: str, form: str) -> None:
    # Common practice, no source.
    assert usual_fuel(cooker(sort)) == fuel
    assert usual_wood_form(cooker(sort)) == form


def test_a_cooks_own_word_for_the_fuel_is_taken_where_it_fits() -> None:
    used = ("oak lump", "post oak splits", "hickory pellets")
    assert usual_fuel(cooker("offset"), used) == "post oak splits"
    assert usual_fuel(cooker("pellet"), used) == "hickory pellets"
    assert usual_fuel(cooker("kettle"), used[::-1]) == "oak lump"


def test_a_class_is_told_by_the_name_where_it_is_not_said() -> None:
    assert class_of(cooker(name="The big Offset")) == "offset"
    assert class_of(cooker("drum", "The big Offset")) == "drum"
    assert class_of(cooker()) == class_of(None) == ""


def test_every_class_of_cooker_has_a_usual_burn() -> None:
    # lb an hour, common practice, no source: bullet 0.5, small ceramic 0.3, offset 3 to 6.
    for sort in COOKER_CLASSES:
        found = usual_burn(cooker(sort))
        assert found is not None
        assert 0 < found[0] < found[1]
    offset = usual_burn(cooker("offset"))
    assert offset is not None
    assert [rate * 3600 / 453.59237 for rate in offset] == pytest.approx([3, 6])
