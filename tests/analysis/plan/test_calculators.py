"""Sums of the plan against published worked values, and hand arithmetic written beside each.

P, D, I and H rows are those of tests/science/data/curing_injection_vectors.csv: the formulas of
USDA FSIS Directive 7620.3 in exact fractions.
"""

from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.analysis.plan.calculators import SALT_DIFFUSIVITY, Sum, treatment_sums
from pitjournal.analysis.plan.cure_limits import published_limits
from pitjournal.analysis.plan.past import Past, Usual, past_of
from pitjournal.analysis.plan.rub_fuel_cost import cost_sum, fuel_sum, rub_sums
from pitjournal.analysis.plan.schedule import spans_of, work_out
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.recipe import lines_of
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import Seasoning, Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.journal.queries.values import Row
from pitjournal.units import UnitSystem
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, a_cook

METRIC = UnitSystem.METRIC
SPANS = past_of(WholeCook(cook=a_cook()), frame_of([])).spans


def racks(
    masses: list[float], kind: TreatmentKind, **fields: object
) -> tuple[WholeCook, Treatment]:
    """Return racks of these green weights, g, and the treatment of the first piece's arm."""
    cook = a_cook()
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=f"B{n + 1}", cut="back ribs", arm_id="arm")
        for n in range(len(masses))
    )
    weighings = tuple(
        Weighing(cook_id=cook.id, piece_id=p.id, stage=Stage.TRIMMED, mass=mass)
        for p, mass in zip(pieces, masses, strict=True)
        if mass
    )
    treatment = Treatment(cook_id=cook.id, kind=kind, arm_id="arm", **fields)  # type: ignore[arg-type]
    whole = WholeCook(cook=cook, pieces=pieces, weighings=weighings, treatments=(treatment,))
    return whole, treatment


def sums(whole: WholeCook, treatment: Treatment, **more: object) -> dict[str, Sum]:
    found = treatment_sums(whole, treatment, METRIC, published_limits(), **more)  # type: ignore[arg-type]
    return {one.what: one for one in found}


INJECTED = TreatmentKind.INJECTED


def test_that_liquid_is_green_weight_times_pickup_and_parts_go_by_weight() -> None:
    whole, treatment = racks([1500.0, 1700.0], INJECTED, target_pickup=0.1)
    parts = {"stock": 0.96, "salt": 0.025, "phosphate": 0.015}
    found = sums(whole, treatment, lines=lines_of({"parts": parts}))
    assert found["Liquid to go in"].value == "320 g"  # 3200 × 10 %
    assert found["Mix"].value == "400 g"  # and a quarter more
    assert found["By weight"].value == "stock 384 g, salt 10 g, phosphate 6 g"


def test_that_salt_and_phosphate_are_told_on_each_weight() -> None:
    # S01: 10 % salt at 10 % pickup is 1.0 of green and 0.909 of pumped weight.
    # H03: 5 % phosphate at 10 % pickup and 80 % yield is 0.5, 0.4545 and 0.568 %.
    whole, treatment = racks([1000.0], INJECTED, target_pickup=0.1, salt=0.1, phosphate=0.05)
    past = Past(SPANS, cooked={"back ribs": Usual(0.8, 0.8, 0.8, 5)})
    found = sums(whole, treatment, past=past)
    assert found["Salt"].value == "1.00 % of green, 0.91 % of treated weight"
    phosphate = found["Phosphate"]
    assert phosphate.value == "0.50 % of green, 0.45 % of treated, 0.57 % of finished weight"
    assert phosphate.look
    assert phosphate.source == "9 CFR 424.21(c)"
    # M04's way: 0.5 × 1.1 × 0.8 ÷ 0.1 = 4.4 % of the liquid meets the limit.
    assert "met by a liquid of 4.4 %" in phosphate.formula


def test_that_the_limit_is_told_without_a_known_yield_too() -> None:
    # H01 within by green weight, H02 over by green and at 0.5 of pumped weight.
    whole, treatment = racks([1000.0], INJECTED, target_pickup=0.1, phosphate=0.05)
    at_limit = sums(whole, treatment)["Phosphate"]
    assert not at_limit.look
    assert "not known yet" in at_limit.formula
    over = sums(whole, replace(treatment, phosphate=0.055))["Phosphate"]
    assert over.look


@pytest.mark.parametrize(
    ("kind", "fields", "masses", "ppm"),
    [
        # P03: 32 g of a 5.88 % cure in a brine of 1266 g at 10 %: 148.6 ppm.
        (
            INJECTED,
            {"cure": 32.0, "cure_strength": 0.0588, "liquid": 1266.0, "target_pickup": 0.1},
            [1000.0],
            "149 ppm",
        ),
        # D02: 1.92 g of a 6.25 % cure on 1 kg: 120 ppm.
        (TreatmentKind.DRY_BRINED, {"cure": 1.92, "cure_strength": 0.0625}, [1000.0], "120 ppm"),
        # I01: 1 g of nitrite, 3 kg of meat in 2 kg of brine: 200 ppm.
        (
            TreatmentKind.BRINED,
            {"cure": 16.0, "cure_strength": 0.0625, "liquid": 2000.0},
            [3000.0],
            "200 ppm",
        ),
    ],
)
def test_that_nitrite_goes_by_the_published_formula_and_is_not_approved(
    kind: TreatmentKind, fields: dict[str, float], masses: list[float], ppm: str
) -> None:
    whole, treatment = racks(masses, kind, **fields)
    found = sums(whole, treatment)
    assert found["Nitrite going in"].value == ppm
    assert found["Nitrite going in"].source == "USDA FSIS Directive 7620.3 (1995)"
    limits = found["Published limits"]
    assert "9 CFR 424.22(b)" in limits.value
    assert "nothing is approved" in limits.formula
    assert not limits.look
    words = " ".join(f"{one.value} {one.formula}" for one in found.values())
    assert "safe" not in words


def test_that_curing_salt_needs_its_label() -> None:
    whole, treatment = racks([1000.0], TreatmentKind.DRY_BRINED, cure=2.5)
    assert sums(whole, treatment)["Nitrite going in"].value == "say what the label gives"
    assert any("read its label" in note for note in notes_of_plan(whole))


def test_that_a_dry_brine_goes_by_weight_and_by_the_jar() -> None:
    whole, treatment = racks([1000.0, 1500.0], TreatmentKind.DRY_BRINED, salt=0.008)
    found = sums(whole, treatment, quarter_cup=40.0)
    assert found["Salt"].value == "20 g in all, 8 g to 12 g a piece"  # 0.8 % of 2500 g
    assert found["From your jar"].value == "2.0 tablespoons"  # 20 g of 10 g each


def test_that_a_brine_comes_to_one_strength() -> None:
    # 60 g of salt in 2 kg of brine about 3 kg of meat: 60 ÷ 5000.
    whole, treatment = racks(
        [3000.0], TreatmentKind.BRINED, salt=0.03, liquid=2000.0, time=4 * 3600.0
    )
    found = sums(whole, treatment)
    # Such a brine is 60 g and 1940 g of water, and 60 ÷ 1940 is 3.09 %.
    assert found["Salt for the brine"].value == "60 g in 1.94 kg of water"
    assert "of the water alone it is 3.1 %" in found["Salt for the brine"].formula
    assert found["Salt in the meat"].value == "at most 1.20 %"
    assert "once both are alike" in found["Salt in the meat"].formula


def test_that_what_is_not_weighed_is_asked_for() -> None:
    whole, treatment = racks([1000.0, 0.0], INJECTED, target_pickup=0.1)
    assert sums(whole, treatment)["Liquid"].value == "weigh every piece"
    dry = replace(treatment, kind=TreatmentKind.DRY_BRINED, salt=0.01)
    assert sums(whole, dry)["Salt"].value == "weigh every piece"
    brine = replace(treatment, kind=TreatmentKind.BRINED, salt=0.05)
    assert sums(whole, brine)["Salt in the meat"].value == "weigh every piece"
    unknown = replace(treatment, target_pickup=None)
    assert sums(whole, unknown)["Liquid"].value == "say the pickup wanted"


def test_that_rub_goes_by_the_piece() -> None:
    whole, _ = racks([1000.0, 3000.0], INJECTED)
    layer = Seasoning(cook_id=whole.cook.id, position=0, rub="house rub", mass=18.0)
    (one,) = rub_sums(whole, (layer,), METRIC)
    assert one.value == "36 g"
    assert "never scaled by weight" in one.formula


def test_that_sums_are_said_in_the_unit_that_was_typed_and_agree_with_the_field() -> None:
    whole, _ = racks([1000.0, 3000.0, 1000.0], INJECTED)
    layer = Seasoning(
        cook_id=whole.cook.id, position=0, rub="house rub", mass=12.4, typed={"mass": "12.4 g"}
    )
    (one,) = rub_sums(whole, (layer,), UnitSystem.US)
    assert one.value == "37 g"  # 12.4 × 3 = 37.2; 12 × 3 would have been 36
    assert one.formula.startswith("12.4 g a piece × 3")
    ounces = replace(layer, mass=28.349523125, typed={"mass": "1 oz"})
    (one,) = rub_sums(whole, (ounces,), METRIC)
    assert one.value == "3.0 oz"
    spoons = replace(layer, mass=24.0, typed={"mass": "2 tbsp"})  # told in g below its field
    (one,) = rub_sums(whole, (spoons,), UnitSystem.US)
    assert one.value == "72 g"
    bare = replace(layer, mass=28.349523125, typed={"mass": "1"})
    (one,) = rub_sums(whole, (bare,), UnitSystem.US)
    assert one.value == "3.0 oz"


def test_that_a_mix_goes_by_the_unit_of_its_liquid_else_by_that_of_the_meat() -> None:
    whole, treatment = racks([2000.0], INJECTED, target_pickup=0.1)
    weighed = tuple(replace(w, typed={"mass": "2 kg"}) for w in whole.weighings)
    whole = replace(whole, weighings=weighed)
    parts = {"stock": 0.9, "salt": 0.1}

    def said(treatment: Treatment) -> dict[str, Sum]:
        units, limits = UnitSystem.US, published_limits()
        found = treatment_sums(whole, treatment, units, limits, lines=lines_of({"parts": parts}))
        return {one.what: one for one in found}

    meat = said(treatment)
    assert meat["Mix"].value == "250 g"  # 2000 × 10 % × 1.25
    assert meat["By weight"].value == "stock 225 g, salt 25 g"
    pound = replace(treatment, liquid=453.59237, typed={"liquid": "1 lb"})
    assert said(pound)["Mix"].value == "8.8 oz"  # 250 ÷ 28.35
    assert said(pound)["Liquid to go in"].formula.startswith("2.00 kg green")


def test_that_a_brine_scales_to_its_liquid_and_curing_salt_stays_as_written() -> None:
    kept = [["water", "1 L"], ["salt", "50 g"], ["sugar", "25 g"], ["curing salt", "12 g"]]
    whole, treatment = racks([3000.0], TreatmentKind.BRINED, liquid=2150.0)
    found = sums(whole, treatment, lines=lines_of({"lines": kept}))
    # 1000 + 50 + 25 g is the recipe: 2150 g is twice as much.
    assert found["By weight"].value == "water 2.00 L, salt 100 g, sugar 50 g"
    assert "counted as water" in found["By weight"].formula
    cure = found["As written"]
    assert cure.value == "curing salt 12 g"
    assert cure.look
    assert "not scaled" in cure.formula
    assert "nothing here approves" in cure.formula
    assert "9 CFR 424.21(c), 424.22(b)" in cure.source


def test_that_a_dry_brine_scales_to_its_salt_for_the_meat() -> None:
    kept = lines_of({"lines": [["salt", "10 g"], ["sugar", "5 g"]]})
    whole, treatment = racks([1000.0, 1500.0], TreatmentKind.DRY_BRINED, salt=0.008)
    # 0.8 % of 2500 g is 20 g of salt, and half as much sugar.
    assert sums(whole, treatment, lines=kept)["By weight"].value == "salt 20 g, sugar 10 g"
    unknown = replace(treatment, salt=None)
    assert "By weight" not in sums(whole, unknown, lines=kept)


def test_that_fuel_goes_by_the_planned_hours_and_the_rate() -> None:
    whole, _ = racks([1000.0], INJECTED)
    cook = replace(whole.cook, serve_at=NOON + timedelta(hours=10))
    cooker = ShelfItem(kind=ShelfKind.COOKER, name="the kettle", details={"class": "kettle"})
    whole = replace(whole, cook=cook, cooker=cooker)
    whole = replace(whole, events=work_out(whole, spans_of(whole, frame_of([])), NOON))
    # Ribs: 4 h 30 on (the middle of 3 to 6) and 45 min to light: 5 h 15 at ¾ lb an hour.
    past = past_of(whole, frame_of([]))
    found = fuel_sum(whole, past, UnitSystem.US)
    assert found is not None
    assert found.value == "3 lb 15 oz"
    assert "no source" in found.source
    rows: list[Row] = [
        (f"c{n}", f"c{n}", "cook", {"cooker": "the kettle", "fuel_rate": rate / 3600})
        for n, rate in enumerate((400.0, 500.0, 700.0))
    ]
    own = fuel_sum(whole, past_of(whole, frame_of(rows)), METRIC)
    assert own is not None
    assert own.value == "2.62 kg"  # 0.5 kg/h × 5.25 h = 2.625, shown to the nearest even
    assert own.source == "from 3 of your cooks"
    assert fuel_sum(replace(whole, events=()), past, METRIC) is None


def test_that_a_portion_costs_what_is_paid_by_what_is_left_to_eat() -> None:
    whole, _ = racks([], INJECTED)
    piece = Piece(cook_id=whole.cook.id, position=0, label="A1", cut="back ribs", price=0.01)
    bought = Weighing(cook_id=whole.cook.id, piece_id=piece.id, stage=Stage.BOUGHT, mass=1701.0)
    whole = replace(whole, pieces=(piece,), weighings=(bought,))
    assert cost_sum(whole, None, METRIC) is None
    past = Past(SPANS, edible={"back ribs": Usual(0.4, 0.5, 0.6, 4)})
    found = cost_sum(whole, past, METRIC)
    assert found is not None
    # 17.01 for 850.5 g: five portions of 170.1 g (6 oz).
    assert found.value == "3.40 a portion, 5 portions"


def test_that_salt_comes_to_the_middle_as_heat_does_in_a_slab() -> None:
    # At Fo = D·t ÷ (half)² = 0.2 the middle of a slab has 1 − 0.7723 of the step at its faces
    # (Crank 1975, 4.3: 4/π·exp(−π²·0.2/4) − 4/3π·exp(−9π²·0.2/4)).
    hours = 12.0
    half = (SALT_DIFFUSIVITY * hours * 3600.0 / 0.2) ** 0.5
    whole, treatment = racks([1000.0], TreatmentKind.DRY_BRINED, salt=0.01, time=hours * 3600.0)
    (piece,) = whole.pieces
    thick = replace(whole, pieces=(replace(piece, thickness_1=2 * half),))
    assert sums(thick, treatment)["Salt in the middle"].value == "about 23 % of that at the face"
    assert "Salt in the middle" not in sums(whole, treatment)  # no thickness, no word on it


@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        (TreatmentKind.BRINED, {"salt": 1.3, "liquid": 4000.0}),
        (INJECTED, {"target_pickup": -0.1}),
        (TreatmentKind.DRY_BRINED, {"cure": 5.0, "cure_strength": 6.25}),
    ],
)
def test_what_cannot_be_is_flagged_and_nothing_is_worked_out_of_it(
    kind: TreatmentKind, fields: dict[str, float]
) -> None:
    whole, treatment = racks([2000.0], kind, **fields)
    found = sums(whole, treatment)
    assert len(found) == 1
    (one,) = found.values()
    assert one.look
    assert "cannot be" in one.value


def test_ground_meat_is_shown_the_limit_for_comminuted_products() -> None:
    # FSIS Directive 7620.3 (1995): comminuted 156 ppm ingoing; dry-cured 625 ppm.
    # 5 g of 6.25 % curing salt on 1 kg of meat: 312.5 ppm.
    fields = {"cure": 5.0, "cure_strength": 0.0625}
    whole, treatment = racks([1000.0], TreatmentKind.DRY_BRINED, **fields)
    assert "625 ppm" in sums(whole, treatment)["Published limits"].value
    ground = tuple(replace(piece, cut="pork sausage") for piece in whole.pieces)
    found = sums(replace(whole, pieces=ground), treatment)
    assert "156 ppm" in found["Published limits"].value
    assert "625 ppm" not in found["Published limits"].value
    assert found["Nitrite going in"].look


def test_nitrite_above_every_published_limit_is_flagged() -> None:
    # 500 g of 6.25 % curing salt on 1 kg: 31,250 ppm.
    whole, treatment = racks([1000.0], TreatmentKind.DRY_BRINED, cure=500.0, cure_strength=0.0625)
    found = sums(whole, treatment)["Nitrite going in"]
    assert found.look
    assert "more than every limit" in found.value


@pytest.mark.parametrize(
    ("cut", "kind", "fields", "said"),
    [
        # 2 % of a 6.25 % cure is 1,250 ppm; 9 CFR 424.22(b)(3): dry-cured bacon 200 ppm.
        (
            "pork belly",
            TreatmentKind.DRY_BRINED,
            {"cure": 20.0, "cure_strength": 0.0625},
            "1050 ppm above the 200 ppm of dry-cured bacon, 6.25 times as much (9 CFR 424.22(b)(3))",
        ),
        # FSIS Directive 7620.3: dry-cured products other than bacon 625 ppm.
        (
            "pork leg",
            TreatmentKind.DRY_BRINED,
            {"cure": 20.0, "cure_strength": 0.0625},
            "625 ppm above the 625 ppm of dry-cured, no bacon, 2 times as much",
        ),
        # P01 of the handbook's kind: 2 lb in 100 US gal of water, 10 % pump: 240 ppm against 200.
        (
            "pork leg",
            INJECTED,
            {"cure": 2.0, "cure_strength": 1.0, "liquid": 834.540445, "target_pickup": 0.1},
            "40 ppm above the 200 ppm of pumped or immersed, no bacon, 1.2 times as much",
        ),
        ("pork belly", TreatmentKind.DRY_BRINED, {"cure": 3.2, "cure_strength": 0.0625}, ""),
    ],
)
def test_what_is_above_a_limit_says_by_how_much_and_of_which_rule(
    cut: str, kind: TreatmentKind, fields: dict[str, float], said: str
) -> None:
    whole, treatment = racks([1000.0], kind, **fields)
    whole = replace(whole, pieces=tuple(replace(piece, cut=cut) for piece in whole.pieces))
    found = sums(whole, treatment)
    if not said:
        assert "Nitrite above its limit" not in found
        return
    assert found["Nitrite above its limit"].value.startswith(said)
    assert found["Nitrite above its limit"].look
    assert any(said in note for note in notes_of_plan(whole))


def test_phosphate_above_its_limit_says_by_how_much() -> None:
    # 9 CFR 424.21(c): 0.5 % of the finished weight. 8 % × 0.1 ÷ 1.1 is 0.73 % of treated weight.
    whole, treatment = racks([1000.0], INJECTED, phosphate=0.08, target_pickup=0.1)
    assert (
        "0.30 % of the weight above the 0.5 %"
        in sums(whole, treatment)["Phosphate above its limit"].value
    )
    (note,) = (one for one in notes_of_plan(whole) if one.startswith("Phosphate going in"))
    assert "0.73 % of the treated weight, 0.23 % of the weight above the 0.5 %" in note
