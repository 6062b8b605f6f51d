"""What one's own past cooks took, put to another piece and pit: by hand, on logarithms."""

import math

import pytest
from pitjournal.analysis.forecast.habit import span

from pitjournal.analysis.forecast.past import PastCook

MARKS = ((60.0, 100.0), (90.0, 400.0))
"""°C, and minutes from on."""


def cooks(*wraps: str) -> list[PastCook]:
    return [
        PastCook(0.04, None, 125.0, wrap, None, MARKS)  # thickness, weight, set point
        for wrap in wraps
    ]


ALIKE = cooks("none", "none", "none")


def test_that_cooks_that_were_all_alike_take_what_they_took() -> None:
    found = span(ALIKE, None, 90.0, thickness=0.04, set_point=125.0, wrap=None)
    assert found is not None
    assert math.exp(found.log_minutes) == pytest.approx(400.0)
    assert found.cooks == 3
    later = span(ALIKE, 60.0, 90.0, thickness=0.04, set_point=125.0, wrap=None)
    assert later is not None
    assert math.exp(later.log_minutes) == pytest.approx(300.0)  # 400 − 100


def test_that_twice_as_thick_takes_twice_as_long_and_twice_as_hot_half() -> None:
    # Three cooks alike say nothing of slopes: those of the model, 1 and −1, are kept. The pit
    # counts from 65 °C on: 125 °C is 60 above, 185 °C is 120.
    thick = span(ALIKE, None, 90.0, thickness=0.08, set_point=125.0, wrap=None)
    hot = span(ALIKE, None, 90.0, thickness=0.04, set_point=185.0, wrap=None)
    assert thick is not None
    assert hot is not None
    assert math.exp(thick.log_minutes) == pytest.approx(800.0)
    assert math.exp(hot.log_minutes) == pytest.approx(200.0)


def test_that_three_cooks_wrapped_alike_count_alone_and_two_cooks_are_too_few() -> None:
    mixed = [*cooks("foil", "foil", "foil"), *cooks("none")]
    foil = span(mixed, None, 90.0, thickness=0.04, set_point=125.0, wrap="foil")
    paper = span(mixed, None, 90.0, thickness=0.04, set_point=125.0, wrap="paper")
    assert foil is not None
    assert paper is not None
    assert (foil.cooks, paper.cooks) == (3, 4)
    assert span(ALIKE[:2], None, 90.0, thickness=0.04, set_point=125.0, wrap=None) is None
    assert span(ALIKE, None, 95.0, thickness=0.04, set_point=125.0, wrap=None) is None


def test_that_the_spread_of_three_cooks_alike_is_a_tenth_made_wide() -> None:
    # (0 + 2 · 0.1²) ÷ 4 is the variance, times (3 + 1) ÷ (3 − 1) for so few, times 1 + 1 ÷ 3.
    found = span(ALIKE, None, 90.0, thickness=0.04, set_point=125.0, wrap=None)
    assert found is not None
    assert found.spread == pytest.approx(math.sqrt(0.02 / 4 * 2 * 4 / 3))
