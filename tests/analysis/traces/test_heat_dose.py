"""What heat a trace holds, against analytic lethality vectors and hand arithmetic."""

import numpy as np
import pytest
from numpy.typing import NDArray

from pitjournal.analysis.traces.facts import meat_facts
from pitjournal.analysis.traces.features import carry_over
from pitjournal.analysis.traces.heat_dose import cooling, lethality, time_between, time_in_danger
from pitjournal.domain.samples import Samples
from tests.science.reference import rows

START = 1.7e9


def sampled(row: dict[str, str]) -> Samples:
    """Return a profile of the vectors as a log with the row's interval, or at its vertices."""
    profile = [
        r for r in rows("process_lethality_profiles") if r["profile_id"] == row["profile_id"]
    ]
    minutes = np.array([float(r["time_min"]) for r in profile])
    degrees = np.array([float(r["temp_C"]) for r in profile])
    step = row["sample_interval_min"]
    at = np.append(np.arange(0.0, minutes[-1], float(step)), minutes[-1]) if step else minutes
    return Samples(START + at * 60.0, np.interp(at, minutes, degrees).astype(np.float32))


MINUTES = [
    row
    for row in rows("process_lethality_vectors")
    if row["model_id"] == "F_meat_70C_z5p5556"
    and row["sample_interval_min"] in {"0.1", "1.0", "5.0"}
]


@pytest.mark.parametrize("row", MINUTES, ids=lambda row: row["profile_id"])
def test_that_a_trace_holds_the_lethality_of_the_vectors(row: dict[str, str]) -> None:
    # Analytic, computed to 40 digits; readings are kept in 32 bits, so 1e-5.
    samples = sampled(row)
    found = lethality(samples, samples.times[0], samples.times[-1])
    assert found is not None
    assert found.value / 60.0 == pytest.approx(float(row["F_loglinear_per_segment_min"]), rel=1e-5)
    exact = float(row["F_exact_min"])
    assert found.least / 60.0 <= exact * (1 + 1e-5)
    assert exact * (1 - 1e-5) <= found.most / 60.0


def test_that_a_gap_over_a_quarter_of_an_hour_leaves_it_unknown() -> None:
    times = START + np.array([0.0, 60.0, 1100.0, 1160.0])
    samples = Samples(times, np.full(4, 70.0, dtype=np.float32))
    assert lethality(samples, times[0], times[-1]) is None
    assert time_in_danger(samples, times[0], times[-1]) is None


def test_that_a_straight_rise_is_in_the_band_for_its_share() -> None:
    # 0 to 100 °C in 100 min: 4 to 60 °C takes 56 min; a flat hour at 50 °C lies in it whole.
    assert time_between(np.array([0.0, 6000.0]), np.array([0.0, 100.0]), 4, 60) == pytest.approx(
        3360
    )
    assert time_between(np.array([0.0, 3600.0]), np.array([50.0, 50.0]), 4, 60) == 3600
    assert time_between(np.array([0.0, 3600.0]), np.array([70.0, 70.0]), 4, 60) == 0


def test_that_cooling_counts_from_the_last_fall_through_its_top() -> None:
    # 90 °C falls 1 K in 2 min: 57 °C after 66 min, 21 °C 72 min later, 5 °C 104 min later.
    times = START + np.arange(0.0, 200 * 60.0, 60.0)
    samples = Samples(times, (90.0 - (times - START) / 120.0).astype(np.float32))
    found = cooling(samples, START, 57.0, 21.0, 5.0)
    assert found is not None
    assert found.first == pytest.approx(72 * 60, abs=1)
    assert found.second == pytest.approx(104 * 60, abs=1)
    assert found.known
    half = cooling(Samples(times[:140], samples.values[:140]), START, 57.0, 21.0, 5.0)
    assert half is not None  # it goes to 20.5 °C: the rest is not seen
    assert (half.first, half.second) == (found.first, None)
    assert half.lasted == pytest.approx((139 - 66) * 60, abs=1)
    assert cooling(Samples(times[:60], samples.values[:60]), START, 57.0, 21.0, 5.0) is None


def test_that_carry_over_is_the_peak_after_coming_off() -> None:
    times = START + np.arange(0.0, 7200.0, 60.0)
    values = np.interp(times - START, [0, 3600, 4500, 7200], [60, 93, 97, 70])
    samples = Samples(times, values.astype(np.float32))
    assert carry_over(samples, START + 3600) == pytest.approx(4.0, abs=0.1)
    assert carry_over(Samples(times[:62], values[:62].astype(np.float32)), START + 3600) is None


def test_what_a_probe_read_elsewhere_adds_no_heat_and_no_time() -> None:
    # Hand arithmetic: a rise of 30 K in each of three hours, 10 to 100 °C at most 80 °C here.
    times = np.arange(0.0, 10801.0, 60.0)
    values = np.minimum(10.0 + 30.0 * times / 3600.0, 80.0)
    plain = {f.key: f.value for f in meat_facts(_log(times, values), 0.0, 10800.0)}
    spiked = values.copy()
    spiked[[40, 90]] = (95.0, 400.0)
    spiked[150:155] = 99.0  # lifted out into the pit for five minutes
    after = {f.key: f.value for f in meat_facts(_log(times, spiked), 0.0, 10800.0)}
    assert plain["to_60"] == pytest.approx(6000.0, abs=1.0)  # 50 K at 30 K an hour
    for key in ("to_60", "to_71", "time_4_60", "lethality", "cook_value"):
        assert after[key] == pytest.approx(plain[key], rel=0.02), key
    assert after["to_90"] is None


def _log(times: NDArray[np.float64], values: NDArray[np.float64]) -> Samples:
    return Samples(times, values.astype(np.float32))
