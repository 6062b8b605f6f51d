"""Source: conduction series and one-term roots, checked by finite differences (data/README.md)."""

import math

import pytest

from pitjournal.science.heat.conduction import (
    Shape,
    brick_theta,
    coefficient,
    deep_theta,
    face_theta,
    root,
    time_to_theta,
    wall_mean_theta,
    wall_theta,
)
from tests.science.reference import rows

CASES = rows("conduction_series_vectors")
SHAPES: tuple[tuple[Shape, str], ...] = (
    ("wall", "plane_wall"),
    ("cylinder", "cylinder"),
    ("sphere", "sphere"),
)


def of_kind(*kinds: str) -> list[dict[str, str]]:
    return [row for row in CASES if row["case"] in kinds]


@pytest.mark.parametrize("row", rows("heisler_one_term"))
@pytest.mark.parametrize(("shape", "name"), SHAPES)
def test_that_the_first_roots_are_tabulated(row: dict[str, str], shape: Shape, name: str) -> None:
    zeta = root(1, float(row["Bi"]), shape)
    assert zeta == pytest.approx(float(row[f"zeta1_{name}"]), rel=1e-10)
    assert coefficient(zeta, shape) == pytest.approx(float(row[f"C1_{name}"]), rel=1e-10)


@pytest.mark.parametrize("row", of_kind("slab_1d"))
def test_that_a_wall_warms_as_the_full_series(row: dict[str, str]) -> None:
    biot, fourier = float(row["Bi_L1"]), float(row["Fo_L1"])
    for place, key in (
        (0.0, "theta_centre_or_depth"),
        (0.5, "theta_half_depth"),
        (1.0, "theta_surface"),
    ):
        assert wall_theta(biot, fourier, place) == pytest.approx(float(row[key]), abs=1e-8)
    assert wall_mean_theta(biot, fourier) == pytest.approx(float(row["theta_mean"]), abs=1e-8)


@pytest.mark.parametrize("row", of_kind("slab_2d", "slab_3d"))
def test_that_bars_and_bricks_are_products_of_walls(row: dict[str, str]) -> None:
    ratios = [1.0, float(row["ratio_L2_over_L1"])]
    if row["ratio_L3_over_L1"]:
        ratios.append(float(row["ratio_L3_over_L1"]))
    biot, fourier = float(row["Bi_L1"]), float(row["Fo_L1"])
    assert brick_theta(biot, fourier, ratios) == pytest.approx(
        float(row["theta_centre_or_depth"]), abs=1e-8
    )
    face = [1.0] + [0.0] * (len(ratios) - 1)
    assert brick_theta(biot, fourier, ratios, face) == pytest.approx(
        float(row["theta_surface"]), abs=1e-8
    )


@pytest.mark.parametrize("row", of_kind("semi_infinite_convective", "semi_infinite_fixed_surface"))
def test_that_a_thick_piece_warms_from_its_face(row: dict[str, str]) -> None:
    biot = float(row["hx_over_k"] or "inf")
    fourier = float(row["Fo_x"])
    assert deep_theta(biot, fourier) == pytest.approx(float(row["theta_centre_or_depth"]), abs=1e-8)
    if math.isfinite(biot):
        assert face_theta(biot, fourier) == pytest.approx(float(row["theta_surface"]), abs=1e-8)


def test_that_nothing_has_warmed_at_first() -> None:
    assert wall_theta(2.0, 0.0) == 1
    assert wall_mean_theta(2.0, 0.0) == 1
    assert deep_theta(2.0, 0.0) == 1


@pytest.mark.parametrize("row", of_kind("slab_1d"))
def test_that_the_time_to_a_temperature_is_the_series_read_backward(row: dict[str, str]) -> None:
    theta = float(row["theta_centre_or_depth"])
    if 1e-6 < theta < 0.999:
        assert time_to_theta(theta, float(row["Bi_L1"])) == pytest.approx(
            float(row["Fo_L1"]), rel=1e-5
        )


def test_that_a_temperature_never_reached_has_no_time() -> None:
    assert time_to_theta(0.0, 1.0) is None
    assert time_to_theta(1.0, 1.0) is None
