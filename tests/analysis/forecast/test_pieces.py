"""What shape a piece is taken for, from its thickness and its weight: by hand."""

import pytest

from pitjournal.analysis.forecast.pieces import DENSITY, geometry_of


@pytest.mark.parametrize(
    ("thickness", "wide", "shape"),
    [
        (0.05, 0.10, 0.4),  # (5/10)² + (5/15)² = 0.36
        (0.05, 0.05, 1.4),  # (5/5)² + (5/7.5)² = 1.44
        (0.04, 0.40, 0.0),  # (4/40)² + (4/60)² = 0.014, as good as a wall
        (0.05, 0.02, 2.0),  # no side is thinner than it is thick: a cube
    ],
)
def test_that_a_weighed_piece_is_a_box_half_as_long_again_as_wide(
    thickness: float, wide: float, shape: float
) -> None:
    grams = 1000.0 * DENSITY * thickness * wide * 1.5 * wide
    found = geometry_of(thickness, grams, "slab")
    assert found.half == thickness / 2
    assert found.shape == shape


def test_that_a_piece_that_was_not_weighed_has_the_shape_of_its_cut() -> None:
    shapes = {form: geometry_of(0.05, None, form).shape for form in ("box", "cylinder", "strip")}
    assert shapes == {"box": 1.0, "cylinder": 1.0, "strip": 0.7}
    assert geometry_of(0.05, None, "slab").shape == 0.2
