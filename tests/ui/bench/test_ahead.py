"""The line that says when the meat comes off."""

from datetime import datetime, timedelta

from pitjournal.journal.queries.ahead import ComesOff
from pitjournal.ui.bench.ahead import each, reasons, sentence
from pitjournal.ui.bench.off_card import ahead_of
from pitjournal.ui.forecasts import still_ahead
from tests.builders import NOON

ZONE = "UTC"


def _one(**fields: object) -> ComesOff:
    values: dict[str, object] = {"piece_id": "p", "label": "I2", "target": 95.0}
    return ComesOff(**{**values, **fields})  # type: ignore[arg-type]


def _at(minutes: int) -> datetime:
    return NOON + timedelta(minutes=minutes)


def test_that_the_line_names_the_span_the_likely_time_and_the_chance() -> None:
    one = _one(early=_at(70), likely=_at(95), late=_at(125), in_time=0.884)
    said = sentence([one], ZONE, NOON)
    assert said == "Comes off between 13:10 and 14:05, most likely 13:35, 88 % in time"


def test_that_of_several_pieces_the_first_is_named() -> None:
    some = [_one(early=_at(70), likely=_at(95), late=_at(125)), _one(label="C1", refused="x")]
    assert sentence(some, ZONE, NOON).startswith("I2 comes off between 13:10")


def test_that_a_chance_is_never_none_and_never_certain() -> None:
    for share, words in ((0.0, "under 5 %"), (1.0, "over 95 %")):
        one = _one(early=_at(70), likely=_at(95), late=_at(125), in_time=share)
        assert words in sentence([one], ZONE, NOON)


def test_that_what_cannot_be_told_says_why_and_nothing_says_nothing() -> None:
    early = _one(refused="under ten minutes of readings")
    assert sentence([early], ZONE, NOON).startswith("Too early to say when")
    assert "fire" in sentence([_one(refused="the fire may be out")], ZONE, NOON)
    assert sentence([_one(refused="reached")], ZONE, NOON) == ""
    assert sentence([], ZONE, NOON) == ""


def test_that_each_piece_has_a_line_with_its_certain_span_and_when_to_start_probing() -> None:
    one = _one(likely=_at(95), surely_early=_at(40), surely_late=_at(200), probe_from=_at(60))
    (said,) = each([one, _one(refused="x")], ZONE, NOON)
    assert (
        said == "I2: most likely 13:35, nine in ten between 12:40 and 15:20, start probing at 13:00"
    )
    (late,) = each([_one(likely=_at(95), surely_early=_at(40))], ZONE, NOON)
    assert late.endswith("and later than two days on")


def test_that_a_target_by_feel_says_so() -> None:
    said = reasons([_one(by_feel=True, rests_on=("3.0 h of readings",))], lambda _c: "203 °F")
    assert said.startswith("I2, to 203 °F, where yours felt right: 3.0 h of readings")


def test_that_a_piece_says_its_span_and_likely_time_or_why_nobody_can_tell() -> None:
    known = _one(early=_at(70), likely=_at(95), late=_at(125))
    said = ahead_of([known], "p", ZONE, NOON)
    assert said[0] == "off 13:10–14:05, most likely 13:35"
    assert sorted(said, key=len, reverse=True) == list(said)
    assert ahead_of([known], "another", ZONE, NOON) == ()
    (frozen,) = ahead_of([_one(refused="the core is frozen")], "p", ZONE, NOON)
    assert frozen == "no forecast: the core is frozen"
    assert ahead_of([_one(refused="reached")], "p", ZONE, NOON) == ("at its target",)
    far = _one(early=_at(70), likely=_at(95), late=None)
    assert ahead_of([far], "p", ZONE, NOON)[0] == "off 13:10–later, most likely 13:35"


def test_that_a_forecast_whose_times_have_gone_by_is_no_longer_told() -> None:
    one = _one(early=_at(70), likely=_at(95), late=_at(125), in_time=0.9)
    assert still_ahead(one, _at(125)) == one
    assert sentence([still_ahead(one, _at(126))], ZONE, _at(126)) == (
        "No forecast: the time that it gave has gone by"
    )
    reached = _one(refused="reached")
    assert still_ahead(reached, _at(500)) == reached
