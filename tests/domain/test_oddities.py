"""Slips of the finger in a cook's log: each is flagged, and one tap mends it for good.

What belongs to what (no turning before *on*, no second *off*) is common practice, no source.
"""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.log_checks import Mend, Oddity, oddities
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from tests.builders import NOON, a_cook, an_event

COOK = a_cook()
A, B, C = (Piece(cook_id=COOK.id, position=n, label="ABC"[n], cut="back ribs") for n in range(3))
NOW = NOON + timedelta(hours=10)


def at(minutes: float) -> datetime:
    return NOON + timedelta(minutes=minutes)


def log(*events: Event, checks: tuple[DonenessCheck, ...] = ()) -> WholeCook:
    """Return a cook with these events, in time order as the journal gives them."""
    ordered = sorted(events, key=lambda e: e.happened_at or e.planned_at or e.entered_at)
    return WholeCook(cook=COOK, pieces=(A, B, C), events=tuple(ordered), checks=checks)


def event(kind: str, minutes: float, *pieces: Piece) -> Event:
    return an_event(COOK.id, kind, minutes=minutes, pieces=[p.id for p in pieces])


def one(whole: WholeCook, now: datetime = NOW) -> Oddity:
    found = oddities(whole, now)
    assert len(found) == 1, found
    return found[0]


def test_that_a_usual_cook_has_nothing_odd() -> None:
    whole = log(
        event("lit", -40),
        event("on", 0, A, B),
        event("on", 10, C),
        event("spritz", 5),  # all: those that are on
        event("lid", -5),
        event("flip", 60),
        event("wrap", 120),
        event("unwrap", 160, A),
        event("off", 200, A),
        event("spritz", 210),  # for the others
        event("off", 220, B, C),
        event("wrap", 225),  # wrapped again to rest
        event("held", 230),
        event("sliced", 260),
    )
    assert not oddities(whole, NOW)


def test_that_what_was_done_before_on_is_moved_to_when_it_was_tapped() -> None:
    early = replace(event("spritz", -30), entered_at=at(45))
    odd = one(log(early, event("on", 0)))
    assert odd.mend is Mend.MOVE
    assert odd.at == at(45)
    assert odd.words == "Before the meat went on at 07:00."  # Chicago, in May


def test_that_what_was_tapped_before_on_is_moved_to_on() -> None:
    odd = one(log(event("wrap", -30, A), event("on", 0)))
    assert (odd.mend, odd.at) == (Mend.MOVE, at(0))


def test_that_a_piece_off_twice_loses_the_second() -> None:
    whole = log(event("on", 0), event("off", 100, A), event("off", 130, A))
    odd = one(whole)
    assert odd.record.id == whole.events[-1].id
    assert odd.mend is Mend.REMOVE
    assert "off already at 08:40" in odd.words


def test_that_a_second_off_for_more_pieces_is_narrowed_to_the_others() -> None:
    odd = one(log(event("on", 0), event("off", 100, A), event("off", 130)))
    assert odd.mend is Mend.NARROW
    assert odd.pieces == (B.id, C.id)
    assert odd.button == "Leave A out"


def test_that_a_piece_put_back_on_may_come_off_again() -> None:
    whole = log(event("on", 0), event("off", 100), event("on", 110, A), event("off", 140, A))
    assert not oddities(whole, NOW)


def test_that_on_twice_is_odd() -> None:
    assert one(log(event("on", 0), event("on", 3, B))).mend is Mend.REMOVE


def test_that_a_wrap_of_a_piece_never_on_offers_to_log_on() -> None:
    odd = one(log(event("wrap", 90, A)))
    assert odd.mend is Mend.LOG_ON
    assert (odd.at, odd.pieces) == (at(90), (A.id,))
    assert odd.words == "A: never put on."


def test_that_of_several_the_one_never_on_is_left_out() -> None:
    odd = one(log(event("on", 0, A), event("wrap", 90, A, B)))
    assert (odd.mend, odd.pieces) == (Mend.NARROW, (A.id,))


def test_that_a_spritz_after_off_is_odd() -> None:
    assert one(log(event("on", 0), event("off", 100), event("spritz", 120))).mend is Mend.REMOVE


def test_that_an_unwrap_needs_a_wrap() -> None:
    assert one(log(event("on", 0), event("unwrap", 100, A))).words == "A: not wrapped."


def test_that_a_time_still_to_come_goes_back_to_when_it_was_tapped() -> None:
    ahead = replace(event("lid", 40), entered_at=at(10))
    odd = one(log(event("on", 0), ahead), at(12))
    assert (odd.mend, odd.at) == (Mend.MOVE, at(10))
    assert odd.words == "Still to come: in 28 min."
    assert not oddities(log(event("on", 0), ahead), at(41))  # its time has come


def test_that_a_minute_ahead_is_no_future() -> None:
    assert not oddities(log(event("lit", 1)), at(0))


def test_that_a_probe_in_the_future_is_odd() -> None:
    check = DonenessCheck(cook_id=COOK.id, piece_id=A.id, at=at(90), feel=4)
    odd = one(log(event("on", 0), checks=(check,)), at(30))
    assert (odd.record.id, odd.at) == (check.id, at(30))


@pytest.mark.parametrize(("planned", "odd"), [(-60, True), (60, False)])
def test_that_a_step_planned_in_the_past_is_flagged(planned: float, odd: bool) -> None:
    step = replace(event("wrap", 0), happened_at=None, planned_at=at(planned), entered_at=at(0))
    found = oddities(log(event("on", -90), step), NOW)
    assert bool(found) is odd
    if odd:
        assert (found[0].mend, found[0].at) == (Mend.HAPPENED, at(-60))


def test_that_an_event_is_flagged_once_however_odd_it_is() -> None:
    whole = log(event("on", 0, A), event("off", 100, A), event("off", 110, A, B))
    assert one(whole).mend is Mend.NARROW


def test_that_a_kind_of_ones_own_is_never_odd() -> None:
    assert not oddities(log(event("split added", -500)), NOW)


def test_that_no_kind_of_event_breaks_the_look() -> None:
    for kind in EventKind:
        oddities(log(event(kind, 10), event(kind, 5, A), event(kind, 900, B)), at(20))


def test_that_meat_that_was_on_for_longer_than_a_day_is_asked_about() -> None:
    off = event("off", 25 * 60)
    odd = one(log(event("on", 0), off), at(26 * 60))
    assert odd.words == "On for 25 h: is the day right?"
    assert (odd.mend, odd.at) == (Mend.MOVE, at(60))  # the same time a day before
    assert not oddities(log(event("on", 0), event("off", 23 * 60)), at(26 * 60))


def test_that_meat_still_on_after_a_day_is_asked_about_while_the_cook_runs() -> None:
    on = event("on", 0)
    whole = replace(log(on), cook=replace(COOK, status=CookStatus.RUNNING))
    assert not oddities(whole, at(23 * 60))
    assert one(whole, at(25 * 60)).at == at(24 * 60)
    done = replace(log(on), cook=replace(COOK, status=CookStatus.DONE))
    assert not oddities(done, at(25 * 60))
