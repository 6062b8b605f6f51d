"""A cook that was planned for one day and begun on another."""

from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.day.other_day import day_shift, moved_cook, moved_step, planned_for
from pitjournal.domain.event import Event, EventKind
from tests.builders import NOON, a_cook, an_event

COOK = a_cook()


def step(kind: str, hours: float, *pieces: str) -> Event:
    """Return an open step planned so many hours after noon."""
    at = NOON + timedelta(hours=hours)
    return Event(
        cook_id=COOK.id, kind=kind, happened_at=None, entered_at=NOON, planned_at=at, pieces=pieces
    )


def test_that_more_than_half_a_day_off_is_another_day() -> None:
    for hours, moved in ((12.0, False), (12.1, True), (-12.1, True), (-12.0, False)):
        lit = an_event(COOK.id, EventKind.LIT, minutes=60 * hours)
        assert (day_shift(COOK, lit) is not None) is moved
    week = an_event(COOK.id, EventKind.ON, minutes=7 * 24 * 60)
    assert day_shift(COOK, week) == timedelta(days=7)


def test_that_the_step_it_was_counts_and_not_the_start() -> None:
    lit = an_event(COOK.id, EventKind.LIT, minutes=60 * 20)
    assert day_shift(COOK, replace(lit, planned_at=NOON + timedelta(hours=19))) is None


@pytest.mark.parametrize(
    ("cook", "kind"),
    [
        (replace(COOK, status=CookStatus.RUNNING), EventKind.LIT),
        (COOK, EventKind.SPRITZ),
    ],
)
def test_that_only_what_begins_a_planned_cook_moves_it(cook: Cook, kind: EventKind) -> None:
    assert day_shift(cook, an_event(COOK.id, kind, minutes=60 * 48)) is None


def test_that_start_serving_and_planned_steps_move_and_what_happened_stays() -> None:
    shift = timedelta(days=2)
    moved = moved_cook(replace(COOK, serve_at=NOON + timedelta(hours=6)), shift)
    assert (moved.starts_at, moved.serve_at) == (NOON + shift, NOON + shift + timedelta(hours=6))
    assert moved_cook(COOK, shift).serve_at is None
    happened = an_event(COOK.id, EventKind.LIT)
    assert moved_step(happened, shift) is happened
    open_step = step(EventKind.ON, 1.0)
    assert open_step.planned_at is not None
    assert moved_step(open_step, shift).planned_at == open_step.planned_at + shift


def test_that_a_tap_is_the_first_open_step_of_its_kind_for_its_pieces() -> None:
    tap = an_event(COOK.id, EventKind.ON, minutes=5, pieces=("a",))
    steps = (step("on", 3.0, "a", "b"), step("on", 1.0, "b"), step("on", 2.0), step("off", 0.5))
    assert planned_for(steps, tap).planned_at == NOON + timedelta(hours=2)
    assert planned_for((step("on", 1.0, "b"),), tap) is tap
    done = replace(step("on", 1.0, "a"), happened_at=NOON)
    assert planned_for((done,), tap) is tap
