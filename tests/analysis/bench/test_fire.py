"""A fire's rate and how long it lasts, by hand arithmetic."""

from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.analysis.bench.fire import Burning, burning
from pitjournal.domain.event import EventKind
from pitjournal.domain.shelf import COOKER_CLASSES, ShelfItem, ShelfKind
from pitjournal.domain.treatment import FuelLoad, FuelStage
from pitjournal.domain.whole_cook import WholeCook
from tests.builders import NOON, a_cook, an_event

POUND = 453.59237
"""g (international yard and pound agreement, 1959)."""

HOUR = 3600.0
COOK = a_cook()


def a_fire(*loads: tuple[FuelStage, float, float], sort: str = "") -> WholeCook:
    """Return a cook lit at noon with loads of stage, pounds and hours after noon."""
    made = tuple(
        FuelLoad(
            cook_id=COOK.id,
            stage=stage,
            fuel="lump",
            mass=pounds * POUND,
            at=NOON + timedelta(hours=hours),
        )
        for stage, pounds, hours in loads
    )
    cooker = ShelfItem(kind=ShelfKind.COOKER, name="mine", details={"class": sort} if sort else {})
    lit = an_event(COOK.id, EventKind.LIT)
    return WholeCook(cook=COOK, cooker=cooker, fuel_loads=made, events=(lit,))


def after(whole: WholeCook, hours: float) -> Burning:
    found = burning(whole, NOON + timedelta(hours=hours))
    assert found is not None
    return found


def test_that_a_fire_burns_what_it_is_fed() -> None:
    # 8 lb in; 2 lb after 2 h and 2 lb after 4 h: 1 lb an hour, and 12 lb last 12 h.
    fire = a_fire((FuelStage.IN, 8, 0), (FuelStage.ADDED, 2, 2), (FuelStage.ADDED, 2, 4))
    found = after(fire, 5)
    assert found.measured
    assert found.slow == found.fast == pytest.approx(POUND / HOUR)
    assert found.least_left == found.most_left == pytest.approx(7 * HOUR)


def test_that_what_is_left_says_what_was_burnt() -> None:
    # 8 + 2 − 4 lb in 3 h: 2 lb an hour.
    fire = a_fire((FuelStage.IN, 8, 0), (FuelStage.ADDED, 2, 1), (FuelStage.LEFT, 4, 3))
    assert after(fire, 3).fast == pytest.approx(2 * POUND / HOUR)
    assert after(fire, 3).least_left == pytest.approx(2 * HOUR)  # 4 lb at 2 lb an hour


def test_that_a_fire_not_fed_yet_burns_as_its_class_usually_does() -> None:
    # A gravity-fed cooker burns 1 to 2 lb an hour (common practice, no source).
    found = after(a_fire((FuelStage.IN, 10, 0), sort="gravity-fed charcoal"), 2)
    assert not found.measured
    assert (found.slow, found.fast) == pytest.approx((POUND / HOUR, 2 * POUND / HOUR))
    assert (found.least_left, found.most_left) == pytest.approx((3 * HOUR, 8 * HOUR))


def test_that_a_burnt_out_fire_lasts_no_time() -> None:
    assert after(a_fire((FuelStage.IN, 1, 0), sort="offset"), 9).most_left == 0


def test_that_feeding_in_the_first_half_hour_measures_nothing() -> None:
    fire = a_fire((FuelStage.IN, 8, 0), (FuelStage.ADDED, 2, 0.2))
    assert burning(fire, NOON + timedelta(hours=2)) is None


def test_that_nothing_is_said_of_a_fire_not_lit_or_not_weighed() -> None:
    fire = a_fire((FuelStage.IN, 8, 0), sort="drum")
    assert burning(replace(fire, events=()), NOON + timedelta(hours=1)) is None
    assert burning(a_fire(sort="drum"), NOON + timedelta(hours=1)) is None
    assert burning(fire, NOON) is None


def test_that_every_class_of_cooker_has_a_usual_rate() -> None:
    for sort in COOKER_CLASSES:
        assert after(a_fire((FuelStage.IN, 8, 0), sort=sort), 1).slow > 0


def test_that_nobody_knows_how_long_a_fire_lasts_whose_beginning_was_not_weighed() -> None:
    fire = a_fire((FuelStage.ADDED, 10, 4.5))
    assert burning(fire, NOON + timedelta(hours=4.5)) is None
