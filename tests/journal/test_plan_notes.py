"""Cautions follow from the plan, each with its source; none says "safe"."""

from dataclasses import replace

import pytest

from pitjournal.domain.cook import CookKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfItem, ShelfKind
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
    assert "155 °F for 17 s (FDA Food Code 2017/2022 3-401.11(A)(2))" in words


def test_that_poultry_has_its_own_end_point() -> None:
    # FDA Food Code 3-401.11(A)(3): 165 °F.
    thighs = replace(RACK, cut="chicken thighs")
    assert "165 °F all through (FDA Food Code 2017/2022 3-401.11(A)(3))" in said(
        replace(PLAIN, pieces=(thighs,))
    )


def test_that_charcoal_is_never_for_indoors() -> None:
    load = FuelLoad(cook_id=COOK.id, stage=FuelStage.IN, fuel="oak lump", mass=1000.0)
    assert "carbon monoxide" in said(replace(PLAIN, fuel_loads=(load,)))
    drum = ShelfItem(kind=ShelfKind.COOKER, name="the drum", details={"class": "drum"})
    assert "carbon monoxide" in said(replace(PLAIN, cooker=drum))
    pellets = replace(load, fuel="pellets")
    assert "carbon monoxide" not in said(replace(PLAIN, cooker=drum, fuel_loads=(pellets,)))
    assert "carbon monoxide" not in said(PLAIN)


def test_that_curing_salt_wants_grams_and_a_label() -> None:
    words = said(treated(TreatmentKind.DRY_BRINED, cure=2.5))
    assert "weigh it in grams and read its label" in words
    assert "nothing here approves an amount" in words
    assert "9 CFR 424.21(c)" in words


def test_that_meat_sold_injected_spoils_an_injection() -> None:
    pumped = replace(RACK, declared_solution=0.08)
    whole = replace(treated(TreatmentKind.INJECTED), pieces=(pumped,))
    assert "holds 8 % solution" in said(whole)
    assert "solution" not in said(replace(PLAIN, pieces=(pumped,)))


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
