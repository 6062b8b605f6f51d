"""What cooks say of the Shelf, by hand arithmetic on two invented cooks."""

from dataclasses import replace

from pitjournal.analysis.shelf.own_cooks import NONE_YET, Known, SlotHeat, slot_heats, told_of
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.shelf import PRICE, ShelfItem, ShelfKind
from pitjournal.domain.trace import Trace
from pitjournal.domain.treatment import FuelLoad, FuelStage, Seasoning
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import compared
from tests.builders import a_cook

DRUM = ShelfItem(kind=ShelfKind.COOKER, name="the old drum")


def no_samples(_trace: Trace) -> Samples:
    raise AssertionError


def a_day(minutes: tuple[float, float]) -> tuple[WholeCook, dict[str, dict[str, float]]]:
    """Return a cook of a top and a bottom piece that were on for so many minutes."""
    cook = replace(a_cook(), status=CookStatus.DONE, cooker_id=DRUM.id, set_point=121.0)
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=slot, cut="brisket", slot=slot)
        for n, slot in enumerate(("top", "bottom"))
    )
    fuel = (FuelLoad(cook_id=cook.id, stage=FuelStage.IN, fuel=" Lump ", mass=3000.0),)
    rub = (Seasoning(cook_id=cook.id, position=0, rub="salt", arm_id=None),)
    values: dict[str, dict[str, float]] = {
        p.id: {"time_on": 60 * m, "score.tenderness": m / 40}
        for p, m in zip(pieces, minutes, strict=True)
    }
    values[cook.id] = {"fuel_used": 3000.0, "fuel_rate": 0.25}
    return WholeCook(cook=cook, pieces=pieces, fuel_loads=fuel, seasonings=rub), values


def known() -> Known:
    days = [a_day((220, 240)), a_day((230, 260))]
    values = {owner: v for _, own in days for owner, v in own.items()}
    return Known([whole for whole, _ in days], values, no_samples, UnitSystem.METRIC)


def test_that_a_slot_is_as_hot_as_its_pieces_came_off_sooner_than_their_own_cook() -> None:
    # means 230 and 245 min: the top −10 and −15, the bottom +10 and +15
    here = known()
    top, bottom = sorted(slot_heats(here.cooks, here), key=lambda one: one.later)
    assert top == SlotHeat("top", -750.0, 2)
    assert bottom == SlotHeat("bottom", 750.0, 2)


def test_that_a_cooker_says_what_it_burns_at_its_set_point() -> None:
    told = told_of(DRUM, known())
    assert told.words.startswith("burns 0.90 kg/h at 121.0 °C")  # 0.25 g/s is 0.9 kg/h
    assert told.where[0].values == ("the old drum",)
    assert told.across == 3
    assert told_of(replace(DRUM, details={"across": "2"}), known()).across == 2


def test_that_fuel_and_rub_are_found_in_any_case_and_spacing() -> None:
    lump = told_of(ShelfItem(kind=ShelfKind.FUEL, name="lump"), known())
    assert lump.words.startswith("3.00 kg a cook")
    salt = told_of(ShelfItem(kind=ShelfKind.RUB, name="Salt"), known())
    assert "tenderness 5.9 (4 pieces tasted)" in salt.words  # (5.5 + 6 + 5.75 + 6.5) ÷ 4 = 5.94
    none = told_of(ShelfItem(kind=ShelfKind.RUB, name="pepper"), known())
    assert none.words == NONE_YET


def test_that_a_fuel_with_a_price_says_what_its_own_share_of_a_fire_cost() -> None:
    # 3 kg of lump at 2.40 a kg is 7.20, also where splits burnt beside it; 3.5 kg lit, 0.5 kg left
    first, second = (whole for whole, _ in (a_day((220, 240)), a_day((230, 260))))
    cook_id = second.cook.id
    more = (
        FuelLoad(cook_id=cook_id, stage=FuelStage.IN, fuel="lump", mass=3500.0),
        FuelLoad(cook_id=cook_id, stage=FuelStage.LEFT, fuel="Lump", mass=500.0),
        FuelLoad(cook_id=cook_id, stage=FuelStage.IN, fuel="splits", mass=9000.0),
    )
    here = replace(known(), cooks=[first, replace(second, fuel_loads=more)])
    lump = ShelfItem(kind=ShelfKind.FUEL, name="lump", details={PRICE: 0.0024})
    assert "its fire costs 7.20" in told_of(lump, here).words
    assert "its fire" not in told_of(replace(lump, details={}), here).words


def test_that_a_cook_under_way_says_nothing_yet() -> None:
    here = known()
    running = [replace(w, cook=replace(w.cook, status=CookStatus.RUNNING)) for w in here.cooks]
    assert told_of(DRUM, replace(here, cooks=running)).words == NONE_YET


def test_that_a_taster_alone_is_compared_with_nobody() -> None:
    whole = compared(("Left alone", "Injected"), ((5, 6, 7, 6, 5, 6), (6, 7, 8, 7, 6, 7)))
    done = replace(whole, cook=replace(whole.cook, status=CookStatus.DONE))
    here = Known([done], {}, no_samples, UnitSystem.METRIC)
    told = told_of(ShelfItem(kind=ShelfKind.TASTER, name="ada"), here)
    assert told.words == "1 tasting"
    doubled = tuple(
        replace(score, id=f"{score.id}b", taster="Bo", value=score.value + 1)
        for score in done.scores
    )
    both = replace(done, scores=(*done.scores, *doubled))
    told = told_of(ShelfItem(kind=ShelfKind.TASTER, name="Bo"), replace(here, cooks=[both]))
    assert "scores 1.0 points above the others · 0.0 apart" in told.words
