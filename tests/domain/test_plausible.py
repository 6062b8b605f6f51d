"""What a quantity can be: in one place, for every quantity of every record.

Trade facts are common practice, no source, unless one is named beside them.
"""

import math
from dataclasses import fields
from typing import get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.domain.alarm import Alarm
from pitjournal.domain.contest import Category, Contest
from pitjournal.domain.cook import Cook
from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.domain.piece import Piece, Weighing
from pitjournal.domain.plausible import LIMITS, WIDEST, Limits, impossible, limits_of
from pitjournal.domain.record import Record
from pitjournal.domain.tasting import Tasting
from pitjournal.domain.treatment import FuelLoad, Seasoning, Treatment, WoodAddition
from pitjournal.units import Dimension, UnitSystem, parse

RECORDS: tuple[type[Record], ...] = (
    Cook,
    Piece,
    Weighing,
    Treatment,
    Seasoning,
    FuelLoad,
    WoodAddition,
    DonenessCheck,
    Tasting,
    Event,
    Alarm,
    Contest,
    Category,
)
OTHERWISE = {
    ("cook", "worth_knowing"),  # in the unit of the outcome: the field beside it says which
    ("cook", "spread_guess"),
    ("cook", "number"),  # counted by the journal
    ("cook", "seed"),
    ("piece", "position"),
    ("category", "position"),
    ("category", "version"),  # of its scheme
    ("seasoning", "position"),
    ("doneness_check", "feel"),  # 1 to 7, by taps
    *(
        ("tasting", one.name) for one in fields(Tasting) if one.name != "served_temperature"
    ),  # by lot
}
EVERY = [(kind, field, one) for kind, named in LIMITS.items() for field, one in named.items()]


def _is_number(hint: object) -> bool:
    return hint in {float, int, float | None, int | None}


def test_that_every_quantity_of_a_record_has_its_limits() -> None:
    for record in RECORDS:
        hints = get_type_hints(record)
        for one in fields(record):
            key = (record.KIND, one.name)
            if _is_number(hints[one.name]) and key not in OTHERWISE:
                assert limits_of(*key) is not None, key
    named = {(record.KIND, one.name) for record in RECORDS for one in fields(record)}
    assert {(kind, field) for kind, field, _ in EVERY} <= named


@pytest.mark.parametrize(("kind", "field", "limits"), EVERY)
@given(share=st.floats(0.0, 1.0))
def test_that_what_lies_between_the_limits_is_taken(
    kind: str, field: str, limits: Limits, share: float
) -> None:
    value = min(limits.high, limits.low + share * (limits.high - limits.low))
    assert not impossible(kind, field, value)


@pytest.mark.parametrize(("kind", "field", "limits"), EVERY)
@given(far=st.floats(1e-6, 1e300), over=st.booleans())
def test_that_what_lies_beyond_is_refused_with_the_limit_said(
    kind: str, field: str, limits: Limits, far: float, over: bool
) -> None:
    step = far * max(1.0, abs(limits.high), abs(limits.low))
    why = impossible(kind, field, limits.high + step if over else limits.low - step)
    assert why.endswith(".")
    assert why[0].isupper()
    assert any(digit.isdecimal() for digit in why) or "than nothing" in why


@pytest.mark.parametrize("limits", [one for *_, one in EVERY] + list(WIDEST.values()))
def test_that_no_number_at_all_is_refused(limits: Limits) -> None:
    for value in (math.nan, math.inf, -math.inf):
        assert limits.why_not(value)


@pytest.mark.parametrize(
    ("kind", "field", "typed"),
    [
        # World Meteorological Organization, archive of extremes (from memory): 56.7 °C at
        # Furnace Creek in 1913, −67.7 °C where people live (Oymyakon 1933).
        ("cook", "ambient", "56.7 °C"),
        ("cook", "ambient", "-67.7 °C"),
        ("cook", "altitude", "5100 m"),  # the highest town, La Rinconada (from memory)
        ("cook", "altitude", "-420 m"),  # the shore of the Dead Sea (from memory)
        ("cook", "set_point", "30 °F"),  # cold smoke in the frost
        ("cook", "set_point", "225 °F"),
        ("cook", "set_point", "900 °F"),  # a stone oven
        ("cook", "humidity", "100 %"),
        ("piece", "thickness_1", "3/8 in"),
        ("piece", "thickness_1", "60 cm"),  # a whole hog
        ("weighing", "mass", "12 g"),  # one shrimp
        ("weighing", "mass", "210 lb"),  # a whole hog
        ("treatment", "salt", "26.4 %"),  # a saturated brine (CRC Handbook, from memory)
        ("treatment", "cure_strength", "6.25 %"),  # 9 CFR 424.21 practice: 6.25 % nitrite
        ("treatment", "time", "8760 h"),  # a ham of a year
        ("fuel_load", "mass", "40 lb"),
        ("doneness_check", "internal", "203 °F"),
        ("doneness_check", "internal", "-10 °F"),
    ],
)
def test_that_what_has_been_is_possible(kind: str, field: str, typed: str) -> None:
    limits = limits_of(kind, field)
    assert limits is not None
    assert not limits.why_not(parse(typed, limits.dimension, UnitSystem.US))


@pytest.mark.parametrize(
    ("kind", "field", "typed", "why"),
    [
        ("cook", "set_point", "2250", "A pit cannot be more than 1022 °F (550 °C)."),
        ("cook", "ambient", "725", "The air outside cannot be more than 140 °F (60 °C)."),
        ("cook", "humidity", "555 %", "Humidity cannot be more than 100 %."),
        ("cook", "humidity", "-5 %", "Humidity cannot be less than nothing."),
        ("cook", "altitude", "85000", "A place cannot be more than 19685 ft (6000 m)."),
        ("cook", "wind", "888 mph", "Wind cannot be more than 253 mph (407 km/h)."),
        ("piece", "thickness_1", "125", "A thickness cannot be more than 39 in (1000 mm)."),
        ("weighing", "mass", "1400", "A piece cannot be more than 992 lb (450 kg)."),
        ("treatment", "salt", "250 %", "Salt cannot be more than 50 %."),
        (
            "doneness_check",
            "internal",
            "1652",
            "No meat is hotter than 300 °F (150 °C) inside.",
        ),
    ],
)
def test_that_digits_that_ran_together_are_refused_with_why(
    kind: str, field: str, typed: str, why: str
) -> None:
    limits = limits_of(kind, field)
    assert limits is not None
    assert limits.why_not(parse(typed, limits.dimension, UnitSystem.US)) == why


def test_that_every_dimension_has_a_widest() -> None:
    assert set(WIDEST) == set(Dimension)
