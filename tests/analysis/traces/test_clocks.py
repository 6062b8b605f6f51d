"""A logger's clock is put right, on simulated pits whose true shift is known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.analysis.traces.clocks import LEAST_APART, clock_through, propose_shift
from pitjournal.analysis.traces.pit import lid_dips
from pitjournal.domain.samples import Samples

OPENINGS = [1800.0, 4200.0, 5100.0, 8000.0, 11000.0]


def a_pit(openings: list[float], shift: float = 0.0, seed: int = 1) -> Samples:
    """Return a pit at 120 °C that falls at each opening and recovers, by a clock that is off."""
    times = np.arange(0.0, 14_400.0, 20.0)
    values = 120.0 + np.random.default_rng(seed).normal(0.0, 0.4, times.size)
    for opening in openings:
        since = times - opening
        dip = np.where((since >= 0) & (since < 60), -30.0 * since / 60, 0.0)
        back = np.where(since >= 60, -30.0 * np.exp(-(since - 60) / 240.0), 0.0)
        values += dip + back
    return Samples(1.7e9 + times - shift, values.astype(np.float32))


def test_that_each_opening_is_a_dip() -> None:
    found = lid_dips(a_pit(OPENINGS)) - 1.7e9
    assert found == pytest.approx(OPENINGS, abs=60.0)


def test_that_a_steady_pit_has_no_dips() -> None:
    assert lid_dips(a_pit([])).size == 0


@settings(max_examples=30, deadline=None)
@given(shift=st.floats(-3000, 3000), missed=st.integers(0, 2), seed=st.integers(0, 50))
def test_that_a_shifted_clock_is_found(shift: float, missed: int, seed: int) -> None:
    logged = [1.7e9 + opening for opening in OPENINGS[missed:]]
    found = propose_shift(lid_dips(a_pit(OPENINGS, shift, seed)), logged)
    assert found is not None
    assert found.shift == pytest.approx(shift, abs=60.0)
    assert found.matched >= len(OPENINGS) - missed
    assert found.dips == len(OPENINGS)


def test_that_one_opening_proposes_nothing() -> None:
    assert propose_shift([100.0], [160.0]) is None
    assert propose_shift([], []) is None


def test_that_shared_moments_give_shift_and_drift_and_one_a_shift_alone() -> None:
    """A device 40 s behind at its start that loses 2 s an hour: by hand."""
    start = 1.7e9
    pairs = [(start + h * 3600.0, start + h * 3600.0 + 40.0 + 2.0 * h) for h in (0.0, 1.5, 4.0)]
    found = clock_through(pairs, start)
    assert found is not None
    shift, drift = found
    assert shift == pytest.approx(40.0, abs=1e-3)
    assert drift == pytest.approx(2.0 / 3600.0, rel=1e-4)
    assert clock_through(pairs[1:2], start) == (43.0, 0.0)
    assert clock_through([], start) is None


def test_that_moments_too_near_each_other_tell_no_drift() -> None:
    near = [(0.0, 5.0), (LEAST_APART - 1.0, LEAST_APART + 4.0)]
    assert clock_through(near, 0.0) is None
    far = [(0.0, 5.0), (LEAST_APART, LEAST_APART + 5.0)]
    assert clock_through(far, 0.0) is not None
