"""How long things take: in one's own past cooks like the planned one, else by the trade."""

from statistics import median

import pytest

from pitjournal.analysis.plan.durations import PREHEAT, Like, past_span, trade_rest, trade_time_on
from pitjournal.journal.queries.values import Row
from tests.analysis.trends.frames import frame_of

HOUR = 3600.0


def ribs(cook: str, *hours: float, cooker: str = "drum", heat: float = 120.0) -> list[Row]:
    own: Row = (cook, cook, "cook", {"cooker": cooker, "set_point": heat})
    pieces: list[Row] = [
        (f"{cook}.{place}", cook, "piece", {"cut": "back ribs", "time_on": hour * HOUR})
        for place, hour in enumerate(hours)
    ]
    return [own, *pieces]


def test_that_a_span_is_the_least_the_middle_and_the_most_of_cooks() -> None:
    # Cook by cook the median of its racks: 4, 5 (of 4, 5 and 9), 6 and 8 h; their median is 5.5.
    frame = frame_of([*ribs("a", 4), *ribs("b", 5, 9, 4), *ribs("c", 6), *ribs("d", 8)])
    found = past_span(frame, "time_on", Like("back ribs", "drum", 120.0))
    assert found is not None
    assert (found.low, found.usual, found.high) == (4 * HOUR, 5.5 * HOUR, 8 * HOUR)
    assert sorted(found.values) == [4 * HOUR, 5 * HOUR, 6 * HOUR, 8 * HOUR]
    assert found.usual == median(found.values)


def test_that_the_narrowest_likeness_of_three_cooks_counts_and_two_are_too_few() -> None:
    rows = [*ribs("a", 4), *ribs("b", 5), *ribs("c", 6)]
    apart = [*ribs("x", 9, cooker="offset"), *ribs("y", 10, cooker="offset")]
    like = Like("back ribs", "drum", 120.0)
    found = past_span(frame_of([*rows, *apart]), "time_on", like)
    assert found is not None
    assert found.high == 6 * HOUR  # the offset's are less alike
    wider = past_span(frame_of([*rows[:4], *apart]), "time_on", like)
    assert wider is not None
    assert (wider.low, wider.high) == (4 * HOUR, 10 * HOUR)  # on any cooker, there are four
    assert past_span(frame_of(rows[:4]), "time_on", like) is None
    assert past_span(frame_of(rows), "time_on", like, skip="a") is None


@pytest.mark.parametrize("heat", [120.0 + 30.0, 120.0 - 30.0])
def test_that_another_heat_is_less_alike(heat: float) -> None:
    rows = [row for name, hour in (("a", 4), ("b", 5), ("c", 6)) for row in ribs(name, hour)]
    hot = [row for name in ("x", "y", "z") for row in ribs(name, 2, heat=heat)]
    found = past_span(frame_of([*rows, *hot]), "time_on", Like("back ribs", "drum", 120.0))
    assert found is not None
    assert found.low == 4 * HOUR


def test_that_the_trade_has_a_range_and_its_least_lies_below_its_most() -> None:
    # Common practice, no source: five minutes to half an hour for a cut nobody knows.
    rest = trade_rest("something unheard of")
    assert (rest.low, rest.high) == (300.0, 1800.0)
    span = trade_time_on("back ribs", None)
    assert span is not None
    assert 2 * HOUR < span.low < span.usual < span.high < 9 * HOUR


def test_that_a_pit_is_given_half_an_hour_to_an_hour_to_come_up() -> None:
    """Common practice, no source."""
    assert (PREHEAT.low, PREHEAT.high) == (0.5 * HOUR, HOUR)
