"""A probe on the Shelf is corrected by its check, at the altitude it was made at."""

import pytest

from pitjournal.analysis.traces.probe_check import boils_at, correction_of
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.science.heat.altitude import boiling_point_at


def a_probe(**details: float) -> ShelfItem:
    return ShelfItem(kind=ShelfKind.PROBE, name="leave-in", details=details)


def test_that_the_boil_is_that_of_the_altitude() -> None:
    # 1,600 m: water boils at about 94.7 °C in the ISO 2533 atmosphere (altitude_boiling.csv).
    assert boils_at(a_probe(altitude=1600.0)) == pytest.approx(94.7, abs=0.1)
    found = correction_of(a_probe(ice=0.0, boil=94.7, altitude=1600.0))
    assert found is not None
    assert found[0] + 94.7 * found[1] == pytest.approx(0.0, abs=0.1)


def test_that_an_altitude_that_was_not_noted_is_that_of_the_sea() -> None:
    assert boils_at(a_probe()) == boils_at(a_probe(altitude=0.0)) == boiling_point_at(0.0)
    assert boils_at(a_probe()) == pytest.approx(100.0, abs=0.05)  # 1,013.25 hPa


def test_that_ten_degrees_off_are_mended_and_more_are_not() -> None:
    found = correction_of(a_probe(ice=10.0))
    assert found is not None
    assert found[0] == pytest.approx(-10.0)
    assert correction_of(a_probe(ice=10.1)) is None


def test_that_what_was_not_checked_is_not_corrected() -> None:
    assert correction_of(a_probe()) is None
    assert correction_of(a_probe(altitude=100.0)) is None
    assert correction_of(a_probe(correction=-0.3)) == (-0.3, 0.0)


@pytest.mark.parametrize("details", [{"ice": 50.0, "boil": 40.0}, {"ice": 14.0}, {"boil": 60.0}])
def test_that_a_check_that_cannot_be_right_corrects_nothing(details: dict[str, float]) -> None:
    assert correction_of(a_probe(**details)) is None
