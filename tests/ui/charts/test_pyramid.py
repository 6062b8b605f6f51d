"""A long line keeps its peaks at any zoom, and is not drawn where nothing was read."""

import numpy as np
from hypothesis import example, given
from hypothesis import strategies as st

from pitjournal.ui.charts.trace.min_max_pyramid import Pyramid


@example(count=600, spike=599, pixels=4, share=1.0)
@given(
    count=st.integers(1, 5000),
    spike=st.integers(0, 4999),
    pixels=st.integers(4, 400),
    share=st.floats(0.05, 1.0),
)
def test_that_a_peak_survives_every_zoom_at_its_own_time(
    count: int, spike: int, pixels: int, share: float
) -> None:
    spike %= count
    times = np.arange(count, dtype=np.float64)
    values = np.sin(times)
    values[spike] = 100.0
    start = max(0.0, spike - share * count / 2)
    length = max(share * count, 1.0)
    pyramid = Pyramid(times, values)
    drawn = pyramid.indices(start, start + length, pyramid.level(pixels / length))
    assert spike in drawn
    assert drawn.size <= 3 * pixels + 40
    assert (np.diff(drawn) >= 0).all()


@given(values=st.lists(st.floats(-1e4, 1e4), min_size=1, max_size=3000))
def test_that_every_level_reaches_from_the_least_to_the_most(values: list[float]) -> None:
    known = np.array(values)
    pyramid = Pyramid(np.arange(known.size, dtype=np.float64), known)
    for scale in (1.0, 0.1, 0.01, 0.001):
        drawn = known[pyramid.indices(-1, known.size, pyramid.level(scale))]
        assert (drawn.min(), drawn.max()) == (known.min(), known.max())
    assert pyramid.bounds == (known.min(), known.max())


def test_that_readings_beside_missing_ones_are_kept() -> None:
    values = np.full(4096, np.nan)
    values[[7, 1000, 4095]] = 10.0, 90.0, 20.0
    pyramid = Pyramid(np.arange(4096.0), values)
    drawn = pyramid.indices(0, 4096, pyramid.level(0.01))
    assert {7, 1000, 4095} <= set(drawn.tolist())
    assert pyramid.last == 20.0


def test_that_a_line_breaks_where_nothing_was_read() -> None:
    times = np.array([0.0, 60.0, 120.0, 7200.0, 7260.0])
    pyramid = Pyramid(times, np.arange(5.0))
    _, values = pyramid.points(pyramid.indices(0.0, 8000.0, 0))
    assert np.isnan(values).tolist() == [False, False, False, True, False, False]
    assert pyramid.value_at(3600.0) is None
    assert pyramid.value_at(90.0) == 1.5


def test_that_a_sparse_log_is_one_line() -> None:
    times = np.arange(0.0, 36_000.0, 1_200.0)
    pyramid = Pyramid(times, times)
    _, values = pyramid.points(pyramid.indices(0.0, 36_000.0, 0))
    assert np.isfinite(values).all()


def test_that_an_empty_line_has_nothing() -> None:
    pyramid = Pyramid(np.array([]), np.array([]))
    assert pyramid.indices(0, 10, pyramid.level(1.0)).size == 0
    assert pyramid.bounds is None
    assert pyramid.value_at(0.0) is None
