"""A published table is read only for the meat it is for.

FSIS-GD-2021-14 (Revised Appendix A), Tables 2 to 4: meat of cattle, swine, sheep and goats, and
poultry. FDA Food Code 2017/2022 3-401.11(A)(1): fish, of whatever kind, 145 °F for 15 s.
"""

import pytest

from pitjournal.analysis.safety.states import SafetyFact
from tests.analysis.test_no_false_reached import ramp, told


def _facts(cut: str) -> tuple[SafetyFact, ...]:
    return told(cut, ramp(170.0))


@pytest.mark.parametrize("cut", ["salmon", "shrimp", "fish burger", "caballo", "venison loin"])
def test_fish_game_and_horse_are_read_by_no_table_of_meat(cut: str) -> None:
    assert not [fact for fact in _facts(cut) if "published table" in fact.fact]


@pytest.mark.parametrize("cut", ["pork loin", "brisket", "lamb shoulder", "chicken breast"])
def test_meat_that_a_table_is_for_is_read_by_it(cut: str) -> None:
    assert [fact for fact in _facts(cut) if "published table" in fact.fact]


@pytest.mark.parametrize("cut", ["salmon", "shrimp"])
def test_fish_is_judged_alike_by_hand_and_by_a_trace(cut: str) -> None:
    by_trace, by_hand = _facts(cut), told(cut, probed=((230, 150, ""), (239, 150, "")))
    for facts in (by_trace, by_hand):
        assert facts[0].fact.startswith("Fish: 145 °F")
