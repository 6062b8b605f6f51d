"""Spoons of a recipe by what the Shelf says they weigh; a tablespoon is half a US fluid ounce.

14.786765 mL by NIST Handbook 44, Appendix C; what a spoon of salt weighs is the cook's own word.
"""

import pytest

from pitjournal.domain.recipe import lines_of, made_of_volumes, parts_of, scaled, share_of
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.used_recipe import densities_of, details_of, is_kept, lines_used, to_keep
from pitjournal.units import UnitSystem

METRIC = UnitSystem.METRIC
BRINE = {"lines": [["water", "1 qt"], ["Salt", "2 tbsp"], ["sugar", "1/4 cup"]]}


def shelf(salt: float = 18.0) -> list[ShelfItem]:
    spoon = {"tablespoon": salt}
    return [
        ShelfItem(kind=ShelfKind.INGREDIENT, name="salt", details=spoon),
        ShelfItem(kind=ShelfKind.RECIPE, name="House  brine", details=BRINE),
    ]


def test_that_spoons_weigh_what_the_shelf_says_and_it_is_said() -> None:
    lines = lines_of(BRINE, densities_of(shelf()))
    water, salt, sugar = lines
    assert salt.weight == pytest.approx(36.0)  # two tablespoons of 18 g
    assert salt.made_of_it == "36 g: a tablespoon of it weighs 18 g"
    assert "counted as water" in water.made_of_it
    assert "not on the Shelf" in sugar.made_of_it
    # A quart is 946.353 mL, a quarter cup 59.147 mL (Handbook 44).
    assert parts_of(lines) == pytest.approx({"water": 946.353, "Salt": 36.0, "sugar": 59.147}, 1e-5)
    told = made_of_volumes(lines)
    assert "Salt 2 tbsp is 36 g: a tablespoon of it weighs 18 g" in told
    assert "sugar is counted as water" in told


def test_that_a_share_of_salt_by_the_spoon_is_known_where_its_weight_is() -> None:
    weighed = {"lines": [["water", "964 g"], ["salt", "2 tbsp"]]}
    assert share_of(lines_of(weighed), "salt") is None
    known = lines_of(weighed, densities_of(shelf()))
    assert share_of(known, "salt") == pytest.approx(0.036)  # 36 of 1000 g


def test_that_lines_scale_in_the_unit_typed_with_their_weight_beside() -> None:
    lines = lines_of(BRINE, densities_of(shelf()))
    assert scaled(lines, 2.0, METRIC) == ["water 2 qt", "Salt 4 tbsp (72 g)", "sugar 0.5 cups"]
    assert scaled(lines, 4.0, METRIC)[2] == "sugar 1 cup"
    both = lines_of({"lines": [["stock", "1 cup 2 tbsp"]]})
    assert scaled(both, 2.0, METRIC) == ["stock 18.0 fl oz"]  # 8 and 1, twice


def test_that_salt_is_known_by_its_jar_and_the_shelf_comes_first() -> None:
    assert densities_of([], "72")["salt"].tablespoon == pytest.approx(18.0)
    assert densities_of(shelf(15.0), "72")["salt"].tablespoon == pytest.approx(15.0)
    rub = ShelfItem(kind=ShelfKind.RUB, name="Red  Rub", details={"tablespoon": 8.0})
    assert densities_of([rub])["red rub"].tablespoon == pytest.approx(8.0)
    assert densities_of([ShelfItem(kind=ShelfKind.RUB, name="other")]) == {}


def test_that_what_was_kept_with_a_cook_stays_when_recipe_and_salt_change() -> None:
    before = shelf()
    kept = to_keep("house brine", details_of(before), densities_of(before))
    treatment = Treatment(
        cook_id="c", kind=TreatmentKind.BRINED, recipe="House brine", made_of=kept
    )
    other = {"lines": [["water", "2 qt"], ["salt", "2 tbsp"]]}
    after = [ShelfItem(kind=ShelfKind.RECIPE, name="house brine", details=other), *shelf(12.0)[:1]]
    lines = lines_used(treatment, details_of(after), densities_of(after))
    assert [line.written for line in lines] == ["water 1 qt", "Salt 2 tbsp", "sugar 1/4 cup"]
    assert lines[1].weight == pytest.approx(36.0)


def test_that_what_was_kept_is_of_that_recipe_alone() -> None:
    items = shelf()
    kept = to_keep("house brine", details_of(items), densities_of(items))
    other = Treatment(cook_id="c", kind=TreatmentKind.BRINED, recipe="another", made_of=kept)
    assert not is_kept(other)
    assert lines_used(other, details_of(items), densities_of(items)) == ()
    assert to_keep("another", details_of(items), densities_of(items)) == {}
