"""Spoons and cups as weights; volumes by NIST Handbook 44, Appendix C."""

import pytest

from pitjournal.errors import JournalError
from pitjournal.units import WATER, UnitSystem, by_volume, of_tablespoon, parse_weight

MILLILITRES = {
    "1 tsp": 4.928922,
    "1 tbsp": 14.786765,
    "2 tablespoons": 2 * 14.786765,
    "1 fl oz": 29.57353,
    "1 cup": 236.5882,
    "2 pints": 2 * 473.1765,
    "1 qt": 946.3529,
    "1 gal": 3785.412,
    "1 L": 1000.0,
    "250 mL": 250.0,
}
"""Table "Units of Liquid Volume" of Appendix C, to the digits that it gives."""


@pytest.mark.parametrize("text", MILLILITRES)
@pytest.mark.parametrize("system", UnitSystem)
def test_that_liquids_are_read_in_every_unit(text: str, system: UnitSystem) -> None:
    assert by_volume(text, system) == pytest.approx(MILLILITRES[text], rel=1e-6)


def test_that_liquid_is_weighed_as_water() -> None:
    assert parse_weight("2 cups", UnitSystem.US, WATER) == pytest.approx(473.1765, rel=1e-6)
    assert parse_weight("1.5 L", UnitSystem.US, WATER) == pytest.approx(1500.0)


def test_that_a_spoon_weighs_what_the_shelf_says() -> None:
    rub = of_tablespoon(8.0)
    assert parse_weight("2 tbsp", UnitSystem.METRIC, rub) == pytest.approx(16.0)
    # Three teaspoons are a tablespoon (Handbook 44, Appendix C).
    assert parse_weight("3 tsp", UnitSystem.METRIC, rub) == pytest.approx(8.0)


def test_that_a_weight_stays_a_weight() -> None:
    assert parse_weight("2 oz", UnitSystem.US, of_tablespoon(8.0)) == pytest.approx(56.69905)
    assert parse_weight("40", UnitSystem.METRIC, None) == pytest.approx(40_000.0)


def test_that_spoons_of_unknown_weight_are_refused_with_what_to_do() -> None:
    with pytest.raises(JournalError, match="what a tablespoon of it weighs is not known") as caught:
        parse_weight("2 tbsp", UnitSystem.US, None)
    assert "on the Shelf" in str(caught.value)


def test_that_what_is_no_weight_is_told_with_spoons_and_cups_too() -> None:
    with pytest.raises(JournalError) as told:
        parse_weight("a splash", UnitSystem.US, WATER)
    assert "2 cups" in told.value.hint
