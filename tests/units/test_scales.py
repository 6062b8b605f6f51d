"""Units shown and stored, against published factors and against Pint."""

import subprocess
import sys

import numpy as np
import pint
import pytest

from pitjournal.units import (
    Dimension,
    UnitSystem,
    example,
    from_display,
    parse,
    to_display,
    unit_label,
)
from pitjournal.units.scales import FLUID_OUNCE, FOOT, GALLON, INCH, OUNCE, POUND
from tests.units.reference import exact, rows

US, METRIC = UnitSystem.US, UnitSystem.METRIC
EACH = [(dimension, system) for dimension in Dimension for system in UnitSystem]

PINTS = {
    Dimension.MASS: ("gram", "pound", "kilogram"),
    Dimension.TEMPERATURE: ("degC", "degF", "degC"),
    Dimension.TEMPERATURE_DIFFERENCE: ("delta_degC", "delta_degF", "delta_degC"),
    Dimension.TEMPERATURE_RATE: (
        "delta_degC / second",
        "delta_degF / decaminute",
        "delta_degC / decaminute",
    ),
    Dimension.LENGTH: ("meter", "inch", "millimeter"),
    Dimension.ALTITUDE: ("meter", "foot", "meter"),
    Dimension.DURATION: ("second", "minute", "minute"),
    Dimension.VOLUME: ("milliliter", "fluid_ounce", "milliliter"),
    Dimension.FRACTION: ("dimensionless", "percent", "percent"),
    Dimension.MASS_RATE: ("gram / second", "pound / hour", "kilogram / hour"),
    Dimension.PRICE: ("1 / gram", "1 / pound", "1 / kilogram"),
    Dimension.SPEED: ("meter / second", "mile / hour", "kilometer / hour"),
}
"""What the journal keeps and what is shown, US and metric, in Pint's names."""


@pytest.mark.parametrize(
    ("unit", "value"),
    [
        ("pound (avoirdupois)", POUND),
        ("ounce (avoirdupois)", OUNCE),
        ("inch", INCH * 1000),
        ("foot", FOOT),
        ("fluid ounce (US)", FLUID_OUNCE),
        ("gallon (US liquid)", GALLON),
    ],
)
def test_that_the_factors_are_those_of_nist_sp_811(unit: str, value: float) -> None:
    row = next(row for row in rows("unit_conversions") if row["from_unit"] == unit)
    assert value == pytest.approx(float(exact(row)), rel=1e-15)


@pytest.mark.parametrize(
    "row", [r for r in rows("temperature_conversions") if r["kind"].startswith("absolute")]
)
def test_that_temperatures_convert_exactly(row: dict[str, str]) -> None:
    known = exact(row)
    if row["kind"] == "absolute":
        celsius, fahrenheit = float(row["celsius"]), float(known)
    else:
        celsius, fahrenheit = float(known), float(row["fahrenheit"])
    temperature = Dimension.TEMPERATURE
    assert to_display(celsius, temperature, US) == pytest.approx(fahrenheit, abs=1e-9)
    assert from_display(fahrenheit, temperature, US) == pytest.approx(celsius, abs=1e-9)
    assert to_display(celsius, temperature, METRIC) == celsius
    assert parse(f"{fahrenheit!r} °F", temperature, METRIC) == pytest.approx(celsius, abs=1e-9)
    kelvin = float(row["kelvin"])
    assert parse(f"{kelvin!r} K", temperature, US) == pytest.approx(celsius, abs=1e-9)


@pytest.mark.parametrize(
    "row", [r for r in rows("temperature_conversions") if r["kind"].startswith("difference")]
)
def test_that_a_difference_never_gets_the_32(row: dict[str, str]) -> None:
    known = exact(row)
    if row["kind"] == "difference_from_F":
        celsius, fahrenheit = float(known), float(row["fahrenheit"])
    else:
        celsius, fahrenheit = float(row["celsius"]), float(known)
    difference = Dimension.TEMPERATURE_DIFFERENCE
    assert to_display(celsius, difference, US) == pytest.approx(fahrenheit, abs=1e-12)
    for typed in (f"{fahrenheit!r} °F", f"{fahrenheit!r}F", f"{celsius!r} °C", f"{celsius!r} K"):
        assert parse(typed, difference, METRIC) == pytest.approx(celsius, abs=1e-12)


@pytest.mark.parametrize(
    "row", [r for r in rows("temperature_conversions") if r["kind"].startswith("rate")]
)
def test_that_a_rate_never_gets_the_32(row: dict[str, str]) -> None:
    rate = parse(f"{row['fahrenheit']} °F/min", Dimension.TEMPERATURE_RATE, METRIC)
    assert rate * 60 == pytest.approx(float(exact(row)), rel=1e-12)
    shown = to_display(rate, Dimension.TEMPERATURE_RATE, US)
    assert shown == pytest.approx(10 * float(row["fahrenheit"]), rel=1e-12)


@pytest.mark.parametrize(
    ("typed", "dimension", "of", "to"),
    [
        ("1 lb", Dimension.MASS, "pound (avoirdupois)", "gram"),
        ("1 oz", Dimension.MASS, "ounce (avoirdupois)", "gram"),
        ("1 in", Dimension.LENGTH, "inch", "millimetre"),
        ("1 ft", Dimension.ALTITUDE, "foot", "metre"),
        ("1 gal", Dimension.VOLUME, "gallon (US liquid)", "millilitre"),
        ("1 qt", Dimension.VOLUME, "quart (US liquid)", "millilitre"),
        ("1 pint", Dimension.VOLUME, "pint (US liquid)", "millilitre"),
        ("1 cup", Dimension.VOLUME, "cup (US customary)", "millilitre"),
        ("1 fl oz", Dimension.VOLUME, "fluid ounce (US)", "millilitre"),
        ("1 tbsp", Dimension.VOLUME, "tablespoon (US)", "millilitre"),
        ("1 tsp", Dimension.VOLUME, "teaspoon (US)", "millilitre"),
    ],
)
def test_that_typed_units_are_those_of_nist_sp_811(
    typed: str, dimension: Dimension, of: str, to: str
) -> None:
    row = next(
        row for row in rows("unit_conversions") if (row["from_unit"], row["to_unit"]) == (of, to)
    )
    per = 0.001 if to == "millimetre" else 1.0
    expected = float(exact(row)) * per
    for system in UnitSystem:
        assert parse(typed, dimension, system) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("dimension", "units"), PINTS.items())
def test_that_the_factors_agree_with_pint(
    dimension: Dimension, units: tuple[str, str, str]
) -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    stored, us, metric = units
    for system, unit in ((US, us), (METRIC, metric)):
        for number in (0.0, 1.0, 225.0):
            pints = registry.Quantity(number, unit).to(stored).magnitude
            assert from_display(number, dimension, system) == pytest.approx(pints, rel=1e-12)


def test_that_every_dimension_with_a_unit_is_held_against_pint() -> None:
    bare = {Dimension.MONEY, Dimension.SCORE, Dimension.COUNT, Dimension.NUMBER}
    assert set(Dimension) - set(PINTS) == bare


@pytest.mark.parametrize(("dimension", "system"), EACH)
def test_that_arrays_convert_as_numbers_do(dimension: Dimension, system: UnitSystem) -> None:
    stored = np.array([0.0, 1.5, np.nan, 107.0])
    shown = to_display(stored, dimension, system)
    assert np.isnan(shown[2])
    assert shown[3] == to_display(107.0, dimension, system)
    np.testing.assert_allclose(from_display(shown, dimension, system), stored, atol=1e-12)


def test_that_labels_are_those_of_axes_and_columns() -> None:
    assert unit_label(Dimension.TEMPERATURE, US) == "°F"
    assert unit_label(Dimension.MASS, US) == "lb"
    assert unit_label(Dimension.MASS, METRIC) == "kg"
    assert unit_label(Dimension.DURATION, METRIC) == "min"
    assert unit_label(Dimension.FRACTION, US) == "%"
    assert unit_label(Dimension.COUNT, US) == ""


@pytest.mark.parametrize(("dimension", "system"), EACH)
def test_that_every_example_can_be_typed(dimension: Dimension, system: UnitSystem) -> None:
    for typed in example(dimension, system).replace(" or ", ", ").split(", "):
        assert np.isfinite(parse(typed, dimension, system))


def test_that_showing_needs_neither_pint_nor_numpy() -> None:
    program = (
        "import sys; from pitjournal.units import *;"
        "show(1474.0, Dimension.MASS, UnitSystem.US);"
        "to_display(1.0, Dimension.TEMPERATURE, UnitSystem.US);"
        "parse('225', Dimension.TEMPERATURE, UnitSystem.US);"
        "assert not {'pint', 'numpy'} & set(sys.modules);"
        "warm_up(); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", program], check=True)
