"""Quantities in words. House style: sensible digits, a true minus, "not recorded"."""

import math

import pytest

from pitjournal.units import Dimension, UnitSystem, show, show_interval

US, METRIC = UnitSystem.US, UnitSystem.METRIC
LB = 453.59237
"""g, international yard and pound agreement, 1959."""


@pytest.mark.parametrize(
    ("value", "dimension", "us", "metric"),
    [
        (3.25 * LB, Dimension.MASS, "3 lb 4 oz", "1.47 kg"),
        (3 * LB, Dimension.MASS, "3 lb", "1.36 kg"),
        (0.325 * LB, Dimension.MASS, "5.2 oz", "147 g"),
        (0.9999 * LB, Dimension.MASS, "1 lb", "454 g"),
        (2.9999 * LB, Dimension.MASS, "3 lb", "1.36 kg"),
        (310.0, Dimension.MASS, "10.9 oz", "310 g"),
        (999.6, Dimension.MASS, "2 lb 3.3 oz", "1.00 kg"),
        (4.54, Dimension.MASS, "0.2 oz", "4.5 g"),
        (0.0, Dimension.MASS, "0.0 oz", "0 g"),
        (107.2222, Dimension.TEMPERATURE, "225 °F", "107.2 °C"),
        (-18.0, Dimension.TEMPERATURE, "0 °F", "−18.0 °C"),
        (-40.0, Dimension.TEMPERATURE, "−40 °F", "−40.0 °C"),
        (-17.7778, Dimension.TEMPERATURE, "0 °F", "−17.8 °C"),
        (50 / 9, Dimension.TEMPERATURE_DIFFERENCE, "10.0 °F", "5.6 °C"),
        (1 / 600, Dimension.TEMPERATURE_RATE, "1.8 °F in 10 min", "1.0 °C in 10 min"),
        (0.03175, Dimension.LENGTH, "1.25 in", "32 mm"),
        (0.006, Dimension.LENGTH, "0.24 in", "6.0 mm"),
        (259.08, Dimension.ALTITUDE, "850 ft", "259 m"),
        (6000.0, Dimension.DURATION, "1 h 40 min", "1 h 40 min"),
        (7200.0, Dimension.DURATION, "2 h", "2 h"),
        (3590.0, Dimension.DURATION, "1 h", "1 h"),
        (40.0, Dimension.DURATION, "40 s", "40 s"),
        (59.7, Dimension.DURATION, "1 min", "1 min"),
        (0.0, Dimension.DURATION, "0 min", "0 min"),
        (177.441, Dimension.VOLUME, "6.0 fl oz", "177 mL"),
        (5.0, Dimension.VOLUME, "0.2 fl oz", "5 mL"),
        (5677.9, Dimension.VOLUME, "1.50 gal", "5.68 L"),
        (0.095, Dimension.FRACTION, "9.5 %", "9.5 %"),
        (0.0045, Dimension.FRACTION, "0.45 %", "0.45 %"),
        (0.19444, Dimension.MASS_RATE, "1.54 lb/h", "0.70 kg/h"),
        (4.99 / LB, Dimension.PRICE, "4.99 per lb", "11.00 per kg"),
        (42.5, Dimension.MONEY, "42.50", "42.50"),
        (3.57632, Dimension.SPEED, "8 mph", "13 km/h"),
        (7.0, Dimension.SCORE, "7 points", "7 points"),
        (7.25, Dimension.SCORE, "7.25 points", "7.25 points"),
        (1.0, Dimension.SCORE, "1 point", "1 point"),
        (3.0, Dimension.COUNT, "3", "3"),
        (2.5, Dimension.COUNT, "2.5", "2.5"),
        (5.62, Dimension.NUMBER, "5.62", "5.62"),
        (0.00352, Dimension.NUMBER, "0.00352", "0.00352"),
        (1234.0, Dimension.NUMBER, "1234", "1234"),
    ],
)
def test_that_a_quantity_is_shown_as_a_cook_says_it(
    value: float, dimension: Dimension, us: str, metric: str
) -> None:
    assert show(value, dimension, US) == us
    assert show(value, dimension, METRIC) == metric


@pytest.mark.parametrize("dimension", list(Dimension))
@pytest.mark.parametrize("system", list(UnitSystem))
def test_that_what_is_unknown_is_not_recorded(dimension: Dimension, system: UnitSystem) -> None:
    for value in (None, math.nan, math.inf):
        assert show(value, dimension, system) == "not recorded"
        assert show(value, dimension, system, with_unit=False, signed=True) == "not recorded"


@pytest.mark.parametrize(
    ("value", "dimension", "shown"),
    [
        (310.0, Dimension.MASS, "+310 g"),
        (-310.0, Dimension.MASS, "−310 g"),
        (0.0, Dimension.MASS, "0 g"),
        (-0.001, Dimension.MASS, "0 g"),
        (-6000.0, Dimension.DURATION, "−1 h 40 min"),
        (720.0, Dimension.DURATION, "+12 min"),
        (-0.2, Dimension.DURATION, "0 min"),
        (-0.01, Dimension.TEMPERATURE_DIFFERENCE, "0.0 °C"),
        (-1e-9, Dimension.TEMPERATURE_RATE, "0.0 °C in 10 min"),
        (0.012, Dimension.FRACTION, "+1.20 %"),
        (-0.35, Dimension.SCORE, "−0.35 points"),
    ],
)
def test_that_a_difference_has_its_sign_and_a_zero_none(
    value: float, dimension: Dimension, shown: str
) -> None:
    assert show(value, dimension, METRIC, signed=True) == shown


def test_that_a_number_alone_is_in_the_unit_of_its_column() -> None:
    assert show(3.25 * LB, Dimension.MASS, US, with_unit=False) == "3.25"
    assert show(310.0, Dimension.MASS, METRIC, with_unit=False) == "0.31"
    assert show(6000.0, Dimension.DURATION, US, with_unit=False) == "100"
    assert show(-6000.0, Dimension.DURATION, US, with_unit=False, signed=True) == "−100"
    assert show(177.441, Dimension.VOLUME, METRIC, with_unit=False) == "177"


@pytest.mark.parametrize(
    ("low", "high", "dimension", "shown"),
    [
        (0.1, 1.5, Dimension.SCORE, "+0.1 to +1.5 points"),
        (-5 / 9, 5 / 9, Dimension.TEMPERATURE_DIFFERENCE, "−1.0 to +1.0 °F"),
        (0.3 * LB, 1.5 * LB, Dimension.MASS, "+4.8 oz to +1 lb 8 oz"),
        (-600.0, 4500.0, Dimension.DURATION, "−10 min to +1 h 15 min"),
        (-29.57353, 29.57353, Dimension.VOLUME, "−1.0 fl oz to +1.0 fl oz"),
        (None, 1.5, Dimension.SCORE, "none"),
        (0.1, None, Dimension.SCORE, "none"),
    ],
)
def test_that_an_interval_says_its_unit_once_unless_it_changes(
    low: float | None, high: float | None, dimension: Dimension, shown: str
) -> None:
    assert show_interval(low, high, dimension, US, signed=True) == shown


def test_that_an_interval_alone_is_in_the_unit_of_its_column() -> None:
    # 4 h is 240 min, 1 lb is 453.59237 g exactly
    got = show_interval(7200.0, 14400.0, Dimension.DURATION, UnitSystem.US, with_unit=False)
    assert got == "120 to 240"
    pounds = show_interval(453.59237, 2 * 453.59237, Dimension.MASS, UnitSystem.US, with_unit=False)
    assert pounds == "1.00 to 2.00"


@pytest.mark.parametrize(
    ("low", "high", "dimension", "system", "shown"),
    [
        # The next hundredth outward, by hand; one that is there already stays.
        (-0.004, 0.801, Dimension.SCORE, UnitSystem.US, "−0.01 to +0.81 points"),
        (0.1, 0.3, Dimension.SCORE, UnitSystem.US, "+0.1 to +0.3 points"),
        # Outward is towards none here: as many digits as it takes not to touch it.
        (0.0043, 0.8, Dimension.SCORE, UnitSystem.US, "+0.004 to +0.8 points"),
        (-0.8, -0.0001, Dimension.SCORE, UnitSystem.US, "−0.8 to −0.0001 points"),
        (-61.0, 119.0, Dimension.DURATION, UnitSystem.US, "−2 min to +2 min"),
        (21.0, 130.0, Dimension.DURATION, UnitSystem.US, "+21 s to +3 min"),
        (-12.4, 310.2, Dimension.MASS, UnitSystem.METRIC, "−13 g to +311 g"),
        (0.0213, 0.0381, Dimension.FRACTION, UnitSystem.US, "+2.1 to +3.9 %"),
    ],
)
def test_that_bounds_are_rounded_outward_and_none_touches_nothing_by_rounding(
    low: float, high: float, dimension: Dimension, system: UnitSystem, shown: str
) -> None:
    assert show_interval(low, high, dimension, system, signed=True) == shown
