"""What one's own past cooks took, put to another piece and pit: by hand, on logarithms."""

import math
from dataclasses import replace

import numpy as np
import pytest
import statsmodels.api

from pitjournal.analysis.forecast.asked import ForecastAsked, PastCook, Trace, Wrapping
from pitjournal.analysis.forecast.past import STEPS, _House
from pitjournal.analysis.forecast.usual import ODD, ridge, since_wrap, usual_of

MARKS = ((60.0, 100.0), (90.0, 400.0))
"""°C, and minutes from on."""


def cooks(*wraps: str, at: float = 200.0) -> tuple[PastCook, ...]:
    return tuple(
        PastCook(0.04, None, 125.0, wrap, None if wrap == "none" else at, MARKS)
        for wrap in wraps  # thickness, weight, set point
    )


ALIKE = cooks("none", "none", "none")
OPEN = Wrapping(0.0, "foil", 60.0)
"""Wrapped for a minute and open ever since: there is no chance of a wrap to reckon with."""


def asked(past: tuple[PastCook, ...], **changed: object) -> ForecastAsked:
    seconds = 60.0 * np.arange(51.0)
    trace = Trace(seconds, np.linspace(5.0, 30.0, 51), np.full(51, 125.0))
    one = ForecastAsked(trace, "slab", 0.04, None, 125.0, None, past, (90.0,))
    return replace(one, **changed)  # type: ignore[arg-type]  # a test's own keywords


def test_that_cooks_that_were_all_alike_take_what_they_took() -> None:
    found = usual_of(asked(ALIKE, wrapping=OPEN), 125.0)
    assert found.until(60.0, 5.0) == pytest.approx(100.0)
    assert found.until(90.0, 5.0) == pytest.approx(400.0, rel=1e-3)
    assert found.cooks == 3
    assert found.minutes.tolist() == sorted(found.minutes.tolist())


def test_that_twice_as_thick_takes_twice_as_long_to_the_first_mark() -> None:
    # Three cooks alike say nothing of slopes: those of the model are kept, 1 and 0.6 for thickness.
    found = usual_of(asked(ALIKE, thickness=0.08, wrapping=OPEN), 125.0)
    assert found.minutes[0] == pytest.approx(200.0)
    assert found.minutes[2] == pytest.approx(400.0 * 2**0.6, rel=1e-3)


def test_that_a_pit_twice_as_far_above_the_stall_takes_less() -> None:
    # The pit counts from 65 °C on: 125 °C is 60 above, 185 °C is 120; powers −0.9 and −1.3.
    found = usual_of(asked(ALIKE, set_point=185.0, wrapping=OPEN), 185.0)
    assert found.minutes[0] == pytest.approx(100.0 / 2**0.9)
    assert found.minutes[2] == pytest.approx(400.0 / 2**1.3, rel=1e-3)


def test_that_two_cooks_are_too_few_and_the_trade_speaks() -> None:
    few, none = asked(ALIKE[:2], wrapping=OPEN), asked((), wrapping=OPEN)
    found, nothing = usual_of(few, 125.0), usual_of(none, 125.0)
    assert found.cooks == 0
    assert found.minutes == pytest.approx(nothing.minutes)


def test_that_the_spread_of_three_cooks_alike_is_that_of_two_odd_ones() -> None:
    # (0 + 2 · 0.08²) ÷ (3 + 1) is the variance, times 1 + 1 ÷ 3 for the mean's own.
    found = usual_of(asked(ALIKE, wrapping=OPEN), 125.0)
    assert found.spread == pytest.approx(math.sqrt(2 * 0.08**2 / 4 * 4 / 3))


def test_that_the_chance_of_a_wrap_falls_once_its_usual_time_has_passed() -> None:
    wrapped = cooks("foil", "foil", "foil", "none")
    early = usual_of(asked(wrapped), 125.0).wrapped
    seconds = 60.0 * np.arange(331.0)
    late = Trace(seconds, np.linspace(5.0, 70.0, 331), np.full(331, 125.0))
    assert 0.6 < early < 0.8
    assert usual_of(asked(wrapped, trace=late), 125.0).wrapped < 0.1
    in_foil = asked(wrapped, wrapping=Wrapping(600.0, "foil"))
    assert usual_of(in_foil, 125.0).wrapped == pytest.approx(1.0)


def test_that_the_time_since_the_wrap_is_that_of_cooks_in_the_same_wrap() -> None:
    mixed = (*cooks("foil", "foil", "foil"), *cooks("paper", "paper", at=300.0))
    foil = since_wrap(asked(mixed, wrapping=Wrapping(600.0, "foil")), 90.0)
    paper = since_wrap(asked(mixed, wrapping=Wrapping(600.0, "paper")), 90.0)
    assert foil is not None
    assert paper is not None
    assert math.exp(foil.log_minutes) == pytest.approx(200.0)  # 400 − 200
    assert foil.celsius == pytest.approx(70.0)  # a third of the way from 60 to 90
    # Two cooks in paper are too few to count alone: all five count.
    expected = (3 * math.log(200.0) + 2 * math.log(100.0)) / 5
    assert paper.log_minutes == pytest.approx(expected)
    assert since_wrap(asked(ALIKE, wrapping=Wrapping(600.0, "foil")), 90.0) is None


def test_that_cooks_that_lie_on_the_slopes_are_told_there_with_the_least_spread_alone() -> None:
    """y = 1 + slopes · x leaves nothing over: then two odd cooks of ODD each are all the spread."""
    slopes = np.array([1.6, 0.4, -0.9, -0.2])
    x = np.array([[0.0, 1, 2, 0], [0.5, 0, 2, 1], [1.0, 2, 1, 0], [0.2, 1, 0, 1]])
    here = np.array([0.7, 1.5, 1.0, 1.0])
    found = ridge(x, 1.0 + x @ slopes, here, slopes, np.full(4, 1e-6))  # slopes held fast
    assert found.value == pytest.approx(1.0 + float(here @ slopes))
    assert found.spread == pytest.approx(ODD * math.sqrt(2 / 5 * (1 + 1 / 4)))


def test_that_what_is_left_over_of_cooks_alike_is_added_to_the_spread() -> None:
    """Three cooks alike at 1.0, 1.1 and 1.3: mean 1.1333, squares 0.04667; by hand."""
    x, y = np.zeros((3, 4)), np.array([1.0, 1.1, 1.3])
    found = ridge(x, y, np.zeros(4), np.ones(4), np.ones(4))
    assert found.value == pytest.approx(3.4 / 3)
    assert found.spread == pytest.approx(math.sqrt((0.046667 + 2 * ODD**2) / 4 * (4 / 3)), rel=1e-4)


def test_that_a_cook_far_from_its_past_is_told_as_much_less_surely_as_a_library_has_it() -> None:
    """Slopes held by nothing are those of least squares: statsmodels' interval of a cook to come."""
    dice = np.random.default_rng(3)
    x = dice.normal(0.0, 1.0, (14, 2))
    y = 2.0 + x @ np.array([0.5, -0.3]) + dice.normal(0.0, 0.5, 14)
    fit = statsmodels.api.OLS(y, statsmodels.api.add_constant(x)).fit()
    near, far = x.mean(axis=0), x.mean(axis=0) + np.array([3.0, -2.0])
    expected = fit.get_prediction(np.column_stack((np.ones(2), [near, far])))
    found = [ridge(x, y, here, np.zeros(2), np.full(2, 1e6)) for here in (near, far)]
    assert [one.value for one in found] == pytest.approx(expected.predicted_mean, rel=1e-6)
    assert found[1].spread / found[0].spread == pytest.approx(
        expected.se_obs[1] / expected.se_obs[0], rel=1e-6
    )
    # Two odd cooks are added to what is left over, and two to the freedom: 14 − 1 − 2 + 2 of it.
    odd = math.sqrt((fit.ssr + 2 * ODD**2) / 13.0 / fit.mse_resid)
    assert found[1].spread == pytest.approx(expected.se_obs[1] * odd, rel=1e-6)


def test_that_a_wrap_which_comes_after_a_mark_says_nothing_of_the_way_to_it() -> None:
    # All were wrapped at 200 minutes, after 60 °C (100) and before 90 °C (400).
    wrapped = usual_of(asked(cooks("foil", "foil", "foil")), 125.0)
    assert wrapped.until(60.0, 5.0) == pytest.approx(100.0)
    assert wrapped.until(90.0, 5.0) == pytest.approx(400.0, rel=0.05)


def test_that_a_past_cook_is_read_at_the_minutes_of_its_marks() -> None:
    """Sixty steps to its last mark: one half way there lies at step 30, a quarter at 15."""
    marks = ((40.0, 60.0), (60.0, 120.0), (90.0, 240.0))
    other = ((50.0, 10.0), (80.0, 300.0))
    house = _House([replace(ALIKE[0], marks=marks), replace(ALIKE[0], marks=other)], "slab")
    steps = np.arange(STEPS + 1.0)[:, None, None] + np.array([0.0, 100.0])[None, :, None]
    found = house._at_marks(steps)[:, 0]
    assert found == pytest.approx([15.0, 30.0, 60.0, 102.0, 160.0], abs=1e-6)
