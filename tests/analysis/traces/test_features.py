"""What a trace says, on simulated traces whose truth is known by construction."""

import numpy as np
import pytest
from numpy.typing import NDArray

from pitjournal.analysis.traces.features import reached, rise_before, stall
from pitjournal.analysis.traces.pit import pit_over
from pitjournal.domain.samples import Samples
from pitjournal.journal.demonstration.simulation import LAYERS, STEP, Meat

MINUTE = 60.0
Array = NDArray[np.float64]


def samples(times: Array, values: Array) -> Samples:
    return Samples(times, values.astype(np.float32))


def a_climb(hold: float = 0.0, level: float = 68.0) -> Samples:
    """Climb 10 K in 10 min to a level, hold it for so many minutes, climb on to 95 °C."""
    times, values = [0.0], [4.0]
    up = (level - 4.0) * MINUTE
    times += [up, up + hold * MINUTE, up + hold * MINUTE + (95.0 - level) * MINUTE]
    values += [level, level + 0.2, 95.0]
    grid = np.arange(0.0, times[-1], 30.0)
    return samples(grid, np.interp(grid, times, values))


def test_that_a_level_is_reached_on_the_straight_line_between_readings() -> None:
    times = np.arange(0.0, 7200.0, 600.0)
    found = reached(samples(times, 20.0 + times / 100.0), 60.0, 0.0)
    assert found == pytest.approx(4000.0, abs=1.0)  # (60 − 20) × 100 s


def test_that_a_gap_over_a_quarter_of_an_hour_hides_when() -> None:
    times = np.array([0.0, 600.0, 4000.0, 4600.0])
    assert reached(samples(times, np.array([20.0, 26.0, 70.0, 76.0])), 60.0, 0.0) is None


def test_that_a_level_never_reached_is_unknown() -> None:
    times = np.arange(0.0, 3600.0, 60.0)
    assert reached(samples(times, np.full(times.size, 50.0)), 60.0, 0.0) is None


def test_that_the_last_rise_is_a_slope_over_half_an_hour() -> None:
    times = np.arange(0.0, 7200.0, 60.0)
    found = rise_before(samples(times, 40.0 + 2.0 * times / 600.0), 7000.0)
    assert found == pytest.approx(2.0 / 600.0, rel=1e-3)  # 2 K in 10 min


@pytest.mark.parametrize("hold", [40.0, 90.0, 180.0])
def test_that_a_known_stall_is_found_where_it_was_put(hold: float) -> None:
    found = stall(a_climb(hold), 0.0, (91.0 + hold) * MINUTE - 60.0)
    assert found is not None
    assert found.length == pytest.approx(hold * MINUTE, abs=10 * MINUTE)
    assert found.start == pytest.approx(64 * MINUTE, abs=8 * MINUTE)
    assert found.level == pytest.approx(68.0, abs=1.0)


def test_that_a_steady_climb_has_no_stall() -> None:
    assert stall(a_climb(0.0), 0.0, 90 * MINUTE) is None


def test_that_noise_and_a_lid_dip_make_no_stall() -> None:
    rng = np.random.default_rng(7)
    climb = a_climb(0.0)
    values = climb.values.astype(np.float64) + rng.normal(0.0, 0.3, climb.values.size)
    values[100:104] -= 3.0
    assert stall(samples(climb.times, values), 0.0, 90 * MINUTE) is None


def test_that_the_pit_is_weighted_by_time_and_not_by_readings() -> None:
    # Ten minutes at 100 °C in ten readings, then ten at 120 °C in two.
    times = np.concatenate([np.arange(0.0, 600.0, 60.0), [600.0, 1200.0]])
    values = np.concatenate([np.full(10, 100.0), [120.0, 120.0]])
    found = pit_over(samples(times, values), 0.0, 1200.0, 120.0)
    assert found is not None
    assert found.mean == pytest.approx(110.0, abs=0.6)
    assert found.outside == pytest.approx(600.0, abs=61.0)  # over 15 °F under its set point


def test_that_a_pit_with_a_hole_is_unknown() -> None:
    times = np.array([0.0, 60.0, 3000.0, 3060.0])
    assert pit_over(samples(times, np.full(4, 110.0)), 0.0, 3060.0, None) is None


@pytest.mark.parametrize("hours", [5.0, 5.5, 6.0])
def test_that_the_stall_of_a_modelled_meat_ends_where_it_was_wrapped(hours: float) -> None:
    # Heat and evaporation of `journal.demonstration.simulation`, which its own tests hold to the
    # plane wall and to the wet bulb. Common practice, no source: a large cut stalls between 145
    # and 170 °F (63 and 77 °C), and a wrap ends it; left alone, this one dries and goes on after six hours.
    meat = Meat(
        half=np.array([0.034]),
        water=np.array([5.5]),
        wet=np.array([0.09]),
        layers=np.full((1, LAYERS), 4.0),
    )
    values = []
    for step in range(int(10 * 3600 / STEP)):
        cover = np.array([0.07 if step * STEP >= hours * 3600 else 1.0])
        meat.step(np.array([121.0]), np.array([17.0]), cover, 0.045)
        values.append(float(meat.middle[0]))
    times = np.arange(len(values)) * STEP
    found = stall(samples(times.astype(np.float64), np.array(values)), 0.0, float(times[-1]))
    assert found is not None
    assert found.start + found.length == pytest.approx(hours * 3600, abs=20 * MINUTE)
    assert 62.0 < found.level < 77.0


def test_that_a_stall_that_had_not_ended_is_told_as_such() -> None:
    # A climb to 68 °C that is held for three hours; the meat comes off after one of them.
    climb = a_climb(180.0)
    cut = stall(climb, 0.0, (64.0 + 60.0) * MINUTE)
    assert cut is not None
    assert not cut.ended
    assert cut.length == pytest.approx(60 * MINUTE, abs=10 * MINUTE)
    seen = stall(climb, 0.0, (91.0 + 180.0) * MINUTE - 60.0)
    assert seen is not None
    assert seen.ended
