"""Source: Choi & Okos (1986), mixtures worked from it (data/README.md)."""

import pytest

from pitjournal.science.heat.composition import (
    CONDUCTIVITY,
    DENSITY,
    SPECIFIC_HEAT,
    thermal_properties,
)
from tests.science.reference import rows

COMPONENTS = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")


def test_that_the_components_are_the_published_ones() -> None:
    tables = {"k": CONDUCTIVITY, "rho": DENSITY, "cp": SPECIFIC_HEAT}
    seen = 0
    for row in rows("choi_okos_1986"):
        if row["property"] in tables:
            got = tables[row["property"]][row["component"]]
            assert got == (float(row["a"]), float(row["b"]), float(row["c"]))
            seen += 1
    assert seen == 18


@pytest.mark.parametrize("row", rows("mixture_vectors"))
def test_that_mixtures_are_worked_by_volume_where_they_must(row: dict[str, str]) -> None:
    got = thermal_properties(
        {name: float(row[f"X_{name}"]) for name in COMPONENTS}, float(row["temp_C"])
    )
    assert got is not None
    for value, key in (
        (got.density, "rho_kg_m3"),
        (got.specific_heat, "cp_J_kgK"),
        (got.conductivity, "k_parallel_W_mK"),
        (got.conductivity_across, "k_series_W_mK"),
        (got.diffusivity, "alpha_parallel_m2_s"),
        (got.diffusivity_across, "alpha_series_m2_s"),
    ):
        assert value == pytest.approx(float(row[key]), rel=1e-9)


def test_that_lean_beef_spreads_heat_as_measured() -> None:
    """Handbook values of beef lie between 1.0e-7 and 1.6e-7 m²/s (plausibility)."""
    measured = [
        float(row["alpha_low_m2_s"])
        for row in rows("thermal_diffusivity_meat")
        if row["material"] in {"beef chuck", "beef round"}
    ]
    got = thermal_properties({"water": 71, "protein": 21, "fat": 6, "ash": 1}, 50.0)
    assert got is not None
    assert got.diffusivity == pytest.approx(sum(measured) / len(measured), rel=0.15)


def test_that_percentages_need_not_add_up() -> None:
    whole = thermal_properties({"water": 0.7, "protein": 0.3}, 20.0)
    assert thermal_properties({"water": 70.0, "protein": 30.0, "fat": 0.0}, 20.0) == whole
    assert thermal_properties({}, 20.0) is None
    with pytest.raises(ValueError, match="bone"):
        thermal_properties({"bone": 1.0}, 20.0)
