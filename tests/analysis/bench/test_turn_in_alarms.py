"""Alarms of a turn-in window, one tap for all of it; five minutes are common practice, no source."""

from datetime import timedelta

from pitjournal.analysis.bench.alarm_offers import offers
from pitjournal.domain.contest import Category, Contest, TurnIn
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook


def whole() -> WholeCook:
    """Return a cook whose chicken is turned in from 11:55 to 12:05 in Chicago (UTC − 5 h)."""
    contest = Contest(name="Spring", starts_at=NOON, zone="America/Chicago")
    ideal = NOON + timedelta(hours=5)
    category = Category(
        contest_id=contest.id,
        position=0,
        name="chicken",
        opens=ideal - timedelta(minutes=5),
        ideal=ideal,
        closes=ideal + timedelta(minutes=5),
    )
    return WholeCook(cook=a_cook(), turn_ins=(TurnIn(contest, category),))


def test_that_one_tap_sets_opening_five_minutes_and_closing_with_the_meat() -> None:
    (offer,) = offers(whole(), NOON, (), UnitSystem.US)["Turn-in"]
    assert [(alarm.words, alarm.at) for alarm in offer.alarms] == [
        ("Chicken: the window opens, 11:55", NOON + timedelta(minutes=295)),
        ("Chicken: five minutes until the window closes, 12:00", NOON + timedelta(minutes=300)),
        ("Chicken: the window closes, 12:05", NOON + timedelta(minutes=305)),
    ]


def test_that_what_is_over_is_offered_no_longer() -> None:
    later = NOON + timedelta(minutes=297)
    (offer,) = offers(whole(), later, (), UnitSystem.US)["Turn-in"]
    assert len(offer.alarms) == 2
    assert "Turn-in" not in offers(whole(), NOON + timedelta(hours=6), (), UnitSystem.US)
