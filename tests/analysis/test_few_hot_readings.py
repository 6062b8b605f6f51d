"""What few readings leave open is unknown, and come-up time is read where the log shows it.

FDA Food Code 2017/2022 3-401.11(A)(3): 165 °F, no time asked. FSIS-GD-2021-14 (Revised Appendix
A), come-up time: from 50 to 130 °F within 6 h.
"""

from dataclasses import replace

import numpy as np
import pytest

from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import SafetyFact, State
from tests.analysis.makers import happened
from tests.analysis.test_all_through import named, traced
from tests.analysis.test_no_false_reached import a_cook_with, all_through, ramp, told


@pytest.mark.parametrize("step", [300.0, 600.0])
def test_one_hot_reading_at_the_end_of_a_slow_log_is_unknown(step: float) -> None:
    at, values = ramp(168.0, step)
    values = np.where(at < at[-1], np.minimum(values, 164.0), values)
    facts = told("chicken breast", (at, values))
    assert all_through(facts) is State.UNKNOWN
    assert "too few readings" in facts[0].fact


def test_what_stayed_below_every_row_is_not_reached() -> None:
    assert all_through(told("chicken breast", ramp(160.0))) is State.NOT_REACHED


def test_a_rest_that_got_hot_enough_leaves_it_unknown() -> None:
    # On for 240 minutes, off at 158.75 °F, and 166 °F in its rest.
    rested = traced("chicken breast", 275, (0, 40), (240, 158.75), (255, 166), (275, 166))
    assert named(rested, "Poultry").state is State.UNKNOWN
    assert "only in its rest" in named(rested, "Poultry").fact
    cold = traced("chicken breast", 275, (0, 40), (240, 158.75), (255, 160), (275, 159))
    assert named(cold, "Poultry").state is State.NOT_REACHED


def test_nine_hours_from_50_to_130_degrees_do_not_meet_the_guideline() -> None:
    at = np.arange(0.0, 14 * 60.0 + 1.0)
    levels = np.interp(at, [0, 60, 600, 840], [40, 50, 130, 190])
    whole, kept = a_cook_with("brisket", (60.0 * at, levels))
    whole = replace(whole, events=happened(whole.cook, on=0, off=14 * 60))
    fact = named(facts_of(whole, lambda trace: kept[trace.id]), "published table")
    assert fact.state is State.NOT_REACHED
    assert "9.0 h from 50 °F" in fact.fact


def _table(minutes: int, *points: tuple[float, float]) -> SafetyFact:
    return named(traced("brisket", minutes, *points), "published table")


def test_come_up_time_counts_where_the_log_shows_it() -> None:
    quick = _table(240, (0, 40), (20, 50), (140, 130), (240, 165))
    assert quick.state is State.REACHED
    assert "2.0 h from 50 °F" in quick.fact
    assert "6 h at most" in quick.fact
    assert "Come-Up-Time" in quick.source


def test_a_log_alone_reaches_nothing_without_the_pit_or_the_hand_to_bear_it_out() -> None:
    alone = told("chicken breast", ramp(172.0), pit=False)
    assert all(fact.state is not State.REACHED for fact in alone)
    assert "no probe in the pit's air, and none by hand at the end" in alone[0].fact
    beside = told("chicken breast", ramp(172.0), probed=((178, 170, ""),), pit=False)
    assert all(fact.state is State.REACHED for fact in beside)
    far = told("chicken breast", ramp(172.0), probed=((178, 150, ""),), pit=False)
    assert all_through(far) is State.NOT_REACHED  # the hand found it colder
    early = told("chicken breast", ramp(172.0), probed=((100, 112, ""),), pit=False)
    assert all(fact.state is not State.REACHED for fact in early)
    by_hand = told("chicken breast", probed=((170, 168, ""), (175, 168, "")), pit=False)[0]
    assert by_hand.state is State.REACHED
    assert "no probe in the pit's air" not in by_hand.fact


def test_a_log_that_stayed_cold_needs_nothing_beside_it_to_say_so() -> None:
    cold = told("chicken breast", ramp(130.0), pit=False)
    assert all_through(cold) is State.NOT_REACHED


@pytest.mark.parametrize("cut", ["chicken breast", "pork loin", "brisket", "turkey breast"])
@pytest.mark.parametrize("middle", [40.0, 70.0, 100.0])
@pytest.mark.parametrize("spread", [8.0, 15.0, 25.0])
def test_air_that_warms_in_an_s_reaches_nothing(cut: str, middle: float, spread: float) -> None:
    # A cold cooker that catches slowly: no leap, no wiggle, not one time constant.
    at = np.arange(0.0, 180.0 * 60.0 + 1.0, 30.0)
    noise = np.random.default_rng(5).normal(0.0, 0.1, at.size)
    air = 68.0 + 142.0 / (1.0 + np.exp(-(at / 60.0 - middle) / spread)) + noise
    two_lags = 68.0 + 160.0 * (
        1.0
        - (middle * np.exp(-at / 60 / middle) - spread * np.exp(-at / 60 / spread))
        / (middle - spread)
    )
    for log in ((at, air), (at, two_lags + noise)):
        for probed in ((), ((178, 120, ""),), ((90, 100, ""),)):
            facts = told(cut, log, probed=probed, pit=False)
            assert all(fact.state is not State.REACHED for fact in facts), (facts, probed)
