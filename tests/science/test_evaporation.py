"""Sources: IAPWS-95 and IF97 tables; the ASHRAE wet-bulb balance by two libraries (data/README.md).

The coefficients of the saturation equations are from memory; the tables check them.
"""

import pytest

from pitjournal.science.heat.altitude import boiling_point_at, standard_pressure
from pitjournal.science.heat.evaporation import (
    boiling_point,
    dew_point,
    humidity_ratio,
    latent_heat,
    saturation_pressure,
    vapour_pressure,
    wet_bulb,
)
from tests.science.reference import rows


@pytest.mark.parametrize("row", rows("water_saturation_latent_heat"))
def test_that_water_is_as_tabulated(row: dict[str, str]) -> None:
    celsius = float(row["temp_C"])
    pressure = 1e3 * float(row["p_sat_kPa_iapws95"])
    assert saturation_pressure(celsius) == pytest.approx(pressure, rel=1e-4)
    assert latent_heat(celsius) == pytest.approx(
        1e3 * float(row["latent_heat_kJ_kg_iapws95"]),
        rel=2e-4,  # of a slope, by Clapeyron
    )
    if pressure > 620:
        assert boiling_point(pressure) == pytest.approx(celsius, abs=2e-3)


@pytest.mark.parametrize("row", rows("wet_bulb_vectors"))
def test_that_the_wet_bulb_is_that_of_the_balance(row: dict[str, str]) -> None:
    celsius, pressure = float(row["dry_bulb_C"]), 1e3 * float(row["pressure_kPa"])
    ratio = float(row["humidity_ratio_kg_kg"])
    tight = float(row["wet_bulb_C_ashrae_tight"])
    got = wet_bulb(celsius, ratio, pressure)
    if tight <= 0:
        assert got is None
        return
    assert got == pytest.approx(tight, abs=0.01)
    assert got == pytest.approx(float(row["wet_bulb_C_coolprop_rp1485"]), abs=0.1)
    partial = vapour_pressure(ratio, pressure)
    assert partial == pytest.approx(1e3 * float(row["vapour_pressure_kPa"]), rel=1e-5)
    assert humidity_ratio(partial, pressure) == pytest.approx(ratio)
    dew = dew_point(ratio, pressure)
    if dew is not None:
        assert dew == pytest.approx(float(row["dew_point_C"]), abs=0.01)


def test_that_saturated_air_has_no_depression() -> None:
    ratio = humidity_ratio(saturation_pressure(30.0), 101325.0)
    assert wet_bulb(30.0, ratio, 101325.0) == pytest.approx(30.0, abs=1e-6)


def test_that_more_water_than_air_can_hold_has_no_wet_bulb() -> None:
    assert wet_bulb(20.0, 0.05, 101325.0) is None
    assert wet_bulb(1.0, 0.0, 101325.0) is None
    assert dew_point(0.0, 101325.0) is None


def test_that_a_pressure_outside_the_table_is_refused() -> None:
    with pytest.raises(ValueError, match="outside"):
        boiling_point(100.0)


@pytest.mark.parametrize("row", rows("altitude_boiling"))
def test_that_water_boils_cooler_higher_up(row: dict[str, str]) -> None:
    metres = float(row["geometric_altitude_m"])
    assert standard_pressure(metres) == pytest.approx(float(row["pressure_Pa"]), rel=1e-5)
    assert boiling_point_at(metres) == pytest.approx(float(row["boiling_C"]), abs=2e-3)


@pytest.mark.parametrize(
    ("celsius", "latent"), [(200, 1939.7), (250, 1715.2), (300, 1404.6), (350, 892.7)]
)
def test_that_hot_water_under_pressure_is_as_in_the_steam_tables(
    celsius: float, latent: float
) -> None:
    # IAPWS-IF97, saturated water, vapour less liquid, kJ/kg (from memory). So near the critical point the
    # density of the liquid counts, which cold water's latent heat hardly shows.
    assert latent_heat(celsius) == pytest.approx(1e3 * latent, rel=5e-4)


def test_that_water_boils_at_both_ends_of_what_is_said_and_no_further() -> None:
    """620 Pa is 0.2 °C and 20 MPa 365.7 °C in the tables of IF97 (the latter from memory)."""
    assert boiling_point(620.0) == pytest.approx(0.2, abs=0.05)
    assert boiling_point(20e6) == pytest.approx(365.75, abs=0.1)
    for beyond in (619.9, 20.001e6):
        with pytest.raises(ValueError, match="outside the table"):
            boiling_point(beyond)
