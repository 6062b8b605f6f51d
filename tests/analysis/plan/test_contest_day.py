"""A contest day against one made by hand: four categories, each turned in at its official time.

Common practice, no source: a window of ten minutes around an official clock, half an hour apart;
boxing 10 min, a photo 5, the walk 5; pork butt is pulled, thighs are boxed whole.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from pitjournal.analysis.plan.durations import work_of
from pitjournal.analysis.plan.hands import clashes, dealt, hands_of
from pitjournal.analysis.plan.schedule import spans_of, work_out
from pitjournal.analysis.plan.schedule_check import troubles
from pitjournal.domain.contest import Category, Contest, TurnIn
from pitjournal.domain.cook import CookKind
from pitjournal.domain.day.ribbon import ribbon_of
from pitjournal.domain.day.schedule import StepKind, chains, cuts_of, due, is_open
from pitjournal.domain.day.turn_in import beyond, due_at, handed_in, turned_in
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.trends.frames import frame_of
from tests.builders import NOON, a_cook

MINUTE = timedelta(minutes=1)
FIRST = datetime(2026, 5, 2, 17, 0, tzinfo=UTC)  # 12:00 in Chicago

MEATS = (
    ("chicken", "chicken thighs", 6),
    ("ribs", "back ribs", 3),
    ("pork", "pork butt", 2),
    ("brisket", "brisket", 1),
)
WORDS = {"chicken": "chicken", "ribs": "pork ribs", "pork": "pork butt", "brisket": "brisket"}


def contest_day(first: datetime = FIRST) -> WholeCook:
    """Return a cook for four categories, half an hour apart, not worked out yet."""
    made = a_cook(kind=CookKind.CONTEST)
    contest = Contest(name="Field day", starts_at=first, zone="America/Chicago")
    turn_ins = []
    for place, (name, _, _) in enumerate(MEATS):
        ideal = first + 30 * place * MINUTE
        category = Category(
            contest_id=contest.id,
            position=place,
            name=name,
            meat=WORDS[name],
            opens=ideal - 5 * MINUTE,
            ideal=ideal,
            closes=ideal + 5 * MINUTE,
            cook_id=made.id,
        )
        turn_ins.append(TurnIn(contest, category))
    pieces = [
        Piece(cook_id=made.id, position=0, label=f"{name[0].upper()}{n + 1}", cut=cut)
        for name, cut, count in MEATS
        for n in range(count)
    ]
    placed = tuple(replace(piece, position=n) for n, piece in enumerate(pieces))
    return WholeCook(cook=made, pieces=placed, turn_ins=tuple(turn_ins))


def worked_out(whole: WholeCook) -> WholeCook:
    steps = work_out(whole, spans_of(whole, frame_of([])), NOON - 48 * 60 * MINUTE)
    return replace(whole, events=steps)


@pytest.fixture(scope="module")
def day() -> WholeCook:
    return worked_out(contest_day())


def clock(steps: Sequence[Event], kind: str) -> str:
    (step,) = [step for step in steps if step.kind == kind]
    assert step.planned_at is not None
    return (step.planned_at - 5 * 60 * MINUTE).strftime("%H:%M")  # Chicago in May


def of_meat(whole: WholeCook, cut: str) -> list[Event]:
    return chains(whole.events, cuts_of(whole.pieces))[cut]


HAND_MADE = {
    # name: carved, built, photo, walk, turned in; by hand from 12:00, 12:30, 13:00, 13:30
    "chicken thighs": (None, "11:40", "11:50", "11:55", "12:00"),
    "back ribs": ("11:58", "12:10", "12:20", "12:25", "12:30"),  # three racks, 4 min each
    "pork butt": ("12:30", "12:40", "12:50", "12:55", "13:00"),  # two butts, 5 min each
    "brisket": ("13:00", "13:10", "13:20", "13:25", "13:30"),  # at least ten minutes
}
CARVED = {"back ribs": EventKind.SLICED, "pork butt": EventKind.PULLED, "brisket": EventKind.SLICED}


@pytest.mark.parametrize("cut", HAND_MADE)
def test_that_box_steps_are_worked_back_from_the_ideal_time(day: WholeCook, cut: str) -> None:
    steps = of_meat(day, cut)
    carved, *rest = HAND_MADE[cut]
    kinds = (EventKind.BOXED, StepKind.BOX_PHOTO, StepKind.WALK, StepKind.TURN_IN)
    assert [clock(steps, kind) for kind in kinds] == rest
    if carved is None:
        assert not {step.kind for step in steps} & {EventKind.SLICED, EventKind.PULLED}
    else:
        assert clock(steps, CARVED[cut]) == carved
        assert {s.kind for s in steps} & {EventKind.SLICED, EventKind.PULLED} == {CARVED[cut]}


def test_that_an_official_time_is_not_rounded_and_a_window_alone_gives_its_middle() -> None:
    odd = worked_out(contest_day(FIRST + 3 * MINUTE))
    assert clock(of_meat(odd, "chicken thighs"), StepKind.WALK) == "11:58"
    category = odd.turn_ins[0].category
    assert due_at(replace(category, ideal=None)) == FIRST + 3 * MINUTE
    assert due_at(replace(category, ideal=None, opens=None)) == FIRST + 3 * MINUTE
    assert due_at(replace(category, ideal=None, opens=None, closes=None)) is None


def test_that_a_word_for_the_meat_finds_its_pieces_and_what_fits_two_fits_none(
    day: WholeCook,
) -> None:
    own = turned_in(day)
    assert {own[p.id].category.name for p in day.pieces if p.cut == "back ribs"} == {"ribs"}
    assert len(own) == len(day.pieces)
    ribs = day.turn_ins[1]
    twice = replace(ribs, category=replace(ribs.category, id="again"))
    both = replace(day, turn_ins=(*day.turn_ins, twice))
    assert not any(both.pieces[n].id in turned_in(both) for n in (6, 7, 8))


def test_that_the_ribbon_has_a_lane_a_category(day: WholeCook) -> None:
    ribbon = ribbon_of(day, NOON - 24 * 60 * MINUTE)
    assert [lane.name for lane in ribbon.lanes] == ["chicken", "ribs", "pork", "brisket"]
    assert ribbon.turn_in == (FIRST + 90 * MINUTE).timestamp()


def tapped(whole: WholeCook, kind: str, name: str, at: datetime) -> WholeCook:
    mine = [p.id for p in whole.pieces if turned_in(whole)[p.id].category.name == name]
    event = Event(
        cook_id=whole.cook.id, kind=str(kind), happened_at=at, entered_at=at, pieces=tuple(mine)
    )
    return replace(whole, events=(*whole.events, event))


def test_that_a_box_turned_in_ends_its_steps_and_no_others(day: WholeCook) -> None:
    done = tapped(day, StepKind.TURN_IN, "chicken", FIRST + 2 * MINUTE)
    left = {cut for step in due(done.events) if (cut := cuts_of(done.pieces)[step.pieces[0]])}
    assert "chicken thighs" not in left - {"chicken thighs"}
    own = [p.id for p in done.pieces if p.cut == "chicken thighs"]
    assert not [
        step
        for step in due(done.events)
        if set(step.pieces) <= set(own) and step.kind != StepKind.TURN_IN
    ]
    assert [s for s in due(done.events) if s.kind == EventKind.BOXED]
    category = done.turn_ins[0].category
    assert handed_in(done, category.id) == FIRST + 2 * MINUTE
    assert handed_in(done, done.turn_ins[1].category.id) is None


def test_that_a_window_is_met_from_its_first_to_its_last_minute(day: WholeCook) -> None:
    category = day.turn_ins[0].category
    assert beyond(category, FIRST - 5 * MINUTE) is None
    assert beyond(category, FIRST + 5 * MINUTE) is None
    assert beyond(category, FIRST + 7 * MINUTE) == 2 * MINUTE
    assert beyond(category, FIRST - 8 * MINUTE) == -3 * MINUTE


# hands


def hands_lacking(whole: WholeCook) -> list[tuple[str, str]]:
    return [(t.first.kind, t.second.kind) for t in troubles(whole) if t.hands]


def planned(whole: WholeCook) -> dict[str, list[Event]]:
    found = chains(whole.events, cuts_of(whole.pieces))
    return {name: [s for s in steps if is_open(s)] for name, steps in found.items()}


def test_that_one_pair_of_hands_is_too_few_where_ribs_are_sliced_while_thighs_are_boxed(
    day: WholeCook,
) -> None:
    # By hand: ribs are sliced from 11:58 to 12:10, and the chicken is turned in at 12:00 after
    # a walk from 11:55: two minutes of both.
    assert (StepKind.WALK, EventKind.SLICED) in hands_lacking(day)


def test_that_clashes_are_counted_against_the_hands_there_are(day: WholeCook) -> None:
    one = len(list(clashes(day, planned(day))))
    counts = []
    for hands in (("Ana", "Ben"), ("Ana", "Ben", "Cy"), ("Ana", "Ben", "Cy", "Di")):
        with_hands = replace(day, cook=replace(day.cook, hands=hands))
        counts.append(len(list(clashes(with_hands, planned(with_hands)))))
    assert one > counts[0] >= counts[1] >= counts[2] == 0  # four meats never need a fifth pair


def test_that_one_person_named_for_two_things_at_once_is_told(day: WholeCook) -> None:
    walk = next(s for s in of_meat(day, "chicken thighs") if s.kind == StepKind.WALK)
    cut = next(s for s in of_meat(day, "back ribs") if s.kind == EventKind.SLICED)
    crew = replace(day.cook, hands=("Ana", "Ben", "Cy"))
    same = {walk.id: "Ana", cut.id: "Ana"}
    events = tuple(replace(e, by=same.get(e.id, "")) for e in day.events)
    busy = replace(day, cook=crew, events=events)
    (told,) = [t for t in troubles(busy) if t.by]
    assert (told.first.id, told.second.id, told.by) == (walk.id, cut.id, "Ana")
    assert told.lacks == pytest.approx(120.0)
    apart = tuple(replace(e, by="Ben") if e.id == cut.id else e for e in events)
    assert not [t for t in troubles(replace(busy, events=apart)) if t.by]


def test_that_steps_are_dealt_so_that_three_hands_never_have_two_things_at_once(
    day: WholeCook,
) -> None:
    crew = replace(day, cook=replace(day.cook, hands=("Ana", "Ben", "Cy")))
    given = dealt(crew)
    assert set(given) == {step.id for step in crew.events if is_open(step)}
    assert set(given.values()) == {"Ana", "Ben", "Cy"}
    assert hands_of(crew) == ("Ana", "Ben", "Cy")
    events = tuple(replace(e, by=given[e.id]) for e in crew.events)
    after = replace(crew, events=events)
    asked_three = len(list(clashes(crew, planned(crew))))
    own = [t for t in troubles(after) if t.by]
    assert len(own) <= asked_three  # nobody has two things where a third was free
    assert not dealt(after)
    # A box stays in one hand from building to handing in.
    for cut in HAND_MADE:
        box = [s for s in of_meat(after, cut) if s.kind in {StepKind.WALK, StepKind.TURN_IN}]
        assert len({s.by for s in box}) == 1


def test_that_hands_outlast_working_out_again_and_an_unnamed_crew_is_dealt_nothing(
    day: WholeCook,
) -> None:
    assert dealt(day) == {}
    crew = replace(day, cook=replace(day.cook, hands=("Ana", "Ben")))
    given = dealt(crew)
    events = tuple(replace(e, by=given[e.id]) for e in crew.events)
    again = worked_out(replace(crew, events=events))
    assert all(step.by for step in again.events)


def test_that_boxing_six_thighs_is_one_box_and_rubbing_them_is_six_pieces(day: WholeCook) -> None:
    steps = of_meat(day, "chicken thighs")
    boxed = next(s for s in steps if s.kind == EventKind.BOXED)
    assert work_of(boxed) == 600.0
    trim = next(s for s in steps if s.kind == StepKind.TRIM)
    assert work_of(trim) == 6 * 8 * 60.0
    assert work_of(next(s for s in steps if s.kind == StepKind.TURN_IN)) is None
