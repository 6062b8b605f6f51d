"""A contest day through the journal's door: windows that move a plan, hands, what is carried in."""

from dataclasses import replace
from datetime import timedelta

from pitjournal.analysis.bench.windows import with_windows
from pitjournal.analysis.plan.schedule import spans_of, work_out
from pitjournal.domain.alarm import Alarm
from pitjournal.domain.contest import Carried, Category
from pitjournal.domain.cook import Cook
from pitjournal.domain.day.schedule import StepKind, is_open
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.journal.commands.bench import FinishAlarms, HearAlarms, LogEvent
from pitjournal.journal.commands.contests import CarryInto, SetWindow
from pitjournal.journal.commands.plan import GiveSteps, KeepSchedule, NameHands
from pitjournal.journal.commands.records import AddCook, Change, Remove
from pitjournal.journal.contest_day import day_of
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, a_cook, an_event
from tests.journal.test_contests import made, seen

MINUTE = timedelta(minutes=1)
IDEAL = NOON + 600 * MINUTE


def planned(journal: Journal) -> tuple[WholeCook, list[Category]]:
    """Return a contest day of chicken and brisket, worked out."""
    contest, categories = made(journal, "chicken", "brisket")
    for place, category in enumerate(categories):
        at = IDEAL + 30 * place * MINUTE
        times = {"opens": at - 5 * MINUTE, "ideal": at, "closes": at + 5 * MINUTE}
        journal.do(SetWindow(category.id, times))
    day = day_of(seen(journal, contest))
    assert day is not None
    journal.do(day.command)
    whole = journal.whole(day.cook.id)
    steps = work_out(whole, spans_of(whole, frame_of([])), NOON - 1440 * MINUTE)
    journal.do(KeepSchedule(whole.cook.id, steps))
    return journal.whole(whole.cook.id), journal.find(Category)


def steps_of(journal: Journal, kind: str, cut: str) -> list[Event]:
    (cook,) = journal.find(Cook)
    whole = journal.whole(cook.id)
    mine = {piece.id for piece in whole.pieces if piece.cut == cut}
    return [e for e in whole.events if e.kind == kind and set(e.pieces) <= mine]


def test_that_one_cook_is_planned_for_all_categories_and_one_undo_takes_it_back(
    journal: Journal,
) -> None:
    whole, categories = planned(journal)
    assert [piece.cut for piece in whole.pieces] == ["chicken", "brisket"]
    assert {category.cook_id for category in categories} == {whole.cook.id}
    assert whole.cook.serve_at == IDEAL + 30 * MINUTE
    assert day_of(seen(journal, journal.contests.all()[0].contest)) is None
    journal.undo()
    journal.undo()
    assert not journal.find(Cook)
    assert {category.cook_id for category in journal.find(Category)} == {None}


def test_that_a_window_that_is_put_back_takes_its_own_box_along_and_no_other(
    journal: Journal,
) -> None:
    _, categories = planned(journal)
    chicken = next(c for c in categories if c.name == "chicken")
    brisket = steps_of(journal, StepKind.TURN_IN, "brisket")
    walk = steps_of(journal, StepKind.WALK, "chicken")[0].planned_at
    assert walk is not None
    later = {"ideal": IDEAL + 20 * MINUTE, "closes": IDEAL + 25 * MINUTE}
    journal.do(SetWindow(chicken.id, later))
    (step,) = steps_of(journal, StepKind.TURN_IN, "chicken")
    assert step.planned_at == IDEAL + 20 * MINUTE
    assert steps_of(journal, StepKind.WALK, "chicken")[0].planned_at == walk + 20 * MINUTE
    assert steps_of(journal, StepKind.TURN_IN, "brisket") == brisket
    journal.undo()
    assert steps_of(journal, StepKind.WALK, "chicken")[0].planned_at == walk


def test_that_a_step_keeps_its_hand_when_it_is_done_and_one_who_leaves_leaves_none(
    journal: Journal,
) -> None:
    whole, _ = planned(journal)
    journal.do(NameHands(whole.cook.id, ("Ana", "Ben")))
    boxed = steps_of(journal, EventKind.BOXED, "chicken")[0]
    walk = steps_of(journal, StepKind.WALK, "chicken")[0]
    journal.do(GiveSteps({boxed.id: "Ana", walk.id: "Ben"}))
    tap = an_event(whole.cook.id, EventKind.BOXED, minutes=585, pieces=boxed.pieces)
    journal.do(LogEvent(tap, "Boxed"))
    (done,) = steps_of(journal, EventKind.BOXED, "chicken")
    assert (done.by, done.planned_at) == ("Ana", boxed.planned_at)
    journal.do(NameHands(whole.cook.id, ("Cy",)))
    assert steps_of(journal, StepKind.WALK, "chicken")[0].by == ""
    assert steps_of(journal, EventKind.BOXED, "chicken")[0].by == "Ana"  # it happened
    journal.undo()
    assert steps_of(journal, StepKind.WALK, "chicken")[0].by == "Ben"


def test_that_an_answered_window_is_kept_once_and_undone_as_any_step(journal: Journal) -> None:
    whole, _ = planned(journal)
    opens = with_windows(whole, NOON)[0]
    assert opens.at is not None
    assert not journal.find(Alarm)
    journal.do(HearAlarms({opens.id: opens.at}, (opens,)))
    journal.do(FinishAlarms({opens.id: opens.at}, (opens,)))
    (kept,) = journal.find(Alarm)
    assert (kept.id, kept.heard, kept.done) == (opens.id, opens.at, opens.at)
    (again,) = [a for a in with_windows(journal.whole(whole.cook.id), NOON) if a.id == opens.id]
    assert again.done == opens.at
    journal.undo()
    journal.undo()
    assert not journal.find(Alarm)


def test_that_what_was_found_in_practice_is_carried_into_a_category(journal: Journal) -> None:
    whole, categories = planned(journal)
    practice = a_cook("Wrap or no wrap")
    journal.do(AddCook(practice, ()))
    chicken = next(c for c in categories if c.name == "chicken")
    journal.do(CarryInto(chicken.id, practice.id, "wrapped in paper"))
    journal.do(CarryInto(chicken.id, practice.id, "wrapped in foil"))
    ((carried, turn_in),) = journal.contests.carried_from(practice.id)
    assert (carried.what, turn_in.category.name) == ("wrapped in foil", "chicken")
    (own, _) = journal.whole(whole.cook.id).turn_ins
    assert [one.what for one in own.carried] == ["wrapped in foil"]
    journal.do(Remove(Cook, practice.id))
    assert not journal.find(Carried)
    journal.undo()
    assert journal.find(Carried) == [carried]


def test_that_work_goes_on_where_the_step_of_a_box_was_taken_away(journal: Journal) -> None:
    _, categories = planned(journal)
    (step,) = steps_of(journal, StepKind.TURN_IN, "chicken")
    journal.do(Remove(Event, step.id))
    chicken = next(c for c in categories if c.name == "chicken")
    journal.do(SetWindow(chicken.id, {"ideal": IDEAL + 3 * MINUTE}))
    assert all(is_open(e) for e in steps_of(journal, EventKind.BOXED, "chicken"))
    journal.do(Change(Category, chicken.id, {"cook_id": None}))
    journal.do(SetWindow(chicken.id, {"ideal": None}))
    assert replace(chicken, ideal=None, cook_id=None) in journal.find(Category)
