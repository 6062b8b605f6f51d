"""Source: Montgomery, Design and Analysis of Experiments, the catalyst example of a balanced
incomplete block design; data and adjusted means from memory.
"""

import math

import numpy as np
import pytest

from pitjournal.science.sensory.taster_adjustment import even_means

CATALYSTS = {0: {0: 73, 1: 74, 3: 71}, 1: {1: 75, 2: 67, 3: 72}, 2: {0: 73, 1: 75, 2: 68}}
CATALYSTS[3] = {0: 75, 2: 72, 3: 75}


def flat(table: dict[int, dict[int, float]]) -> tuple[list[float], list[int], list[int]]:
    rows = [(value, thing, judge) for thing, row in table.items() for judge, value in row.items()]
    values, things, judges = zip(*rows, strict=True)
    return list(values), list(things), list(judges)


def test_that_catalysts_have_their_adjusted_means() -> None:
    """τ = kQ ÷ λa with Q = −9/3, −7/3, −4/3, 20/3, k = 3, λ = 2, a = 4, about 72.5."""
    got = even_means(*flat({k: dict(v) for k, v in CATALYSTS.items()}))
    assert got is not None
    assert list(got) == pytest.approx([71.375, 71.625, 72.0, 75.0])


def test_that_a_whole_table_has_its_plain_means() -> None:
    table = {0: {0: 6.0, 1: 8.0}, 1: {0: 3.0, 1: 7.0}, 2: {0: 5.0, 1: 5.0}}
    got = even_means(*flat(table))
    assert got is not None
    assert list(got) == pytest.approx([7.0, 5.0, 5.0])


def test_that_judges_who_share_nothing_cannot_be_set_even() -> None:
    assert even_means([6.0, 7.0], [0, 1], [0, 1]) is None
    assert even_means([], [], []) is None
    assert even_means([math.nan], [0], [0]) is None


def test_that_a_kind_judge_does_not_lift_what_he_met() -> None:
    """Things 5, 6, 7; the second judge gives 2 more and met only the first two."""
    got = even_means([5, 6, 7, 7, 8], [0, 1, 2, 0, 1], [0, 0, 0, 1, 1])
    assert got is not None
    assert np.diff(got) == pytest.approx([1.0, 1.0])
