"""What past cooks took from on, from a mark and from the wrap on to a target: by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest

from pitjournal.analysis.forecast.asked import ForecastAsked, PastCook, Wrapping
from pitjournal.analysis.forecast.stretches import Moment, Stretch, stretch
from pitjournal.analysis.forecast.usual import usual_of
from tests.analysis.forecast.test_usual import ALIKE, OPEN, asked, cooks


def _stretch(one: ForecastAsked, target: float, moment: Moment) -> Stretch | None:
    return stretch(one, usual_of(one, 125.0), 125.0, target, moment)


def _minutes(found: Stretch | None) -> float:
    assert found is not None
    return math.exp(found.log_minutes)


def test_that_cooks_alike_take_from_each_moment_what_they_took() -> None:
    # They passed 60 °C after 100 minutes and 90 °C after 400.
    one = asked(ALIKE, wrapping=OPEN)
    assert _minutes(_stretch(one, 90.0, Moment(0.0))) == pytest.approx(400.0)
    assert _minutes(_stretch(one, 90.0, Moment(100.0, 60.0))) == pytest.approx(300.0)
    assert _minutes(_stretch(one, 75.0, Moment(100.0, 60.0))) == pytest.approx(150.0)


def test_that_a_cook_late_at_the_mark_is_late_by_a_power_of_it_until_cooks_say_otherwise() -> None:
    # A tenth late at the mark: the model's power is 0.3, and cooks alike say nothing of it.
    one = asked(ALIKE, wrapping=OPEN)
    late = _minutes(_stretch(one, 90.0, Moment(110.0, 60.0)))
    assert late == pytest.approx(300.0 * 1.1**0.3)


def test_that_twelve_cooks_have_most_of_the_say_on_how_late_goes_on() -> None:
    # The stretch grows as the square of the time to the mark, where the model has a power of 0.3.
    past = tuple(
        PastCook(0.04, None, 125.0, "none", None, ((60.0, at), (90.0, at + 300 * (at / 100) ** 2)))
        for at in np.linspace(80.0, 125.0, 12)
    )
    one = asked(past, wrapping=OPEN)
    middle = float(np.exp(np.mean([math.log(cook.marks[0][1]) for cook in past])))
    on_time = _minutes(_stretch(one, 90.0, Moment(middle, 60.0)))
    late = _minutes(_stretch(one, 90.0, Moment(1.1 * middle, 60.0)))
    assert 1.1**0.8 < late / on_time <= 1.1**2


def test_that_from_the_wrap_those_in_the_same_wrap_count_and_a_colder_one_takes_longer() -> None:
    mixed = (*cooks("foil", "foil", "foil"), *cooks("paper", "paper", "paper", at=300.0))
    foil = replace(asked(mixed), wrapping=Wrapping(60.0 * 40.0, "foil"))  # it reads 25 °C then
    moment = Moment(40.0, wrapped=True)
    found = _stretch(foil, 90.0, moment)
    assert found is not None
    assert found.cooks == 3
    assert found.plain == pytest.approx(200.0)  # 400 − 200 minutes, in foil
    assert _minutes(found) > 200.0  # those were at 70 °C when they were wrapped


def test_that_two_cooks_or_a_mark_that_none_tells_say_nothing() -> None:
    one = asked(ALIKE[:2], wrapping=OPEN)
    assert _stretch(one, 90.0, Moment(0.0)) is None
    assert _stretch(asked(ALIKE, wrapping=OPEN), 90.0, Moment(200.0, 71.0)) is None
    assert _stretch(asked(ALIKE, wrapping=OPEN), 90.0, Moment(40.0, wrapped=True)) is None
