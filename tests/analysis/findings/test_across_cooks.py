"""The same comparison joined over cooks.

The joining itself is held to the BCG trials in tests/science/test_pooled.py; here: that the
right cooks are joined, with hand arithmetic where all are alike.
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.across_cooks import across_cooks
from pitjournal.analysis.findings.comparison import PieceValues
from pitjournal.analysis.findings.like import way_of
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import compared, no_readings

KEY = "score.tenderness"


def made(whole: WholeCook) -> tuple[WholeCook, PieceValues]:
    cooked = replace(whole, cook=replace(whole.cook, status=CookStatus.DONE))
    return cooked, values_of(cooked, no_readings).pieces


def test_that_cooks_of_the_same_two_ways_are_joined_and_no_others() -> None:
    cooks = [
        made(compared(("Left alone", "Injected"), ((6, 7, 6), (7, 8.2, 6.9)))),
        made(compared(("left alone", "INJECTED"), ((5, 6, 7), (6.1, 6.9, 8)))),
        made(compared(("Left alone", "Needled"), ((6, 7, 6), (1, 1, 1)))),
        made(compared(("Foil", "Injected"), ((6, 7, 6), (1, 1, 1)))),
    ]
    (joined,) = across_cooks(cooks[0][0], KEY, cooks)
    assert len(joined.cooks) == 2
    # Both differ by 1 in the mean: 1.1 ÷ 3 + … is (1 + 1.2 + 0.9) ÷ 3 and (1.1 + 0.9 + 1) ÷ 3.
    assert [cook.estimate for cook in joined.cooks] == pytest.approx([3.1 / 3, 1.0])
    assert 1.0 <= joined.estimate <= 3.1 / 3
    assert joined.pieces == 12


def test_that_one_cook_is_not_joined_with_itself() -> None:
    one = made(compared(("Left alone", "Injected"), ((6, 7, 6), (7, 8, 7.5))))
    assert across_cooks(one[0], KEY, [one]) == ()


def test_that_planned_cooks_and_blind_scores_do_not_count() -> None:
    whole = compared(("Left alone", "Injected"), ((6, 7, 6), (7, 8, 7.5)))
    planned = whole, values_of(whole, no_readings).pieces
    assert across_cooks(whole, KEY, [made(whole), planned]) == ()


def test_that_a_way_is_its_treatment_whatever_the_arm_is_called() -> None:
    whole = compared(("Control", "The wet one"), ((6,), (7,)))
    treatments = tuple(
        Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, (TreatmentKind.NONE, TreatmentKind.INJECTED), strict=True)
    )
    treated = replace(whole, treatments=treatments)
    assert [way_of(treated, arm) for arm in treated.arms] == ["left alone", "injected"]
    assert [way_of(whole, arm) for arm in whole.arms] == ["control", "thewetone"]


def test_that_a_cook_weighs_by_the_pieces_in_each_of_its_arms() -> None:
    # By hand, inverse variances: cook 1 differs by 1, 2 pieces against 2, so 1/2 + 1/2 = 1 times
    # the common variance; cook 2 by 2, 3 pieces against 1, so 1/3 + 1 = 4/3 times. Their variances
    # are 0.5 and 1 on 2 degrees of freedom each, 0.75 in common; Q = 1 / (0.75 * 7/3) < 1, so
    # nothing is left between cooks, and (1 / 1 * 1 + 3/4 * 2) / (1 + 3/4) = 10/7.
    cooks = [
        made(compared(("Left alone", "Injected"), ((6, 7), (7, 8)), packs=False)),
        made(compared(("Left alone", "Injected"), ((6,), (7, 8, 9)), packs=False)),
    ]
    (joined,) = across_cooks(cooks[0][0], KEY, cooks)
    assert joined.estimate == pytest.approx(10 / 7)
