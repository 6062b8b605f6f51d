"""Which of one's own past pieces a forecast learns from, and what it takes of them."""

import pytest

from pitjournal.analysis.forecast.asked import PastCook
from pitjournal.analysis.forecast.own_past import past_of, right_by_feel, usual_off
from pitjournal.domain.blocks import Value
from pitjournal.journal.queries.values import Row
from tests.analysis.trends.frames import frame_of

HOUR = 3600.0
KNOWN: dict[str, Value] = {"thickness": 0.04, "to_60": 2 * HOUR, "to_90": 5 * HOUR, "wrap": "foil"}


def a_past(cook: str, day: int, *, cooker: str = "drum", pit: float | None = 110.0) -> list[Row]:
    """Return a cook of a day in May with one piece of back ribs."""
    own: dict[str, Value] = {"cooker": cooker, "date": f"2026-05-{day:02}"}
    if pit is not None:
        own["set_point"] = pit
    return [(cook, cook, "cook", own), (f"{cook}.1", cook, "piece", {"cut": "back ribs", **KNOWN})]


def without(rows: list[Row], *keys: str) -> list[Row]:
    return [
        (owner, cook, level, {k: v for k, v in values.items() if k not in keys})
        for owner, cook, level, values in rows
    ]


def asked(rows: list[Row], skip: str = "", cooker: str = "drum") -> list[float]:
    """Return the set points of what is learnt from: they tell the cooks apart."""
    return [one.set_point for one in past_of(frame_of(rows), "baby back ribs", cooker, skip)]


def test_that_a_past_piece_is_told_in_minutes_with_its_wrap() -> None:
    rows = a_past("a", 1)
    rows[1][3].update({"time_to_wrap": 2.5 * HOUR, "mass_on": 900.0})  # type: ignore[attr-defined] # a dict here
    (one,) = past_of(frame_of(rows), "back ribs", "drum", "")
    assert one == PastCook(0.04, 900.0, 110.0, "foil", 150.0, ((60.0, 120.0), (90.0, 300.0)))


@pytest.mark.parametrize("lacks", ["thickness", "set_point"])
def test_that_a_piece_whose_body_or_pit_is_not_known_teaches_nothing(lacks: str) -> None:
    assert asked(without(a_past("a", 1), lacks)) == []


def test_that_one_of_two_marks_is_enough_and_none_is_too_little() -> None:
    assert asked(without(a_past("a", 1), "to_60")) == []
    other = a_past("a", 1)
    other[1][3].update({"to_71": 3 * HOUR})  # type: ignore[attr-defined] # a dict here
    assert asked(without(other, "to_60")) == [110.0]


def test_that_three_of_this_cooker_are_enough_without_the_others_and_two_are_not() -> None:
    mine = [row for n in range(3) for row in a_past(f"m{n}", n + 1, pit=101.0 + n)]
    other = a_past("o", 9, cooker="offset", pit=130.0)
    assert asked([*mine, *other]) == [101.0, 102.0, 103.0]
    assert asked([*mine[:4], *other]) == [101.0, 102.0, 130.0]
    assert asked([*mine, *other], skip="m1") == [101.0, 103.0, 130.0]


def test_that_the_sixteen_newest_by_day_are_taken_each_once() -> None:
    days = [5, 1, 20, 3, *range(6, 20), 2, 4]
    rows = [row for day in days for row in a_past(f"c{day}", day, pit=100.0 + day)]
    twice = ("c20.2", "c20", "piece", {"cut": "back ribs", **KNOWN})
    assert asked([*rows, twice]) == [100.0 + day for day in range(5, 21)]


def test_that_what_came_off_right_is_told_by_quarters_of_at_least_three() -> None:
    """Felt 3 to 5 is right (the trade's scale): of 88, 90, 92, 94 and 96 °C the 2 and the 6 go."""
    rows: list[Row] = []
    for number, (inside, feel) in enumerate([(88, 3), (90, 4), (92, 5), (94, 2), (96, 6)]):
        values: dict[str, Value] = {"internal_off": float(inside), "feel_off": float(feel)}
        cook = f"c{number}"
        rows += [(cook, cook, "cook", {}), (f"{cook}.1", cook, "piece", {"cut": "ribs", **values})]
    right = right_by_feel(frame_of(rows), "ribs", "")
    assert right is not None
    assert (right.low, right.middle, right.high, right.pieces) == (89.0, 90.0, 91.0, 3)
    assert right_by_feel(frame_of(rows), "ribs", "c1") is None
    assert usual_off(frame_of(rows), "ribs", "") == 92.0
    assert usual_off(frame_of(rows), "ribs", "c4") == 91.0
    assert usual_off(frame_of(rows[:4]), "ribs", "") is None
    assert usual_off(frame_of(rows), "brisket", "") is None
