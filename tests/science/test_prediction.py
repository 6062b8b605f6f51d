"""The chance of one more time, against printed points of Student's t and a general library."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.science.times.prediction import (
    chance_within,
    chance_within_range,
    limit_for,
    limit_for_range,
)

# Upper points of Student's t as printed in every table (NIST/SEMATECH e-Handbook 1.3.6.7.2;
# from memory): chance, degrees of freedom, point.
PRINTED = ((0.90, 4, 1.533), (0.95, 9, 1.833), (0.975, 10, 2.228), (0.99, 5, 3.365))


@pytest.mark.parametrize(("chance", "df", "point"), PRINTED)
def test_that_a_limit_lies_as_many_deviations_off_as_the_table_says(
    chance: float, df: int, point: float
) -> None:
    logs = np.linspace(-1.0, 1.0, df + 1) * 0.2 + math.log(240.0)
    spread = float(np.std(logs, ddof=1)) * math.sqrt(1 + 1 / (df + 1))
    limit = math.exp(float(np.mean(logs)) + point * spread)
    times = [float(time) for time in np.exp(logs)]
    assert chance_within(times, limit) == pytest.approx(chance, abs=5e-4)
    found = limit_for(times, chance)
    assert found is not None
    assert math.log(found / limit) == pytest.approx(0.0, abs=5e-4 * spread * 10)


def test_that_the_limit_is_the_prediction_bound_of_a_general_library() -> None:
    import statsmodels.api as sm  # noqa: PLC0415 - heavy

    times = [231.0, 250.0, 244.0, 262.0, 239.0, 255.0]
    fit = sm.OLS(np.log(times), np.ones(len(times))).fit()
    # A two-sided interval of 80 % has its upper bound at 90 %.
    upper = fit.get_prediction(np.ones((1, 1))).conf_int(obs=True, alpha=0.2)[0, 1]
    found = limit_for(times, 0.9)
    assert found is not None
    assert math.log(found) == pytest.approx(float(upper), rel=1e-9)


def test_that_fewer_than_three_cooks_say_nothing() -> None:
    assert chance_within([200.0, 210.0], 400.0) is None
    assert limit_for([200.0, 210.0], 0.9) is None


def test_that_a_range_holds_nine_in_ten() -> None:
    within = chance_within_range(180.0, 360.0, 360.0) - chance_within_range(180.0, 360.0, 180.0)
    assert within == pytest.approx(0.90, abs=1e-9)
    assert limit_for_range(180.0, 360.0, 0.95) == pytest.approx(360.0)
    assert limit_for_range(180.0, 360.0, 0.5) == pytest.approx(math.sqrt(180.0 * 360.0))


@given(
    times=st.lists(st.floats(10.0, 1e4), min_size=3, max_size=12),
    one=st.floats(1.0, 1e5),
    two=st.floats(1.0, 1e5),
)
def test_that_more_room_never_makes_it_less_likely(
    times: list[float], one: float, two: float
) -> None:
    low, high = sorted((one, two))
    first, second = chance_within(times, low), chance_within(times, high)
    assert first is not None
    assert second is not None
    assert 0.0 <= first <= second <= 1.0
    assert chance_within(times, 0.0) == 0.0


def test_that_times_all_alike_are_sure() -> None:
    assert chance_within([200.0, 200.0, 200.0], 201.0) == 1.0
    assert chance_within([200.0, 200.0, 200.0], 199.0) == 0.0
    assert chance_within_range(200.0, 200.0, 201.0) == 1.0
