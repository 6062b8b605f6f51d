"""Source: Shrout & Fleiss (1979), six targets and four judges (data/README.md)."""

import math

import numpy as np

from pitjournal.science.agreement import panel_agreement
from tests.science.reference import check, rows

TABLE = [[float(row[f"judge{j}"]) for j in range(1, 5)] for row in rows("shrout_fleiss_1979")]


def test_that_all_six_forms_are_met() -> None:
    got = panel_agreement(TABLE)
    assert got is not None
    forms = (
        got.each_own,
        got.any_tasters,
        got.these_tasters,
        got.mean_each_own,
        got.mean_any_tasters,
        got.mean_these_tasters,
    )
    for place, form in enumerate(forms):
        check(f"RE{4 * place + 2:02}", form.value)
        check(f"RE{4 * place + 3:02}", form.low)
        check(f"RE{4 * place + 4:02}", form.high)
    check("RE25", got.between)
    check("RE26", got.tasters)
    check("RE27", got.error)
    check("RE28", got.within)


def test_that_a_sample_with_a_gap_is_left_out() -> None:
    assert panel_agreement([*TABLE, [math.nan, 1.0, 2.0, 3.0]]) == panel_agreement(TABLE)


def test_that_too_little_says_nothing() -> None:
    assert panel_agreement([[1.0, 2.0]]) is None
    assert panel_agreement([[1.0], [2.0]]) is None
    assert panel_agreement(np.full((3, 3), 5.0)) is None
    assert panel_agreement([[1.0, 2.0], [3.0, 4.0]]) is None
    assert panel_agreement([1.0, 2.0]) is None
