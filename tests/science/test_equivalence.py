"""Two one-sided tests.

Source: Schuirmann (1987): the smaller of the two t ratios is the test; it rejects at 5 % exactly
where the 90 % interval lies inside. Student's table: t 1.8125 at 5 % one-sided, 10 df. The two
one-sided tests of statsmodels (`ttost_paired`) on Student's sleep data are the second computation.
"""

import numpy as np
import pytest

from pitjournal.science.comparison.equivalence import one_sided_p, too_small_p, two_sided_reach
from pitjournal.science.comparison.paired import paired_difference
from tests.science.reference import column

SLEEP = column("sleep_student1908", "extra_drug1"), column("sleep_student1908", "extra_drug2")


def test_that_the_test_is_the_interval_turned_round() -> None:
    # 2 − 0.1875 is 1.8125 standard errors of 1.
    assert one_sided_p(0.1875, 1.0, 10, 2.0) == pytest.approx(0.05, abs=2e-5)
    assert one_sided_p(-0.1875, 1.0, 10, 2.0) == pytest.approx(0.05, abs=2e-5)
    assert two_sided_reach(0.1875, 1.0, 10, 0.05) == pytest.approx((-1.625, 2.0), abs=1e-3)


@pytest.mark.parametrize("margin", [1.0, 2.0, 2.5, 3.0])
def test_that_another_library_finds_the_same(margin: float) -> None:
    from statsmodels.stats.weightstats import ttost_paired  # noqa: PLC0415 - slow to load

    found = paired_difference(*SLEEP)
    theirs = ttost_paired(np.array(SLEEP[1]), np.array(SLEEP[0]), -margin, margin)[0]
    assert too_small_p(found, margin) == pytest.approx(theirs, abs=1e-9)


def test_that_nothing_is_said_where_nothing_can_be() -> None:
    assert one_sided_p(0.1, None, None, 1.0) is None
    assert one_sided_p(0.1, 0.2, 4, None) is None
    assert one_sided_p(0.1, 0.2, 4, 0.0) is None
    assert two_sided_reach(0.1, 0.2, 4, 0.0) is None
