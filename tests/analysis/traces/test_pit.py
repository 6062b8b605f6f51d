"""What the pit's trace says, on simulated pits whose truth is known by construction."""

import numpy as np
import pytest

from pitjournal.analysis.traces.pit import lid_recoveries, matched, pit_over
from pitjournal.domain.samples import Samples

START = 1.7e9
END = START + 4 * 3600


def a_pit(openings: list[float], level: float = 121.0) -> Samples:
    """Return a pit that falls 40 K in a minute at each opening and is back within ten."""
    times = START + np.arange(0.0, 4 * 3600 + 1, 15.0)
    values = np.full(times.size, level)
    for opening in openings:
        since = times - START - opening
        values += np.interp(since, [0, 60, 600], [0, -40, 0], left=0, right=0)
    return Samples(times, values.astype(np.float32))


def test_that_a_recovery_runs_from_the_lid_until_the_pit_is_back() -> None:
    ((begin, back),) = lid_recoveries(a_pit([3600.0]))
    assert begin == pytest.approx(START + 3600, abs=15)
    # Back within 3 K of 121 °C: 540 s × (1 − 3/40) after the bottom, by the straight line.
    assert back == pytest.approx(START + 3660 + 540 * 37 / 40, abs=16)


def test_that_lid_recoveries_do_not_count_as_a_pit_that_ran_cold() -> None:
    found = pit_over(a_pit([1800.0, 5400.0, 9000.0]), START, END, 121.0)
    assert found is not None
    assert found.mean == pytest.approx(121.0, abs=0.1)
    assert found.spread < 0.5
    assert found.outside == 0.0
    assert len(found.dips) == 3
    assert found.recovering == pytest.approx(3 * (60 + 540 * 37 / 40), abs=60)


def test_that_a_pit_that_stays_low_is_a_low_pit() -> None:
    times = START + np.arange(0.0, 4 * 3600 + 1, 15.0)
    values = np.where(times < START + 7200, 121.0, 95.0)
    found = pit_over(Samples(times, values.astype(np.float32)), START, END, 121.0)
    assert found is not None
    # Two hours at 95 °C, less the 20 min that the fall may be a lid's.
    assert found.outside == pytest.approx(7200 - 1200, abs=60)


def test_that_each_opening_is_met_once() -> None:
    assert matched([100.0, 160.0, 5000.0], [130.0, 4950.0]) == 2
    assert matched([100.0], []) == 0


def test_that_a_pit_that_falls_back_from_an_overshoot_has_had_no_lid_open() -> None:
    # 20 K above its set point each half hour, and back within four minutes.
    times = START + np.arange(0.0, 4 * 3600 + 1, 15.0)
    values = 121.0 + np.interp((times - START) % 1800, [0, 300, 540, 1800], [0, 20, 0, 0])
    assert lid_recoveries(Samples(times, values.astype(np.float32))) == []
