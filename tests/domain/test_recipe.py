"""Recipes are lines that scale, by hand arithmetic; curing salt never does."""

import pytest

from pitjournal.domain.recipe import (
    cures,
    lines_of,
    note_of,
    parts_of,
    scaled,
    share_of,
    speaks_of_cure,
)
from pitjournal.units import UnitSystem

METRIC = UnitSystem.METRIC
BRINE = lines_of(
    {
        "lines": [
            ["water", "1 L"],
            ["salt", "50 g"],
            ["brown sugar", "1 oz"],
            ["curing salt 6.25 %", "12 g"],
        ]
    }
)


def test_that_older_parts_are_read_as_lines_and_their_text_stays_as_a_note() -> None:
    shares = {"parts": {"stock": 0.96, "salt": 0.04}}
    assert parts_of(lines_of(shares)) == {"stock": 0.96, "salt": 0.04}
    assert [line.written for line in lines_of(shares)] == ["stock 96 %", "salt 4 %"]
    text = {"parts": "stock 960 g, salt 25 g, cane sugar 1 oz"}
    by_weight = {"stock": 960.0, "salt": 25.0, "cane sugar": 28.349523125}
    assert parts_of(lines_of(text)) == pytest.approx(by_weight)
    assert note_of(text) == "stock 960 g, salt 25 g, cane sugar 1 oz"
    for words in ("a bit of this", "stock 960 furlongs"):
        assert lines_of({"parts": words}) == ()
        assert note_of({"parts": words}) == words
    assert lines_of({}) == ()
    assert note_of({"parts": "old", "note": "new"}) == "new"


def test_that_lines_scale_each_in_its_own_unit_and_curing_salt_does_not() -> None:
    # 1000 g of water, 50 g of salt and 28.35 g of sugar; twice as much of each.
    assert sum(parts_of(BRINE).values()) == pytest.approx(1078.35, abs=0.01)
    assert scaled(BRINE, 2.0, METRIC) == ["water 2.00 L", "salt 100 g", "brown sugar 2.0 oz"]
    # Who reads pounds still sees litres and grams where these were typed.
    assert scaled(BRINE, 2.0, UnitSystem.US) == scaled(BRINE, 2.0, METRIC)
    quart = lines_of({"lines": [["water", "1 qt"]]})
    assert scaled(quart, 2.0, METRIC) == ["water 2 qt"]  # in the unit that was typed
    assert cures(BRINE) == ["curing salt 6.25 % 12 g"]


@pytest.mark.parametrize(
    "name",
    ["curing salt", "Pink salt", "sodium nitrite", "saltpetre", "cure no. 1", "potassium nitrate"],
)
def test_that_curing_salt_is_known_by_its_names(name: str) -> None:
    lines = lines_of({"lines": [["water", "1 kg"], [name, "3 g"]]})
    assert cures(lines) == [f"{name} 3 g"]
    assert scaled(lines, 2.0, METRIC) == ["water 2.00 kg"]
    assert name not in parts_of(lines)


def test_that_shares_are_told_only_where_they_are_known_by_weight() -> None:
    lines = lines_of({"lines": [["water", "950 g"], ["salt", "50 g"]]})
    assert share_of(lines, "salt") == pytest.approx(0.05)
    spoons = lines_of({"lines": [["water", "950 g"], ["salt", "3 tbsp"]]})
    assert share_of(spoons, "salt") is None
    taste = lines_of({"lines": [["water", "950 g"], ["pepper", "to taste"]]})
    assert parts_of(taste) == {}
    assert parts_of(lines_of({"lines": [["water", "95 %"], ["salt", "5 g"]]})) == {}


@pytest.mark.parametrize(
    "words",
    [
        "curing salt",
        "pink curing salt #1",
        "Cure no. 2",
        "pink powder #2",
        "Nitritpökelsalz 30 g/kg",
        "Poekelsalz",
        "sal de cura",
        "saltpetre",
    ],
)
def test_curing_salt_is_known_by_what_the_trade_calls_it(words: str) -> None:
    assert speaks_of_cure(words)


@pytest.mark.parametrize("words", ["salt", "garlic powder 2 tsp", "Salz", "sal", "pickling salt"])
def test_other_salts_and_powders_are_no_curing_salt(words: str) -> None:
    assert not speaks_of_cure(words)
