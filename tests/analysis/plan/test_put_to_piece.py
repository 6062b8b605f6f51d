"""Past times put to a planned piece: by a known law, and beside the bare middle on invented cooks."""

import math
from statistics import median

import numpy as np
import pytest

from pitjournal.analysis.plan.durations import Like, past_span
from pitjournal.analysis.plan.put_to_piece import put_to_piece
from pitjournal.journal.queries.values import Row
from pitjournal.science.arrays import Array
from tests.analysis.trends.frames import frame_of
from tests.benchmarks.juice_simulator import kitchen, simulate

PIECES = np.array(
    [
        [0.100, 3000.0, 107.0],
        [0.120, 4000.0, 110.0],
        [0.110, 3300.0, 121.0],
        [0.125, 4500.0, 115.0],
        [0.095, 2500.0, 112.0],
    ]
)


def _law(pieces: Array) -> Array:
    thick, mass, heat = pieces.T
    found: Array = 3e4 * (thick / 0.1) ** 0.8 * (mass / 3000.0) ** 0.2 * (50.0 / (heat - 65.0))
    return found


def test_that_a_law_of_powers_is_found_and_carried_on() -> None:
    # Near what it is held to, so that five cooks without scatter all but give it back.
    here = np.array([[0.115, 3500.0, 125.0]])
    put, by = put_to_piece(_law(PIECES), PIECES, (0.115, 3500.0, 125.0))
    assert put == pytest.approx(np.full(5, float(_law(here)[0])), rel=0.04)
    assert by == ("thickness", "weight", "heat")


def test_that_what_nobody_knows_moves_nothing() -> None:
    times, blank = _law(PIECES), np.full((5, 3), np.nan)
    alike = np.tile(PIECES[:1], (5, 1))
    for pieces, here in (
        (blank, (0.115, 3500.0, 125.0)),
        (PIECES, (None, None, None)),
        (alike, (0.100, 3000.0, 107.0)),
    ):
        put, by = put_to_piece(times, pieces, here)
        assert put == pytest.approx(times)
        assert not by
    some = PIECES.copy()
    some[2:, 0] = np.nan  # two thicknesses are too few
    _, by = put_to_piece(times, some, (0.115, 3500.0, 125.0))
    assert by == ("weight", "heat")


def test_that_times_lie_no_closer_together_for_having_been_put_to_a_far_piece() -> None:
    scattered = _law(PIECES) * np.array([1.1, 0.9, 1.05, 0.95, 1.0])
    near, _ = put_to_piece(scattered, PIECES, (0.110, 3400.0, 113.0))
    far, _ = put_to_piece(scattered, PIECES, (0.060, 1000.0, 160.0))
    assert np.std(np.log(far)) > np.std(np.log(near)) > 0.0


def test_that_it_comes_nearer_than_the_middle_of_past_cooks() -> None:
    # Cooks of a model that shares no law with it: each from the other eleven of its person.
    bare, put = [], []
    for seed in (0, 1, 3):
        cooks = simulate(kitchen(seed, "chicken thighs"), 12, seed, 2.0)
        pieces = np.column_stack((cooks.thickness / 1000.0, cooks.mass, cooks.set_point))
        for one in range(12):
            rest = np.arange(12) != one
            times, truth = cooks.marks[1, rest], cooks.marks[1, one]
            moved, _ = put_to_piece(times, pieces[rest], tuple(map(float, pieces[one])))
            bare.append(abs(math.log(median(times) / truth)))
            put.append(abs(math.log(float(np.median(moved)) / truth)))
    assert np.mean(put) < 0.9 * np.mean(bare)


def test_that_a_plan_says_what_it_reckoned_over() -> None:
    rows: list[Row] = []
    for number, (thick, mass, heat) in enumerate(PIECES.tolist()):
        name, time = f"cook {number}", float(_law(PIECES)[number])
        rows.append((name, name, "cook", {"set_point": heat, "cooker": "drum"}))
        piece = {"cut": "pork butt", "time_on": time, "thickness": thick, "mass_on": mass}
        rows.append((f"{name}.1", name, "piece", piece))
    planned = Like("pork butt", "drum", 118.0, 0.121, 4200.0)
    found = past_span(frame_of(rows), "time_on", planned)
    assert found is not None
    assert found.words.startswith("from 3 cooks of this cut on this cooker near this heat as thick")
    assert found.words.endswith(", reckoned for this thickness, weight and heat")
    assert found.usual == pytest.approx(
        float(_law(np.array([[0.121, 4200.0, 118.0]]))[0]), rel=0.05
    )
