"""Lists that follow from a plan, by hand arithmetic."""

from dataclasses import replace

from pitjournal.analysis.plan.lists import mixes, packing, shopping
from pitjournal.domain.cook import Arm, CookKind
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.recipe import lines_of
from pitjournal.domain.treatment import (
    FuelLoad,
    FuelStage,
    Seasoning,
    Treatment,
    TreatmentKind,
    WoodAddition,
)
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.builders import a_cook, an_event

METRIC = UnitSystem.METRIC
INJECTION = {"stock": 0.96, "salt": 0.025, "phosphate": 0.015}
PARTS = {"house injection": lines_of({"parts": INJECTION})}


def a_plan() -> WholeCook:
    cook = a_cook()
    arms = tuple(
        Arm(cook_id=cook.id, position=n, name=name, control=n == 0, wrap=wrap)
        for n, (name, wrap) in enumerate((("Left alone", "none"), ("Injected", "boat")))
    )
    pieces = tuple(
        Piece(
            cook_id=cook.id,
            position=n,
            label=f"P{n}",
            cut="back ribs",
            arm_id=arms[n % 2].id,
            pack=f"pack {n // 2}",
        )
        for n in range(4)
    )
    weighings = tuple(
        Weighing(cook_id=cook.id, piece_id=p.id, stage=Stage.BOUGHT, mass=1500.0) for p in pieces
    )
    return WholeCook(
        cook=cook,
        arms=arms,
        pieces=pieces,
        weighings=weighings,
        treatments=(
            Treatment(cook_id=cook.id, arm_id=arms[0].id, kind=TreatmentKind.NONE),
            Treatment(
                cook_id=cook.id,
                arm_id=arms[1].id,
                kind=TreatmentKind.INJECTED,
                recipe="house injection",
                target_pickup=0.1,
            ),
        ),
        seasonings=(
            Seasoning(cook_id=cook.id, position=0, rub="house rub", mass=10.0),
            Seasoning(cook_id=cook.id, position=1, rub="house rub", mass=20.0, arm_id=arms[1].id),
            Seasoning(cook_id=cook.id, position=2, rub="mustard"),
        ),
        fuel_loads=(FuelLoad(cook_id=cook.id, stage=FuelStage.IN, fuel="lump", mass=1.0),),
        wood_additions=(WoodAddition(cook_id=cook.id, wood="cherry"),),
    )


def test_that_what_to_buy_is_said_in_the_unit_that_was_typed() -> None:
    plan = a_plan()
    pounds = tuple(replace(w, mass=1360.77711, typed={"mass": "3 lb"}) for w in plan.weighings)
    layers = tuple(replace(s, typed={"mass": "10 g"}) for s in plan.seasonings)
    plan = replace(plan, weighings=pounds, seasonings=layers)
    lines = shopping(plan, METRIC, PARTS).lines
    assert "(12 lb, bought)" in lines[0]
    assert "house rub, 80 g" in shopping(plan, UnitSystem.US, PARTS).lines  # 4 × 10 and 2 × 20


def test_that_lists_scale_a_recipe_but_not_its_curing_salt() -> None:
    plan = a_plan()
    kept = [["stock", "900 g"], ["sugar", "100 g"], ["curing salt", "5 g"]]
    named = [replace(t, recipe="House  Injection") if t.recipe else t for t in plan.treatments]
    recipes = {"house injection": lines_of({"lines": kept})}
    (mix,) = mixes(replace(plan, treatments=tuple(named)), METRIC, recipes)
    # 2 × 1500 g × 10 % × 1.25 = 375 g, nine parts of ten stock.
    assert mix.startswith("House  Injection, 375 g: stock 338 g, sugar 38 g, ")
    assert "curing salt 5 g as written, not scaled" in mix
    assert "9 CFR 424.21(c), 424.22(b)" in mix


def test_that_what_to_buy_is_summed_from_the_plan() -> None:
    lines = shopping(a_plan(), METRIC, PARTS).lines
    assert lines[0] == "4 × back ribs, in 2 packs of 2 (6.00 kg, bought)"
    # Two racks of 1500 g at 10 %, and a quarter more: 375 g; 96, 2.5 and 1.5 % of it.
    assert lines[1] == "house injection, 375 g: stock 360 g, salt 9.4 g, phosphate 5.6 g"
    assert "house rub, 80 g" in lines  # 4 × 10 and 2 × 20
    assert "mustard" in lines
    assert lines[-3:] == ("lump", "cherry for smoke", "foil for boats")


def test_that_slabs_cut_in_two_are_bought_whole() -> None:
    plan = replace(a_plan(), weighings=())
    ends = ("front", "back", "back", "front")
    halves = tuple(
        replace(piece, pack="", pair=f"slab {1 + number // 2}", end=end)
        for number, (piece, end) in enumerate(zip(plan.pieces, ends, strict=True))
    )
    assert shopping(replace(plan, pieces=halves), METRIC, {}).lines[0] == (
        "2 × back ribs, to cut in two"  # four halves
    )
    assert [piece.cut_from for piece in halves[:2]] == ["slab 1, front", "slab 1, back"]


def test_that_what_is_not_weighed_is_listed_without_an_amount() -> None:
    plan = replace(a_plan(), weighings=())
    lines = shopping(plan, METRIC, PARTS).lines
    assert lines[:2] == (
        "4 × back ribs, in 2 packs of 2",
        "house injection: stock, salt, phosphate",
    )
    assert "house injection" in shopping(plan, METRIC, {}).lines


def test_that_a_dry_brine_needs_its_salt_and_any_wrap_something_to_wrap_in() -> None:
    plan = a_plan()
    brine = replace(plan.treatments[1], kind=TreatmentKind.DRY_BRINED, recipe="salt", salt=0.01)
    arms = tuple(replace(arm, wrap="") for arm in plan.arms)
    wrap = replace(an_event(plan.cook.id, "wrap"), happened_at=None)
    lines = shopping(
        replace(plan, arms=arms, treatments=(brine,), events=(wrap,)), METRIC, {}
    ).lines
    assert "salt, 30 g" in lines  # 1 % of 3 kg
    assert lines[-1] == "foil or paper to wrap in"


def test_that_packing_follows_from_what_is_done() -> None:
    plan = a_plan()
    packed = packing(plan)
    assert any("injector" in line for line in packed.lines)
    assert any("code slips" in line for line in packed.lines)
    assert not any("official" in line for line in packed.lines)
    alone = replace(plan, arms=(), treatments=(), pieces=())
    assert not any("injector" in line for line in packing(alone).lines)
    thighs = tuple(replace(piece, cut="chicken thighs") for piece in plan.pieces)
    contest = replace(plan.cook, kind=CookKind.CONTEST)
    more = packing(replace(plan, pieces=thighs, cook=contest))
    assert any("raw poultry" in line for line in more.lines)
    assert any("official" in line for line in more.lines)
    assert packed.text.startswith("To pack\n- probe thermometer")


def test_that_each_cut_is_bought_in_the_unit_that_it_was_typed_in_itself() -> None:
    # 2 × 1.5 kg are 3 kg; 2 × 3 lb are 6 lb. What else was weighed of a piece says nothing of it.
    plan = a_plan()
    pieces = tuple(
        replace(piece, cut="back ribs" if place < 2 else "pork butt")
        for place, piece in enumerate(plan.pieces)
    )
    typed = ("1.5 kg", "1.5 kg", "3 lb", "3 lb")
    grams = (1500.0, 1500.0, 3 * 453.59237, 3 * 453.59237)
    weighings = tuple(
        replace(weighing, mass=mass, typed={"mass": words})
        for weighing, mass, words in zip(plan.weighings, grams, typed, strict=True)
    )
    on = tuple(
        replace(w, stage=Stage.ON, typed={"mass": "3 lb"}, id=f"on{w.id}") for w in weighings
    )
    whole = replace(plan, pieces=pieces, weighings=(*on, *weighings))
    lines = shopping(whole, UnitSystem.US, {}, None).lines
    assert any("back ribs" in line and "3.00 kg" in line for line in lines), lines
    assert any("pork butt" in line and "(6 lb, bought)" in line for line in lines), lines


def test_that_each_arm_has_a_tray_and_a_cook_without_arms_has_trays() -> None:
    plan = a_plan()
    assert "boards, knives, a tray for each arm" in packing(plan).lines
    bare = packing(replace(plan, arms=(), treatments=())).lines
    assert "boards, knives, trays" in bare
    assert "boards, knives, a tray for each arm" not in bare


def test_that_one_bird_among_other_meat_has_a_board_of_its_own() -> None:
    plan = a_plan()
    own = "a board and tongs of its own for raw poultry"
    assert own not in packing(plan).lines
    bird = replace(plan.pieces[0], cut="whole chicken")
    assert own in packing(replace(plan, pieces=(bird, *plan.pieces[1:]))).lines
