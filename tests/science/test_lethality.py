"""Sources: the integral worked to 40 digits; USDA FSIS-GD-2021-14 Table 2 (data/README.md)."""

import math
from functools import cache

import numpy as np
import pytest

from pitjournal.science.heat.lethality import (
    accumulated_lethality,
    hold_required,
    lethality_bounds,
    longest_hold,
    process_lethality,
    read_table,
)
from tests.science.reference import column, rows

ROWS = [(degrees - 32) * 5 / 9 for degrees in column("fsis_appendix_a_meat_lethality", "temp_F")]
SECONDS = column("fsis_appendix_a_meat_lethality", "t_6p5log_s")


@cache
def profile(name: str) -> tuple[list[float], list[float]]:
    vertices = [r for r in rows("process_lethality_profiles") if r["profile_id"] == name]
    return [float(v["time_min"]) for v in vertices], [float(v["temp_C"]) for v in vertices]


def sampled(row: dict[str, str]) -> tuple[list[float], list[float]]:
    times, temperatures = profile(row["profile_id"])
    if row["sample_interval_min"]:
        step = float(row["sample_interval_min"])
        at = [i * step for i in range(int(times[-1] / step + 1e-9) + 1)]
        if at[-1] < times[-1] - 1e-9:
            at.append(times[-1])
    else:
        at = times
    assert len(at) == int(row["n_samples"])
    return at, [float(v) for v in np.interp(at, times, temperatures)]


@pytest.mark.parametrize("row", rows("process_lethality_vectors"))
def test_that_each_segment_is_integrated_exactly(row: dict[str, str]) -> None:
    log = sampled(row)
    reference, z = float(row["T_ref_C"]), float(row["z_C"])
    got = process_lethality(*log, reference, z)
    assert got == pytest.approx(float(row["F_loglinear_per_segment_min"]), rel=1e-9)
    least, most = lethality_bounds(*log, reference, z)
    assert most is not None
    assert least <= got * (1 + 1e-12)
    assert got <= most * (1 + 1e-12)
    if "ramp_40" in row["profile_id"] or "ramp_50" in row["profile_id"]:
        assert least == pytest.approx(float(row["F_left_rectangle_min"]), rel=1e-9)


def test_that_dense_readings_reach_the_exact_value() -> None:
    for row in rows("process_lethality_vectors"):
        if row["sample_interval_min"] == "0.1":
            got = process_lethality(*sampled(row), float(row["T_ref_C"]), float(row["z_C"]))
            assert got == pytest.approx(float(row["F_exact_min"]), rel=1e-6)


def test_that_lethality_gathers_to_its_end() -> None:
    at, reached = accumulated_lethality(*profile("slow_smoke_pork"), 70.0, 50 / 9)
    assert at.size == reached.size
    assert reached[0] == 0
    assert np.all(np.diff(reached) >= 0)
    assert reached[-1] == pytest.approx(
        process_lethality(*profile("slow_smoke_pork"), 70.0, 50 / 9)
    )


def test_that_a_silence_leaves_the_most_unknown() -> None:
    least, most = lethality_bounds([0, 1, 100, 101], [70.0] * 4, 70.0, 5.0, longest_gap=10)
    assert least == pytest.approx(2.0)
    assert most is None


def test_that_a_log_of_nothing_has_no_lethality() -> None:
    assert process_lethality([], [], 70.0, 5.0) == 0
    assert process_lethality([0.0, 1.0], [math.nan, 60.0], 70.0, 5.0) == 0
    assert lethality_bounds([0.0], [60.0], 70.0, 5.0) == (0.0, None)
    at, reached = accumulated_lethality([], [], 70.0, 5.0)
    assert (at.size, reached.size) == (0, 0)
    assert process_lethality([0.0, 1.0], [9999.0, 0.0], 70.0, 5.0) == math.inf


def test_that_times_and_temperatures_must_match() -> None:
    with pytest.raises(ValueError, match="temperatures"):
        process_lethality([0.0], [], 70.0, 5.0)


@pytest.mark.parametrize("row", rows("fsis_interpolation_vectors"))
def test_that_the_table_is_read_by_the_row_below(row: dict[str, str]) -> None:
    got = hold_required((float(row["temp_F"]) - 32) * 5 / 9, ROWS, SECONDS)
    assert got == (float(row["t_6p5log_s_row_below"]) if row["t_6p5log_s_row_below"] else None)


@pytest.mark.parametrize("row", rows("fsis_appendix_a_meat_lethality"))
def test_that_a_reading_kept_in_32_bits_still_finds_its_row(row: dict[str, str]) -> None:
    kept = float(np.float32((float(row["temp_F"]) - 32) * 5 / 9))
    assert hold_required(kept, ROWS, SECONDS) == float(row["t_6p5log_s"])


def test_that_a_hold_counts_only_between_readings_at_the_level() -> None:
    times = [0.0, 60.0, 120.0, 180.0, 240.0, 300.0]
    temperatures = [59.0, 60.0, 61.0, 60.0, 59.9, 60.5]
    assert longest_hold(times, temperatures, 60.0) == 120.0
    assert longest_hold(times, temperatures, 60.0, longest_gap=30.0) == 0.0
    assert longest_hold(times, temperatures, 60.4) == 0.0
    assert longest_hold(times, temperatures, 62.0) is None


def test_that_four_minutes_at_145_reach_the_table_and_three_do_not() -> None:
    """FSIS-GD-2021-14 Table 2: 145 °F for 4 min (6.5-log)."""
    level = (145 - 32) * 5 / 9
    four = read_table([0.0, 240.0], [level, level], ROWS, SECONDS)
    assert (four.reached, four.held) == (True, 240.0)
    assert four.row is not None
    assert SECONDS[four.row] == 240
    three = read_table([0.0, 180.0], [level, level], ROWS, SECONDS)
    assert three.reached is False
    assert three.held == 180.0


def test_that_one_reading_at_158_reaches_the_table() -> None:
    """FSIS-GD-2021-14 Table 2: instantaneous from 158 °F."""
    assert read_table([0.0], [70.0], ROWS, SECONDS).reached is True
    assert read_table([0.0], [69.9], ROWS, SECONDS).reached is False


def test_that_a_lower_row_can_be_reached_when_the_top_one_is_not() -> None:
    """112 min at 130 °F reach Table 2, whatever a short peak above did not."""
    low = (130 - 32) * 5 / 9
    got = read_table([0.0, 6700.0, 6720.0], [low, low, low + 5], ROWS, SECONDS)
    assert (got.reached, got.row) == (True, 0)


def test_that_no_reading_is_unknown_and_a_cold_one_is_not_reached() -> None:
    assert read_table([], [], ROWS, SECONDS).reached is None
    cold = read_table([0.0, 1e6], [50.0, 50.0], ROWS, SECONDS)
    assert (cold.reached, cold.row, cold.held) == (False, None, None)
