"""A probe's correction, by hand arithmetic; boiling points are the reference table's."""

import pytest

from pitjournal.science.heat.altitude import boiling_point_at
from pitjournal.science.heat.probe_check import correction_line
from tests.science.reference import rows


def test_that_both_points_come_out_right() -> None:
    shift, slope = correction_line(0.8, 98.0, 99.974)
    for read, true in ((0.8, 0.0), (98.0, 99.974)):
        assert read + shift + slope * read == pytest.approx(true, abs=1e-12)
    middle = (0.8 + 98.0) / 2  # halfway between, the correction is halfway too
    assert shift + slope * middle == pytest.approx((-0.8 + 1.974) / 2)


def test_that_one_point_is_a_shift() -> None:
    assert correction_line(-0.5, None, 100.0) == (0.5, 0.0)
    assert correction_line(None, 94.0, 95.0) == (1.0, 0.0)
    assert correction_line(None, None, 95.0) == (0.0, 0.0)


@pytest.mark.parametrize("row", rows("altitude_boiling")[::9])
def test_that_a_true_probe_needs_nothing_at_any_height(row: dict[str, str]) -> None:
    # ISO 2533 atmosphere, boiling by IAPWS-95 (computed): altitude_boiling.csv.
    metres = float(row["geometric_altitude_m"])
    true = float(row["boiling_C"])
    shift, slope = correction_line(0.0, true, boiling_point_at(metres))
    assert abs(shift) + abs(slope * true) < 0.002


def test_that_a_boil_below_the_ice_is_refused() -> None:
    with pytest.raises(ValueError, match="not above"):
        correction_line(5.0, 4.0, 100.0)
