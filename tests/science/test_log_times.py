"""Source: Finkelstein & Wolfe (1985) cosmesis, fitted by two libraries (data/README.md).

The fits themselves are held to their tables in test_censored.py; here: many weightings at once.
"""

import numpy as np
import pytest

from pitjournal.science.times.log_times import Bounds, Law, covariance, maxima
from tests.science.reference import check, rows

ROWS = rows("breast_cosmesis_finkelstein1986")
LOW = np.array([float(row["left_months"]) for row in ROWS])
HIGH = np.array([float(row["right_months"]) for row in ROWS])
DESIGN = np.column_stack(
    [np.ones(LOW.size), [float(row["treatment"] == "RadChem") for row in ROWS]]
)


@pytest.mark.parametrize(("law", "first"), [("Weibull", 28), ("log-normal", 38)])
def test_that_every_weighting_has_its_own_maximum(law: Law, first: int) -> None:
    bounds = Bounds.of(law, LOW, HIGH, DESIGN)
    lot = np.random.default_rng(3).integers(0, 3, LOW.size).astype(np.float64)
    found = maxima(bounds, [np.ones(LOW.size), np.full(LOW.size, 2.0), lot])
    assert found.settled.all()
    for row in (0, 1):  # every piece twice moves nothing
        check(f"IC{first}", float(found.coefficients[row, 0]))
        check(f"IC{first + 1}", float(found.coefficients[row, 1]))
        check(f"IC{first + 3}", float(found.scale[row]))
    check(f"IC{first + 4}", float(found.log_likelihood[0]))
    assert found.log_likelihood[1] == pytest.approx(2 * found.log_likelihood[0])
    times = np.repeat(np.arange(LOW.size), lot.astype(int))
    again = Bounds.of(law, LOW[times], HIGH[times], DESIGN[times])
    alone = maxima(again, np.ones(times.size))
    assert found.coefficients[2] == pytest.approx(alone.coefficients[0], abs=1e-6)
    assert found.scale[2] == pytest.approx(alone.scale[0], abs=1e-6)


def test_that_the_errors_are_the_published_ones() -> None:
    bounds = Bounds.of("log-normal", LOW, HIGH, DESIGN)
    found = maxima(bounds, np.ones(LOW.size))
    spread = covariance(bounds, found.coefficients[0], float(found.scale[0]))
    assert spread is not None
    check("IC40", float(np.sqrt(spread[1, 1])))


@pytest.mark.filterwarnings("error")
def test_that_a_weighting_without_any_end_does_not_settle_and_spoils_no_other() -> None:
    bounds = Bounds.of("log-normal", LOW, HIGH, DESIGN)
    endless = np.isinf(HIGH).astype(np.float64)
    found = maxima(bounds, [np.ones(LOW.size), endless])
    assert found.settled.tolist() == [True, False]
    check("IC38", float(found.coefficients[0, 0]))
