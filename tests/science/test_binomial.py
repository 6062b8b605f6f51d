"""Source: intervals computed by two libraries (data/README.md)."""

import pytest

from pitjournal.science.binomial import proportion_interval, upper_tail
from tests.science.reference import check, rows


@pytest.mark.parametrize("row", rows("binomial_ci"))
def test_that_the_intervals_are_those_of_the_table(row: dict[str, str]) -> None:
    hits, n, confidence = int(row["x"]), int(row["n"]), float(row["conf_level"])
    exact = proportion_interval(hits, n, confidence)
    assert exact == pytest.approx(
        (float(row["clopper_pearson_lo"]), float(row["clopper_pearson_hi"])), abs=1e-9
    )
    wilson = proportion_interval(hits, n, confidence, exact=False)
    assert wilson == pytest.approx((float(row["wilson_lo"]), float(row["wilson_hi"])), abs=1e-9)


def test_that_none_of_twenty_has_its_closed_form() -> None:
    exact, wilson = proportion_interval(0, 20), proportion_interval(0, 20, exact=False)
    assert exact is not None
    assert wilson is not None
    check("BN05", exact[1])
    check("BN06", wilson[1])


def test_that_a_share_of_nothing_has_no_interval() -> None:
    assert proportion_interval(0, 0) is None


def test_that_the_upper_tail_counts_its_own_step() -> None:
    check("DT16", upper_tail(15, 30, 1 / 3))
    check("DT17", upper_tail(20, 30, 0.5))
    assert upper_tail(0, 5, 0.3) == 1
