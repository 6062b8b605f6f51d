"""Commands of the plan on a real journal: one step each, and back."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from pitjournal.analysis.plan.schedule import spans_of, work_out
from pitjournal.domain.cook import Cook
from pitjournal.domain.day.schedule import StepKind, is_open
from pitjournal.domain.event import Event, EventKind
from pitjournal.errors import JournalError
from pitjournal.journal import Journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.journal.commands.plan import KeepSchedule, MoveStep, ServeAt, StartAt
from pitjournal.journal.commands.records import Add, Change
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, add_comparison, an_event

SERVE = datetime(2026, 5, 2, 23, 0, tzinfo=UTC)
HALF = timedelta(minutes=30)


def planned(journal: Journal) -> str:
    """Add a comparison with its day worked out, and return its id."""
    command = add_comparison()
    journal.do(command)
    cook_id = command.cook.id
    journal.do(ServeAt(cook_id, SERVE))
    keep(journal, cook_id)
    return cook_id


def keep(journal: Journal, cook_id: str) -> None:
    whole = journal.whole(cook_id)
    steps = work_out(whole, spans_of(whole, frame_of([])), NOON)
    journal.do(KeepSchedule(cook_id, steps))


def times(journal: Journal, cook_id: str) -> dict[str, datetime]:
    return {e.kind: e.planned_at for e in journal.whole(cook_id).events if e.planned_at is not None}


def step(journal: Journal, cook_id: str, kind: str) -> Event:
    return next(e for e in journal.whole(cook_id).events if e.kind == kind)


def test_that_working_out_again_replaces_what_has_not_happened(journal: Journal) -> None:
    cook_id = planned(journal)
    first = {e.id for e in journal.whole(cook_id).events}
    lit = step(journal, cook_id, EventKind.LIT)
    journal.do(Change(Event, lit.id, {"happened_at": lit.planned_at}))
    keep(journal, cook_id)
    now = {e.id for e in journal.whole(cook_id).events}
    ends = {e.id for e in journal.whole(cook_id).events if e.locked}
    assert first & now == {lit.id} | (first & ends)
    assert [e.kind for e in journal.whole(cook_id).events].count("lit") == 1
    journal.undo()
    assert {e.id for e in journal.whole(cook_id).events} == first


def test_that_the_cook_starts_when_its_first_meat_goes_on(journal: Journal) -> None:
    cook_id = planned(journal)
    on = step(journal, cook_id, EventKind.ON)
    assert journal.find(Cook, id=cook_id)[0].starts_at == on.planned_at
    assert on.planned_at is not None
    journal.do(MoveStep(on.id, on.planned_at - HALF))
    assert journal.find(Cook, id=cook_id)[0].starts_at == on.planned_at - HALF
    journal.do(StartAt(cook_id, on.planned_at))
    assert step(journal, cook_id, EventKind.ON).planned_at == on.planned_at


def test_that_moving_twice_is_one_step_back(journal: Journal) -> None:
    cook_id = planned(journal)
    before = times(journal, cook_id)
    wrap = step(journal, cook_id, EventKind.WRAP)
    assert wrap.planned_at is not None
    for minutes in (5, 10, 15):
        journal.do(MoveStep(wrap.id, wrap.planned_at - timedelta(minutes=minutes)))
    assert times(journal, cook_id)["lit"] == before["lit"] - timedelta(minutes=15)
    journal.undo()
    assert times(journal, cook_id) == before


def test_that_serving_later_moves_the_day(journal: Journal) -> None:
    cook_id = planned(journal)
    before = times(journal, cook_id)
    journal.do(ServeAt(cook_id, SERVE + HALF))
    after = times(journal, cook_id)
    assert {kind: after[kind] - before[kind] for kind in before} == dict.fromkeys(before, HALF)
    journal.do(ServeAt(cook_id, None))
    assert times(journal, cook_id) == after
    assert journal.find(Cook, id=cook_id)[0].serve_at is None
    journal.do(ServeAt(cook_id, SERVE))
    assert times(journal, cook_id)[StepKind.TASTE] == SERVE


def test_that_without_a_plan_only_the_times_are_kept(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    journal.do(StartAt(command.cook.id, NOON - HALF))
    journal.do(ServeAt(command.cook.id, SERVE))
    cook = journal.find(Cook)[0]
    assert (cook.starts_at, cook.serve_at) == (NOON - HALF, SERVE)


def test_that_what_has_happened_cannot_be_moved(journal: Journal) -> None:
    cook_id = planned(journal)
    lit = step(journal, cook_id, EventKind.LIT)
    journal.do(Change(Event, lit.id, {"happened_at": lit.planned_at}))
    with pytest.raises(JournalError, match="log of the bench"):
        journal.do(MoveStep(lit.id, NOON))
    assert replace(step(journal, cook_id, EventKind.LIT), happened_at=None).planned_at


def test_that_a_tap_takes_the_place_of_the_step_it_was_planned_as(journal: Journal) -> None:
    cook_id = planned(journal)
    before = times(journal, cook_id)
    whole = journal.whole(cook_id)
    some = tuple(piece.id for piece in whole.pieces[:3])
    tapped = an_event(cook_id, EventKind.ON, pieces=some)
    journal.do(LogEvent(tapped, "On"))
    done, left = sorted(
        (e for e in journal.whole(cook_id).events if e.kind == EventKind.ON),
        key=lambda e: e.happened_at is None,
    )
    assert (done.id, done.planned_at) == (tapped.id, before["on"])
    assert set(left.pieces) == {piece.id for piece in whole.pieces} - set(some)
    journal.do(LogEvent(an_event(cook_id, EventKind.ON), "On"))
    assert not [e for e in journal.whole(cook_id).events if e.kind == EventKind.ON and is_open(e)]
    journal.undo()
    journal.undo()
    assert times(journal, cook_id) == before


def test_that_a_tap_nobody_planned_is_kept_as_it_is(journal: Journal) -> None:
    cook_id = planned(journal)
    count = len(journal.whole(cook_id).events)
    tapped = an_event(cook_id, EventKind.SPRITZ)
    journal.do(LogEvent(tapped, "Spritz"))
    assert tapped in journal.whole(cook_id).events
    assert len(journal.whole(cook_id).events) == count + 1


def test_that_of_several_planned_sprays_a_tap_is_the_first(journal: Journal) -> None:
    cook_id = planned(journal)
    pieces = tuple(piece.id for piece in journal.whole(cook_id).pieces)
    sprays = tuple(
        replace(
            an_event(cook_id, EventKind.SPRITZ, pieces=pieces),
            happened_at=None,
            planned_at=NOON + n * HALF,
        )
        for n in range(3)
    )
    journal.do(Add(sprays, "Plan three sprays"))
    journal.do(LogEvent(an_event(cook_id, EventKind.SPRITZ), "Spritz"))
    left = [
        e.planned_at for e in journal.whole(cook_id).events if e.kind == "spritz" and is_open(e)
    ]
    assert left == [NOON + HALF, NOON + 2 * HALF]
    (done,) = journal.whole(cook_id).happened(EventKind.SPRITZ)
    assert done.planned_at == NOON
    whole_cook = replace(sprays[0], id="fire", kind="refuel", pieces=())
    journal.do(Add((whole_cook,), "Plan to refuel"))
    journal.do(LogEvent(an_event(cook_id, "refuel"), "Refuel"))
    assert not [e for e in journal.whole(cook_id).events if e.kind == "refuel" and is_open(e)]


def test_that_starting_earlier_moves_the_first_that_goes_on_and_no_later_one(
    journal: Journal,
) -> None:
    cook_id = planned(journal)
    first = step(journal, cook_id, EventKind.ON)
    assert first.planned_at is not None
    later = replace(first, id="later", planned_at=first.planned_at + 4 * HALF)
    journal.do(Add((later,), "Add a step"))
    journal.do(StartAt(cook_id, first.planned_at - HALF))
    ons = {e.id: e.planned_at for e in journal.whole(cook_id).events if e.kind == EventKind.ON}
    assert ons[first.id] == first.planned_at - HALF
    assert ons["later"] is not None
    assert ons["later"] > first.planned_at
