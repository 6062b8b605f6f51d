"""A turn-in window rings by itself; that five minutes are said is common practice, no source."""

from dataclasses import replace
from datetime import datetime, timedelta

from pitjournal.analysis.bench.alarms import AlarmNow, alarms_now
from pitjournal.analysis.bench.windows import category_of_alarm
from pitjournal.domain.alarm import Alarm, AlarmState
from pitjournal.domain.contest import Category, Contest, TurnIn
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook
from tests.builders import NOON, a_cook, an_event

MINUTE = timedelta(minutes=1)
IDEAL = NOON + 300 * MINUTE


def whole() -> WholeCook:
    """Return a cook whose chicken is turned in from 11:55 to 12:05 in Chicago (UTC − 5 h)."""
    cook = a_cook()
    contest = Contest(name="Spring", starts_at=NOON, zone="America/Chicago")
    category = Category(
        contest_id=contest.id,
        position=0,
        name="chicken",
        opens=IDEAL - 5 * MINUTE,
        ideal=IDEAL,
        closes=IDEAL + 5 * MINUTE,
        cook_id=cook.id,
    )
    piece = Piece(cook_id=cook.id, position=0, label="C1", cut="chicken thighs")
    return WholeCook(cook=cook, pieces=(piece,), turn_ins=(TurnIn(contest, category),))


def none(_trace: Trace) -> Samples:
    raise AssertionError


def now(cook: WholeCook, at: datetime) -> list[AlarmNow]:
    return list(alarms_now(cook, none, at))


def ringing(cook: WholeCook, at: datetime) -> list[str]:
    return [one.alarm.words for one in now(cook, at) if one.state is AlarmState.RINGING]


def test_that_a_window_waits_rings_open_nearly_and_closed_and_says_the_meat() -> None:
    before = now(whole(), NOON)
    assert [one.due for one in before] == [IDEAL - 5 * MINUTE, IDEAL, IDEAL + 5 * MINUTE]
    assert {one.state for one in before} == {AlarmState.WAITING}
    at = ringing(whole(), IDEAL - 5 * MINUTE)
    assert at == ["Chicken: window open until 12:05"]
    assert {one.alarm.source for one in before} == {"C1, Spring"}
    assert ringing(whole(), IDEAL) == ["Chicken: five minutes, closes 12:05"]
    late = ringing(whole(), IDEAL + 6 * MINUTE)
    assert late == ["Chicken: window closes now, 12:05"]


def test_that_it_follows_the_times_of_the_contest() -> None:
    cook = whole()
    (turn_in,) = cook.turn_ins
    later = replace(turn_in.category, opens=IDEAL + 25 * MINUTE, closes=IDEAL + 35 * MINUTE)
    moved = replace(cook, turn_ins=(replace(turn_in, category=later),))
    assert ringing(moved, IDEAL) == []
    assert len(ringing(moved, IDEAL + 25 * MINUTE)) == 1


def test_that_turned_in_ends_it_and_so_does_the_end_of_the_cook() -> None:
    cook = whole()
    tap = an_event(cook.cook.id, StepKind.TURN_IN, minutes=298)
    done = replace(cook, events=(tap,))
    assert now(done, IDEAL) == []
    finished = replace(cook, cook=replace(cook.cook, status=CookStatus.DONE))
    assert now(finished, IDEAL) == []
    assert now(cook, IDEAL + 4 * 60 * MINUTE) == []  # of another day


def test_that_what_was_heard_stays_heard_and_a_cook_s_own_alarms_stay() -> None:
    cook = whole()
    (opens, *_) = [one.alarm for one in now(cook, NOON)]
    heard = replace(opens, heard=opens.at)
    mine = Alarm(cook_id=cook.cook.id, kind=opens.kind, words="Garnish", set_at=NOON, at=IDEAL)
    kept = replace(cook, alarms=(heard, mine))
    at = now(kept, IDEAL - 4 * MINUTE)
    assert [one.state for one in at if one.alarm.id == opens.id] == [AlarmState.HEARD]
    assert mine.id in {one.alarm.id for one in at}
    assert len(at) == 4
    assert category_of_alarm(kept, opens.id) == cook.turn_ins[0]
    assert category_of_alarm(kept, mine.id) is None
