"""Air that warms slowly is never taken for the meat, with a probe in the pit's air or without.

Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, 5.1: what takes up heat at once follows
one exponential. 5.5: the middle of a body lags behind it. 165 °F: Food Code 3-401.11(A)(3).
"""

import itertools

import numpy as np
import pytest

from pitjournal.analysis.safety.states import State
from pitjournal.analysis.traces.first_order import AS_AIR, LIKE_AIR, warms_as_air
from tests.analysis.meat_in_a_pit import Where, cooks
from tests.analysis.test_no_false_reached import OFF, Readings, all_through, told
from tests.analysis.test_probe_in_the_air import surely_reached
from tests.analysis.test_probe_in_the_air import told as told_of

CURVES = list(itertools.product((15, 30, 50, 90, 150), (185, 225, 250), (0.1, 0.5, 1.5)))


def air(tau: float, top: float, noise: float, step: float) -> Readings:
    """Return times, s, and °F of air with one time constant, min."""
    at = np.arange(0.0, OFF * 60.0 + 1.0, step)
    stray = np.random.default_rng(int(tau + top)).normal(0.0, noise, at.size)
    return at, 60.0 + (top - 60.0) * (1.0 - np.exp(-at / 60.0 / tau)) + stray


@pytest.mark.parametrize("pit", [True, False])
@pytest.mark.parametrize("step", [20.0, 60.0, 300.0, 600.0])
def test_air_that_warms_slowly_reaches_nothing(step: float, pit: bool) -> None:
    for tau, top, noise in CURVES:
        facts = told("chicken breast", air(tau, top, noise, step), pit=pit)
        assert all_through(facts) is not State.REACHED, (tau, top, noise)


def test_the_reason_is_said_in_a_cooks_words() -> None:
    facts = told("chicken breast", air(40.0, 200.0, 0.2, 60.0), pit=False)
    assert all_through(facts) is State.UNKNOWN
    assert AS_AIR in next(fact.fact for fact in facts if "all through" in fact.fact)
    facts = told("chicken breast", air(40.0, 200.0, 0.2, 60.0))
    assert all_through(facts) is State.UNKNOWN
    assert LIKE_AIR in next(fact.fact for fact in facts if "all through" in fact.fact)


def test_a_straight_climb_and_one_that_lags_are_not_first_order() -> None:
    at = np.arange(0.0, 181.0)
    assert not warms_as_air(60.0 * at, 5.0 + 75.0 * at / 180.0)
    lagged = 110.0 - 105.0 * (1.0 + at / 45.0) * np.exp(-at / 45.0)
    assert not warms_as_air(60.0 * at, lagged)


def test_what_was_truly_reached_without_a_pit_channel_is_said_in_93_of_100_cooks() -> None:
    made = cooks(1200, 206, (Where.HONEST,))
    honest = [cook for cook in made if surely_reached(cook) and not cook.has_pit]
    said = [
        next(fact for fact in told_of(cook) if "all through" in fact.fact).state is State.REACHED
        for cook in honest
    ]
    assert len(honest) >= 50
    assert sum(said) >= 0.93 * len(said)
