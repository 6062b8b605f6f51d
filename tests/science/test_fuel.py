"""Sources: EN ISO 18125 form; tables of net value by species (data/README.md)."""

import pytest

from pitjournal.science.fuel import dry_basis, net_calorific_value, wet_basis
from tests.science.reference import rows

TABLE = rows("wood_calorific_by_moisture")


@pytest.mark.parametrize("row", [r for r in TABLE if r["row_kind"] == "formula"])
def test_that_moisture_costs_what_the_formula_says(row: dict[str, str]) -> None:
    moisture = float(row["w_pct_wet_basis"]) / 100
    got = net_calorific_value(1e6 * float(row["ncv0_MJ_kg_dry"]), moisture)
    assert got == pytest.approx(1e6 * float(row["ncv_formula_MJ_kg"]), rel=1e-8, abs=0.01)
    assert dry_basis(moisture) == pytest.approx(float(row["u_pct_dry_basis"]) / 100, abs=1e-8)
    assert wet_basis(float(row["u_pct_dry_basis"]) / 100) == pytest.approx(moisture, abs=1e-9)


@pytest.mark.parametrize(
    "row",
    [
        r
        for r in TABLE
        if r["row_kind"] == "published_table"
        and r["ncv0_MJ_kg_dry"]  # some species are printed without a dry value
        and "misprint" not in r["note"]
    ],
)
def test_that_printed_values_by_species_are_near(row: dict[str, str]) -> None:
    printed = float(row["published_value"]) * (
        3.6 if row["published_unit"].startswith("kWh") else 1
    )
    got = net_calorific_value(
        1e6 * float(row["ncv0_MJ_kg_dry"]), float(row["w_pct_wet_basis"]) / 100
    )
    assert got == pytest.approx(1e6 * printed, rel=0.03)


def test_that_half_water_is_all_of_the_dry_mass() -> None:
    assert dry_basis(0.5) == 1
    assert dry_basis(1.0) is None
