"""Worked-out values against hand arithmetic, written beside each."""

import pytest

from pitjournal.analysis.derived import CookValues, values_of
from pitjournal.domain.cook import Arm
from pitjournal.domain.fires import fuel_used
from pitjournal.domain.tasting import TastingState
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import compared, fed, felt, happened, no_readings, one_rack, weighed


def worked(whole: WholeCook) -> CookValues:
    return values_of(whole, no_readings)


def test_that_pickup_and_yields_are_shares_of_the_weight_before() -> None:
    cook, piece = one_rack()
    masses = weighed(
        cook, piece, bought=1600, trimmed=1400, treated=1540, on=1500, off=1120, edible=800
    )
    values = worked(WholeCook(cook=cook, pieces=(piece,), weighings=masses)).pieces[piece.id]
    assert values["pickup"] == pytest.approx(0.1)  # (1540 − 1400) ÷ 1400
    assert values["trim_loss"] == pytest.approx(0.125)  # (1600 − 1400) ÷ 1600
    assert values["yield_off"] == pytest.approx(0.8)  # 1120 ÷ 1400
    assert values["yield_edible"] == pytest.approx(0.5)  # 800 ÷ 1600
    assert values["cook_loss"] == pytest.approx(380 / 1500)


def test_that_what_was_not_weighed_is_not_known_and_never_nothing() -> None:
    cook, piece = one_rack()
    masses = weighed(cook, piece, bought=1600, off=1120)
    values = worked(WholeCook(cook=cook, pieces=(piece,), weighings=masses)).pieces[piece.id]
    assert values["pickup"] is None
    assert values["cook_loss"] is None
    assert values["yield_off"] == pytest.approx(0.7)  # of bought, where nothing was trimmed


def test_that_phosphate_in_the_meat_counts_on_the_treated_weight() -> None:
    # 1.5 % phosphate at 10 % pickup: 10 g of liquid in 110 g holds 0.15 g, 0.136 %.
    cook, piece = one_rack()
    arm = Arm(cook_id=cook.id, position=0, name="Injected", control=True)
    piece = type(piece)(**{**vars(piece), "arm_id": arm.id})
    treatment = Treatment(
        cook_id=cook.id, arm_id=arm.id, kind=TreatmentKind.INJECTED, phosphate=0.015, salt=0.025
    )
    whole = WholeCook(
        cook=cook,
        arms=(arm,),
        pieces=(piece,),
        treatments=(treatment,),
        weighings=weighed(cook, piece, trimmed=1000, treated=1100),
    )
    values = worked(whole).pieces[piece.id]
    assert values["phosphate_in_meat"] == pytest.approx(0.15 / 110)
    assert values["salt_in_meat"] == pytest.approx(0.25 / 110)
    assert values["non_intact"] is True


def test_that_fuel_used_is_in_and_added_less_what_is_left() -> None:
    cook, piece = one_rack()
    events = happened(cook, lit=0, on=40, off=280)
    loads = fed(cook, put_in=3000, added=1000, left=800, ash=120)
    masses = weighed(cook, piece, on=1600)
    whole = WholeCook(cook=cook, pieces=(piece,), events=events, fuel_loads=loads, weighings=masses)
    values = worked(whole).cook
    assert fuel_used(whole) == 3200.0
    assert values["fuel_rate"] == pytest.approx(3200 / (280 * 60))  # g/s from lit to off
    assert values["fuel_per_meat"] == pytest.approx(2.0)
    assert worked(whole).pieces[piece.id]["time_on"] == 240 * 60.0
    without = WholeCook(cook=cook, pieces=(piece,), fuel_loads=fed(cook, added=1000))
    assert fuel_used(without) is None


def test_that_bounds_of_the_window_are_facts_of_the_checks() -> None:
    cook, piece = one_rack()
    checks = felt(cook, piece, (200, 2), (215, 3), (230, 4), (245, 5), (260, 6))
    events = happened(cook, on=0, off=262)
    whole = WholeCook(cook=cook, pieces=(piece,), checks=checks, events=events)
    values = worked(whole).pieces[piece.id]
    assert values["leeway_at_least"] == 30 * 60.0  # 245 − 215
    assert values["leeway_at_most"] == 60 * 60.0  # 260 − 200
    assert values["feel_off"] == 6.0


@pytest.mark.parametrize("state", [TastingState.OPEN, TastingState.LOCKED])
def test_that_no_score_counts_before_the_codes_are_revealed(state: TastingState) -> None:
    whole = compared(("Left alone", "Injected"), ((6, 6), (7, 7)), state=state)
    values = worked(whole)
    assert not any(key.startswith("score.") for v in values.pieces.values() for key in v)
    told = worked(compared(("Left alone", "Injected"), ((6, 6), (7, 7))))
    assert {v["score.tenderness"] for v in told.pieces.values()} == {6.0, 7.0}
