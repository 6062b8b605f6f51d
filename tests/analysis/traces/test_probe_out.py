"""A probe that came out of the meat is found, on simulated traces whose truth is known."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.analysis.traces.probe_out import _joins, out_of_meat
from pitjournal.domain.samples import Samples

START, HOURS = 1.7e9, 6.0
OFF = START + HOURS * 3600


def a_meat(step: float = 30.0, seed: int = 1) -> tuple[np.ndarray, np.ndarray]:
    """Return times and values of a meat that nears 100 °C from 4 °C as a lumped body would."""
    times = START + np.arange(0.0, HOURS * 3600 + 1, step)
    values = 4.0 + 92.0 * (1 - np.exp(-(times - START) / 6000.0))
    return times, values + np.random.default_rng(seed).normal(0, 0.2, times.size)


def settling(times: np.ndarray, start: float, before: float, after: float) -> np.ndarray:
    """Return what a thin probe reads after it moves: most of the way within a minute."""
    return after + (before - after) * np.exp(-np.maximum(times - start, 0) / 20.0)


def found(times: np.ndarray, values: np.ndarray) -> tuple[tuple[float, float], ...]:
    return out_of_meat(Samples(times, values.astype(np.float32)), START, OFF)


@settings(max_examples=25, deadline=None)
@given(step=st.sampled_from([1.0, 10.0, 30.0, 60.0, 120.0]), seed=st.integers(0, 99))
def test_that_a_probe_that_stays_in_is_never_out(step: float, seed: int) -> None:
    assert found(*a_meat(step, seed)) == ()


@settings(max_examples=25, deadline=None)
@given(
    step=st.sampled_from([2.0, 15.0, 30.0, 60.0]),
    out=st.floats(1.0, 3.0),
    minutes=st.floats(8.0, 90.0),
    level=st.sampled_from([20.0, 121.0, 150.0]),
)
def test_that_a_probe_put_back_was_out_between(
    step: float, out: float, minutes: float, level: float
) -> None:
    times, values = a_meat(step)
    begin, end = START + out * 3600, START + out * 3600 + minutes * 60
    away = (times >= begin) & (times < end)
    values[away] = settling(times[away], begin, values[away][0], level)
    spans = found(times, values)
    assert spans, "it was out"
    assert spans[0][0] == pytest.approx(begin, abs=150)
    assert spans[-1][1] == pytest.approx(end, abs=150)


def test_that_a_probe_left_lying_in_the_air_is_out_to_the_end() -> None:
    times, values = a_meat()
    begin = START + 2.5 * 3600
    away = times >= begin
    values[away] = settling(times[away], begin, values[away][0], 18.0)
    ((start, end),) = found(times, values)
    assert start == pytest.approx(begin, abs=90)
    assert end == times[-1]


def test_that_what_it_read_before_it_went_in_is_no_meat() -> None:
    times, values = a_meat()
    early = times < START + 600
    values[early] = 24.0
    ((start, end),) = found(times, values)
    assert start == times[0]
    assert end == pytest.approx(START + 600, abs=90)


def test_that_what_is_joined_rose_no_faster_than_meat_between() -> None:
    """A hundredth of a degree a second at most, 60 °C at most, 10 °C either way for the hand."""
    for gap, risen, joined in (
        (60.0, 10.5, True),
        (60.0, 12.0, False),
        (3000.0, 39.0, True),
        (3000.0, 41.0, False),
        (9000.0, 69.0, True),
        (9000.0, 71.0, False),
        (60.0, -10.0, True),
        (60.0, -10.5, False),
    ):
        grid, level = np.array([START, START + gap]), np.array([50.0, 50.0 + risen])
        assert _joins(grid, level, 0, 1) is joined
