"""What working a day out again would change, and what was planned later and asks to join it."""

from dataclasses import replace
from datetime import timedelta

from pitjournal.analysis.plan.off_chance import fan_of
from pitjournal.analysis.plan.rework import Joining, changes_of, to_join
from pitjournal.analysis.plan.schedule import spans_of, work_out
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.treatment import Seasoning
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.plan.test_schedule import SERVE, past_cooks, ribs
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, an_event

NIGHT_BEFORE = NOON - timedelta(days=1)


def joining(whole: WholeCook) -> Joining:
    return to_join(whole, spans_of(whole, frame_of([])), NIGHT_BEFORE)


def planned(whole: WholeCook) -> WholeCook:
    """Return a cook with its day worked out."""
    steps = work_out(whole, spans_of(whole, frame_of([])), NIGHT_BEFORE)
    return replace(whole, events=tuple(steps))


def open_step(whole: WholeCook, kind: str) -> Event:
    return next(event for event in whole.events if event.kind == kind)


def test_that_the_same_day_again_changes_nothing() -> None:
    whole = planned(ribs())
    assert changes_of(whole, whole.events) == ()


def test_that_a_step_moved_by_a_minute_is_a_change_and_by_less_is_none() -> None:
    whole = planned(ribs())
    wrap = open_step(whole, EventKind.WRAP)
    assert wrap.planned_at is not None
    for seconds, count in ((59.0, 0), (60.0, 1)):
        moved = replace(wrap, planned_at=wrap.planned_at + timedelta(seconds=seconds))
        steps = [moved if event is wrap else event for event in whole.events]
        found = changes_of(whole, steps)
        assert len(found) == count
    assert (found[0].step, found[0].before, found[0].after) == (
        moved,
        wrap.planned_at,
        moved.planned_at,
    )


def test_that_new_steps_are_put_in_and_missing_ones_taken_away_in_time_order() -> None:
    whole = planned(ribs())
    wrap = open_step(whole, EventKind.WRAP)
    assert wrap.planned_at is not None
    spritz = replace(wrap, id="new", kind="spritz", planned_at=wrap.planned_at - timedelta(hours=1))
    found = changes_of(whole, [*(event for event in whole.events if event is not wrap), spritz])
    assert [(one.step.kind, one.before is None, one.after is None) for one in found] == [
        ("spritz", True, False),
        (wrap.kind, False, True),
    ]


def test_that_what_is_done_is_no_step_to_change() -> None:
    whole = planned(ribs())
    on = open_step(whole, EventKind.ON)
    done = replace(whole, events=(replace(on, happened_at=NOON),))
    assert changes_of(done, [replace(on, happened_at=NOON)]) == ()


def test_that_a_rub_planned_after_the_day_asks_to_join_it_and_pushes_what_is_before() -> None:
    bare = replace(ribs(), seasonings=(), treatments=())
    whole = planned(bare)
    assert not joining(whole)
    rub = Seasoning(cook_id=bare.cook.id, position=0, rub="house rub", set_time=2 * 3600.0)
    later = replace(whole, seasonings=(rub,))
    found = joining(later)
    assert [event.kind for event in found.adds] == [StepKind.RUB]
    on = open_step(whole, EventKind.ON).planned_at
    assert on is not None
    (put_in,) = found.adds
    assert put_in.planned_at is not None
    assert on - put_in.planned_at >= timedelta(hours=2)
    trim = open_step(whole, StepKind.TRIM)
    assert trim.planned_at is not None
    assert found.moves[trim.id] < trim.planned_at


def test_that_a_rub_that_sets_for_longer_asks_and_one_that_went_on_does_not() -> None:
    whole = planned(ribs())
    longer = tuple(replace(one, set_time=3 * 3600.0) for one in whole.seasonings)
    rub = open_step(whole, StepKind.RUB)
    found = joining(replace(whole, seasonings=longer))
    assert found.takes[rub.id] == 3 * 3600.0
    assert not found.adds
    locked = tuple(replace(event, locked=event is rub) for event in whole.events)
    assert not joining(replace(whole, seasonings=longer, events=locked)).takes
    lies_on = an_event(whole.cook.id, EventKind.ON, pieces=[piece.id for piece in whole.pieces])
    running = replace(whole, seasonings=longer, events=(*whole.events, lies_on))
    assert not joining(running)


def test_that_when_meat_comes_off_is_on_and_how_long_such_meat_took() -> None:
    """From 5 past cooks of 4 to 6 h the middle is 5 h; eight tenths lie about it."""
    whole = replace(ribs(), cooker=None)
    spans = spans_of(whole, frame_of(past_cooks([4.0, 4.5, 5.0, 5.5, 6.0])))
    whole = replace(whole, events=tuple(work_out(whole, spans, NIGHT_BEFORE)))
    on = open_step(whole, EventKind.ON)
    assert on.planned_at is not None
    fan = fan_of(whole, spans, {})
    assert fan is not None
    (group,) = spans.groups
    assert group.time_on is not None
    assert fan.likely == on.planned_at.timestamp() + group.time_on.usual
    assert fan.early < fan.likely < fan.late
    shifted = fan_of(whole, spans, {on.id: on.planned_at + timedelta(hours=1)})
    assert shifted is not None
    assert shifted.likely == fan.likely + 3600.0
    off = an_event(whole.cook.id, EventKind.OFF, minutes=0)
    assert fan_of(replace(whole, events=(*whole.events, off)), spans, {}) is None
    assert fan_of(replace(whole, events=()), spans, {}) is None
    assert on.planned_at < SERVE
