"""Source: formulas of USDA FSIS Directive 7620.3 worked in exact fractions (data/README.md)."""

from collections.abc import Callable
from fractions import Fraction

import pytest

from pitjournal.science import curing
from tests.science.reference import rows

Inputs = dict[str, float]

WORKED: dict[str, Callable[[Inputs], float | None]] = {
    "nitrite_ppm_pumped": lambda g: curing.nitrite_pumped(
        g["nitrite_mass"], g["brine_mass"], g["pump_pct"] / 100
    ),
    "nitrite_ppm_direct": lambda g: curing.nitrite_dry(
        g["cure_mass"], g["nitrite_pct_in_cure"] / 100, g["meat_mass"]
    ),
    "nitrite_ppm_equilibrium_immersion": lambda g: curing.nitrite_immersed(
        g["nitrite_mass"], g["meat_mass"], g["brine_mass"]
    ),
    "pump_pct_from_weights": lambda g: per_cent(curing.pickup(g["green_mass"], g["pumped_mass"])),
    "brine_salt_pct_of_water": lambda g: per_cent(curing.strength_of_water(g["salt"], g["water"])),
    "salt_pct_in_meat_green_basis": lambda g: per_cent(curing.on_green(*share(g))),
    "salt_pct_in_meat_pumped_basis": lambda g: per_cent(curing.on_pumped(*share(g))),
    "phosphate_pct_green": lambda g: per_cent(curing.on_green(*share(g))),
    "phosphate_pct_pumped": lambda g: per_cent(curing.on_pumped(*share(g))),
    "phosphate_pct_finished_cooked": lambda g: per_cent(
        curing.on_finished(*share(g), g["cook_yield_pct"] / 100)
    ),
    "max_brine_pct_for_finished_limit": lambda g: per_cent(
        curing.strongest_brine(g["limit_pct"] / 100, g["pump_pct"] / 100, g["cook_yield_pct"] / 100)
    ),
}
LEFT_OUT = {"cure_mass_for_target", "brine_salt_pct_by_mass"}
"""Nothing here proposes an amount of curing salt, nor asks for a strength in the whole brine."""


def per_cent(value: float | None) -> float | None:
    return None if value is None else 100 * value


def share(given: Inputs) -> tuple[float, float]:
    strength = next(given[k] for k in ("brine_salt_pct", "brine_phosphate_pct") if k in given)
    return strength / 100, given["pump_pct"] / 100


@pytest.mark.parametrize(
    "row", [r for r in rows("curing_injection_vectors") if r["quantity"] not in LEFT_OUT]
)
def test_that_each_worked_example_is_met(row: dict[str, str]) -> None:
    given = {
        name: float(Fraction(value))
        for name, value in (part.split("=") for part in row["inputs"].split("; "))
    }
    got = WORKED[row["quantity"]](given)
    assert got == pytest.approx(float(Fraction(row["exact_fraction"])), rel=1e-12)


def test_that_a_phosphate_within_the_limit_raw_goes_over_it_when_cooked() -> None:
    """5 % in the brine at 10 % pickup: 0.4545 % pumped, 0.568 % at 80 % yield (25/44)."""
    limit = 0.005
    pumped = curing.on_pumped(0.05, 0.10)
    finished = curing.on_finished(0.05, 0.10, 0.80)
    assert pumped is not None
    assert finished is not None
    assert pumped < limit < finished


def test_that_a_missing_weight_gives_no_share() -> None:
    assert curing.pickup(0.0, 100.0) is None
    assert curing.strength_of_water(1.0, 0.0) is None
    assert curing.on_pumped(0.1, -1.0) is None
    assert curing.on_finished(0.1, 0.1, 0.0) is None
    assert curing.strongest_brine(0.005, 0.0) is None
    assert curing.nitrite_pumped(1.0, 0.0, 0.1) is None
    assert curing.nitrite_dry(1.0, 0.0625, 0.0) is None
    assert curing.nitrite_immersed(1.0, 0.0, 0.0) is None


@pytest.mark.parametrize(
    "row", [r for r in rows("curing_injection_vectors") if r["id"] in {"I01", "I02", "I03"}]
)
def test_that_salt_comes_to_the_same_in_meat_and_brine_as_nitrite_does(row: dict[str, str]) -> None:
    given = dict(part.split("=") for part in row["inputs"].split("; "))
    found = curing.equilibrium(
        *(float(given[key]) for key in ("nitrite_mass", "meat_mass", "brine_mass"))
    )
    assert found == pytest.approx(float(row["value"]) / 1e6, rel=1e-12)
    assert curing.equilibrium(1.0, 0.0, 0.0) is None
