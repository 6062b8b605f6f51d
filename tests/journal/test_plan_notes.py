"""Cautions follow from the plan, each with its source; none says "safe"."""

from dataclasses import replace

import pytest

from pitjournal.domain.cook import CookKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import FuelLoad, FuelStage, Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.plan_notes import notes_of_plan
from tests.builders import a_cook

COOK = a_cook()
RACK = Piece(cook_id=COOK.id, position=0, label="A1", cut="back ribs")
PLAIN = WholeCook(cook=COOK, pieces=(RACK,))


def treated(kind: TreatmentKind, **fields: object) -> WholeCook:
    treatment = Treatment(cook_id=COOK.id, piece_id=RACK.id, kind=kind, **fields)  # type: ignore[arg-type]
    return replace(PLAIN, treatments=(treatment,))


def said(whole: WholeCook) -> str:
    return "\n".join(notes_of_plan(whole))


@pytest.mark.parametrize(
    "kind", [TreatmentKind.INJECTED, TreatmentKind.NEEDLED, TreatmentKind.BLADED]
)
def test_that_meat_whose_surface_is_carried_inside_is_non_intact(kind: TreatmentKind) -> None:
    # FDA Food Code 3-401.11(A)(2): 155 °F for 17 s.
    words = said(treated(kind))
    assert "non-intact" in words
    assert "155 °F (68 °C) for 17 s all through (FDA Food Code 2017/2022 3-401.11(A)(2))" in words


def test_that_poultry_has_its_own_end_point() -> None:
    # FDA Food Code 3-401.11(A)(3): 165 °F.
    thighs = replace(RACK, cut="chicken thighs")
    assert "165 °F (74 °C) all through (FDA Food Code 2017/2022 3-401.11(A)(3))" in said(
        replace(PLAIN, pieces=(thighs,))
    )


@pytest.mark.parametrize("fuel", ["oak lump", "pellets", "splits", "gas", ""])
def test_that_no_fire_of_any_fuel_is_for_indoors(fuel: str) -> None:
    load = FuelLoad(cook_id=COOK.id, stage=FuelStage.IN, fuel=fuel, mass=1000.0)
    assert "carbon monoxide" in said(replace(PLAIN, fuel_loads=(load,) if fuel else ()))


def test_that_holding_cooling_and_reheating_are_said_with_their_source() -> None:
    # FDA Food Code 3-501.16(A)(1): 135 °F; 3-501.14(A): 2 h and 6 h; 3-403.11(A), (D): 165 °F
    # for 15 s within 2 h. USDA FSIS: two hours, one above 90 °F.
    words = said(PLAIN)
    assert "Hot holding: 135 °F or more (FDA Food Code 2017/2022 3-501.16(A)(1))" in words
    assert "2 h at most, 1 h above 90 °F (USDA FSIS press release of 30 May 2016" in words
    assert "from 135 to 70 °F within 2 h, and to 41 °F within 6 h in all" in words
    assert "3-501.14(A)(1) and 3-501.14(A)(2)" in words
    assert "every part to 165 °F for 15 s, within 2 h" in words
    assert "3-403.11(A) and 3-403.11(D)" in words


def test_that_meat_nobody_knows_is_asked_for_and_held_to_the_strictest_rule() -> None:
    words = said(replace(PLAIN, pieces=(replace(RACK, cut="{mystery} roast"),)))
    assert "Meat not known: “mystery roast”. What meat is it?" in words
    assert "the strictest rule that could apply holds: 165 °F (74 °C) all through" in words
    assert "Of what animal is it?" in said(replace(PLAIN, pieces=(replace(RACK, cut="sausage"),)))


def test_that_curing_salt_wants_grams_and_a_label() -> None:
    words = said(treated(TreatmentKind.DRY_BRINED, cure=2.5))
    assert "weigh it in grams and read its label" in words
    assert "nothing here approves an amount" in words
    assert "9 CFR 424.21(c)" in words


def test_that_meat_sold_injected_spoils_an_injection() -> None:
    pumped = replace(RACK, declared_solution=0.08)
    whole = replace(treated(TreatmentKind.INJECTED), pieces=(pumped,))
    assert "holds 8 % solution" in said(whole)
    alone = said(replace(PLAIN, pieces=(pumped,)))
    assert "not what it seems" not in alone
    assert "Sold with a solution in it: the meat counts as non-intact" in alone


def test_that_a_contest_seasons_after_inspection() -> None:
    contest = replace(treated(TreatmentKind.INJECTED), cook=replace(COOK, kind=CookKind.CONTEST))
    assert "after the meat has been inspected" in said(contest)
    assert "inspected" not in said(treated(TreatmentKind.INJECTED))


def test_that_codes_and_licensed_practice_come_first_and_nothing_is_called_safe() -> None:
    words = said(treated(TreatmentKind.INJECTED, phosphate=0.015, target_pickup=0.1))
    assert words.endswith("Local codes and licensed practice come first.")
    assert "41 °F or below (FDA Food Code 2017/2022 3-501.16(A)(2))" in words
    # H rows: 1.5 % at 10 % pickup is 0.15 ÷ 1.1 = 0.136 % of the treated weight.
    assert "Phosphate 0.14 % of the treated meat" in words
    assert "safe" not in words.casefold()
