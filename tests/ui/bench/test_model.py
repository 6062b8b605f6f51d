"""What is next at the bench, and where the clock stands: pure functions under a clock of ours."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from pitjournal.domain.cook import Arm
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bench.model import PieceNow, asks_leeway, next_due, piece_now, running_time
from pitjournal.ui.bench.off_card import off_words
from pitjournal.ui.bench.tapped import due_tap, last_tapped
from pitjournal.units import UnitSystem
from tests.analysis.plan.test_contest_day import FIRST, contest_day, worked_out
from tests.builders import NOON, a_cook, an_event

MIN = timedelta(minutes=1)
CHICAGO = ZoneInfo("America/Chicago")


def a_whole(question: str, *, feels: dict[str, int]) -> WholeCook:
    """Return two arms of two pieces on since noon, some of them felt after two hours."""
    cook = a_cook(question=question)
    arms = [Arm(cook_id=cook.id, position=n, name=name) for n, name in enumerate(("left", "inj"))]
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=label, cut="back ribs", arm_id=arms[n % 2].id)
        for n, label in enumerate(("L1", "I1", "L2", "I2"))
    )
    checks = tuple(
        DonenessCheck(
            cook_id=cook.id, piece_id=p.id, at=NOON + timedelta(hours=2), feel=feels[p.label]
        )
        for p in pieces
        if p.label in feels
    )
    events = (an_event(cook.id, EventKind.LIT, minutes=-60), an_event(cook.id, EventKind.ON))
    return WholeCook(cook=cook, arms=tuple(arms), pieces=pieces, checks=checks, events=events)


def due(whole: WholeCook, minutes: float) -> tuple[str, str, tuple[str, ...]]:
    now = NOON + timedelta(minutes=minutes)
    pieces = [piece_now(whole, piece, UnitSystem.US, now) for piece in whole.pieces]
    found = next_due(whole, now, pieces)
    labels = {piece.id: piece.label for piece in whole.pieces}
    return found.heading, found.words, tuple(labels[p] for p in found.pieces)


@pytest.mark.parametrize(
    ("question", "asked"),
    [
        ("Which forgives more, injected or left alone?", True),
        ("How long does a rack stay right?", True),
        ("Does injecting change the bite?", False),
    ],
)
def test_that_a_question_of_leeway_is_known_as_one(question: str, asked: bool) -> None:
    assert asks_leeway(a_whole(question, feels={})) is asked


def test_that_the_last_piece_of_each_arm_is_left_on_when_leeway_is_asked() -> None:
    feels = {"L1": 4, "I1": 4, "L2": 4, "I2": 4}
    heading, words, off = due(a_whole("Which forgives more?", feels=feels), 121)
    assert heading == "L1, I1: right, take off"
    assert words.startswith("Leave L2, I2 on.")
    assert off == ("L1", "I1")


def test_that_without_that_question_all_may_come_off() -> None:
    feels = dict.fromkeys(("L1", "I1", "L2", "I2"), 4)
    heading, _, _ = due(a_whole("Does injecting change the bite?", feels=feels), 121)
    assert heading == "All are right: take them off"


def test_that_a_quarter_of_an_hour_after_a_probe_comes_the_next() -> None:
    whole = a_whole("", feels={"L1": 2})
    assert due(whole, 134)[0] == "Nothing is due"
    assert due(whole, 136)[0] == "Probe L1 again"


def test_that_meat_that_is_right_comes_before_steps_that_were_passed_over() -> None:
    feels = dict.fromkeys(("L1", "I1", "L2", "I2"), 4)
    whole = a_whole("Does injecting change the bite?", feels=feels)
    step = an_event(whole.cook.id, "swap slots", minutes=60)
    planned = replace(step, happened_at=None, planned_at=step.happened_at)
    whole = replace(whole, events=(*whole.events, planned))
    assert due(replace(whole, checks=()), 121)[0] == "Swap slots: overdue"
    assert due(whole, 121)[0] == "All are right: take them off"
    glaze = replace(planned, kind="glaze")
    assert due(replace(whole, events=(*whole.events[:2], glaze)), 121)[0] == "Glaze: overdue"


def test_that_what_is_over_is_named_first() -> None:
    whole = a_whole("Which forgives more?", feels={"L1": 4, "I1": 6})
    assert due(whole, 150) == ("I1: over, take off", "It does not get better on the fire.", ("I1",))


def test_that_what_was_entered_last_is_repeated_even_when_it_happened_earlier() -> None:
    whole = a_whole("", feels={})
    late = replace(
        an_event(whole.cook.id, "spritz", minutes=30), entered_at=NOON + timedelta(hours=1)
    )
    lid = an_event(whole.cook.id, "lid", minutes=40)
    found = last_tapped(replace(whole, events=(*whole.events, late, lid)))
    assert found == late


@pytest.mark.parametrize(
    ("on", "now", "clock", "running"),
    [
        # Clocks go back at 2:00 CDT on 1 November 2026 (15 USC 260a): one hour comes twice.
        ("2026-11-01T00:30-05:00", "2026-11-01T01:30-06:00", "01:30 CST", "2 h on"),
        ("2026-11-01T00:30-05:00", "2026-11-01T01:30-05:00", "01:30 CDT", "1 h on"),
        # They go forward at 2:00 CST on 8 March 2026: 1:30 to 3:30 is one hour.
        ("2026-03-08T01:30-06:00", "2026-03-08T03:30-05:00", "03:30", "1 h on"),
        # Across midnight.
        ("2026-05-02T22:00-05:00", "2026-05-03T04:00-05:00", "04:00", "6 h on"),
        # A traveller: the computer is in Berlin, the cook is not.
        ("2026-05-02T12:00-05:00", "2026-05-03T00:00+02:00", "17:00", "5 h on"),
    ],
)
def test_that_the_clock_and_the_running_time_are_the_cooks_own(
    on: str, now: str, clock: str, running: str
) -> None:
    cook = a_cook()
    start, moment = (datetime.fromisoformat(text).astimezone(UTC) for text in (on, now))
    event = replace(an_event(cook.id, EventKind.ON), happened_at=start, entered_at=start)
    whole = WholeCook(cook=cook, events=(event,))
    assert show_time(moment, cook.zone) == clock
    assert running_time(whole, moment) == running


@pytest.mark.parametrize(
    ("minutes", "heading"),
    [
        (20, "Wrap at 07:20"),  # noon UTC is 7:00 in Chicago in May
        (24 * 60, "Wrap, tomorrow 07:00"),
        (3 * 24 * 60, "Wrap, 5 May 07:00"),
    ],
)
def test_that_what_is_due_on_another_day_is_said_with_its_day(minutes: int, heading: str) -> None:
    whole = a_whole("", feels={})
    step = an_event(whole.cook.id, EventKind.WRAP)
    planned = replace(step, happened_at=None, planned_at=NOON + timedelta(minutes=minutes))
    assert due(replace(whole, events=(*whole.events, planned)), 0)[0] == heading


def test_that_a_box_whose_window_is_open_is_next_and_is_called_late_once_it_is() -> None:
    # A window of ten minutes around an official clock: common practice, no source.
    whole = worked_out(contest_day())
    done = [e for e in whole.events if e.planned_at is not None and e.planned_at < FIRST - 6 * MIN]
    ids = {e.id for e in done}
    events = tuple(replace(e, happened_at=e.planned_at) if e.id in ids else e for e in whole.events)
    walked = tuple(
        replace(e, happened_at=e.planned_at)
        if e.kind == StepKind.WALK and e.planned_at is not None and e.planned_at < FIRST
        else e
        for e in events
    )
    cook = replace(whole, events=walked)
    now = FIRST + MIN  # by then three racks should be sliced, but the box goes first
    due = next_due(cook, now, [piece_now(cook, p, UnitSystem.US, now) for p in cook.pieces])
    assert (due.heading, due.tap) == ("Turn in chicken thighs at 12:00", "turn in")
    late = FIRST + 7 * MIN
    due = next_due(cook, late, [piece_now(cook, p, UnitSystem.US, late) for p in cook.pieces])
    assert due.heading == "Turn in chicken thighs: late"
    assert due.words == "The window closed at 12:05, 2 min ago."


def now_pieces(whole: WholeCook, now: datetime) -> list[PieceNow]:
    return [piece_now(whole, piece, UnitSystem.US, now) for piece in whole.pieces]


def test_that_one_piece_that_is_right_takes_no_other_off_with_it() -> None:
    whole, now = a_whole("Is it tender?", feels={"L1": 4}), NOON + timedelta(minutes=125)
    assert due(whole, 125)[::2] == ("L1: right", ("L1",))
    pieces = now_pieces(whole, now)
    found = next_due(whole, now, pieces)
    assert due_tap(whole, found, (), pieces) == ""  # it is for all four, and no red tap
    assert due_tap(whole, found, found.pieces, pieces) == "off"


def planned_off(whole: WholeCook, on: float, off: float) -> WholeCook:
    """Return a cook whose meat, on at noon, was planned to be on and off at these minutes."""
    (lit, went_on) = whole.events
    begun = replace(went_on, planned_at=NOON + timedelta(minutes=on))
    ends = replace(
        an_event(whole.cook.id, EventKind.OFF),
        happened_at=None,
        planned_at=NOON + timedelta(minutes=off),
    )
    return replace(whole, events=(lit, begun, ends))


def test_that_when_it_comes_off_moves_along_with_when_it_went_on() -> None:
    # Planned 10:00 to 16:00 and on at 12:00: six hours are over at 18:00. Noon UTC is 7 in Chicago.
    whole = a_whole("Is it tender?", feels={})
    now = NOON + timedelta(minutes=60)
    late = planned_off(whole, -120, 240)
    said = off_words(late, (), now_pieces(late, now), now)
    assert said == ("Comes off", "13:00", "went on 2 h late")
    early = planned_off(whole, 30, 390)
    assert off_words(early, (), now_pieces(early, now), now)[1:] == (
        "13:00",
        "went on 30 min early",
    )
    there = planned_off(whole, 10, 370)
    assert off_words(there, (), now_pieces(there, now), now)[1:] == ("13:10", "as planned")


def test_that_meat_that_felt_right_comes_off_now_whatever_was_planned() -> None:
    whole = planned_off(a_whole("", feels={"L1": 4, "I1": 5, "L2": 4, "I2": 6}), 0, 360)
    now = NOON + timedelta(minutes=130)
    said = off_words(whole, (), now_pieces(whole, now), now)
    assert said == ("Comes off", "now", "all felt right")
