"""Moving one step moves the rest; locked ones stay; midnight and clock changes do no harm."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from pitjournal.domain.day.schedule import ENDS, RESTS, StepKind, chains, due, moved
from pitjournal.domain.event import Event, EventKind

NOON = datetime(2026, 5, 2, 12, 0, tzinfo=UTC)
CUTS = {"a": "brisket", "b": "back ribs"}

BRISKET = (
    (StepKind.INJECT, -720.0, None),
    (EventKind.ON, 0.0, None),
    (EventKind.WRAP, 300.0, None),
    (EventKind.OFF, 600.0, 60.0),
    (EventKind.SLICED, 720.0, 10.0),
    (StepKind.TURN_IN, 730.0, None),
)


def day(
    piece: str = "a", start: datetime = NOON, *, locked: frozenset[str] = frozenset({"turn in"})
) -> list[Event]:
    """Return a cut's steps; minutes from going on, and the least minutes to the next."""
    return [
        Event(
            cook_id="cook",
            kind=kind,
            happened_at=None,
            entered_at=start,
            planned_at=start + timedelta(minutes=at),
            pieces=(piece,) if piece else (),
            takes=None if takes is None else 60 * takes,
            locked=kind in locked,
        )
        for kind, at, takes in BRISKET
    ]


def light(at: datetime, *, locked: bool = False) -> Event:
    return Event(
        cook_id="cook",
        kind=EventKind.LIT,
        happened_at=None,
        entered_at=at,
        planned_at=at,
        locked=locked,
    )


def move(steps: list[Event], kind: str, minutes: float, piece: str = "a") -> dict[str, float]:
    """Move a step; return how many minutes each kind of that chain moved."""
    step = next(s for s in steps if s.kind == kind and (piece in s.pieces or not piece))
    assert step.planned_at is not None
    new = moved(steps, CUTS, step.id, step.planned_at + timedelta(minutes=minutes))
    return {
        s.kind: (new[s.id] - s.planned_at).total_seconds() / 60
        for s in steps
        if s.id in new and s.planned_at is not None and (piece in s.pieces or not s.pieces)
    }


def test_that_moving_on_moves_what_is_done_before_and_on_the_fire() -> None:
    shifts = move(day(), EventKind.ON, -20)
    assert shifts == {"inject": -20, "on": -20, "wrap": -20, "off": -20}


def test_that_the_hold_takes_the_slack_and_gives_it() -> None:
    # Off at 600 with a rest of at least 60 and slicing at 720: an hour of slack.
    assert "sliced" not in move(day(), EventKind.ON, 60)
    assert move(day(), EventKind.ON, 75)["sliced"] == 15
    assert "off" not in move(day(), EventKind.SLICED, -60)
    assert move(day(), EventKind.SLICED, -75)["off"] == -15


def test_that_a_locked_step_stays_and_nothing_beyond_it_moves() -> None:
    steps = day(locked=frozenset({"on", "turn in"}))
    assert move(steps, EventKind.WRAP, 30) == {"wrap": 30, "off": 30}
    assert "turn in" not in move(day(), EventKind.SLICED, 30)


def test_that_a_later_turn_in_moves_the_whole_day() -> None:
    shifts = move(day(), StepKind.TURN_IN, 90)
    assert set(shifts.values()) == {90}
    assert len(shifts) == len(BRISKET)


def test_that_what_has_happened_stays() -> None:
    steps = day()
    done = [
        Event(**{**vars(s), "happened_at": NOON}) if s.kind == EventKind.ON else s for s in steps
    ]
    assert move(done, EventKind.WRAP, 30) == {"wrap": 30, "off": 30}


def test_that_the_fire_is_lit_earlier_for_the_first_meat_only() -> None:
    fire = light(NOON - timedelta(minutes=45))
    steps = [fire, *day("a"), *day("b", NOON + timedelta(hours=4))]
    brisket_on = next(s for s in steps if s.kind == EventKind.ON and s.pieces == ("a",))
    ribs_on = next(s for s in steps if s.kind == EventKind.ON and s.pieces == ("b",))
    earlier = moved(steps, CUTS, brisket_on.id, NOON - timedelta(minutes=30))
    assert earlier[fire.id] == NOON - timedelta(minutes=75)
    assert ribs_on.id not in earlier
    later = moved(steps, CUTS, ribs_on.id, NOON + timedelta(hours=5))
    assert fire.id not in later


def test_that_lighting_later_puts_all_meat_on_later() -> None:
    fire = light(NOON - timedelta(minutes=45))
    steps = [fire, *day("a"), *day("b", NOON + timedelta(hours=4))]
    new = moved(steps, CUTS, fire.id, NOON - timedelta(minutes=15))
    ons = [new[s.id] - s.planned_at for s in steps if s.kind == EventKind.ON and s.planned_at]
    assert ons == [timedelta(minutes=30)] * 2


def test_that_a_cook_through_the_night_of_a_clock_change_keeps_its_hours() -> None:
    # In Chicago clocks went back on 1 November 2026 at 2:00 (Energy Policy Act of 2005).
    zone = ZoneInfo("America/Chicago")
    on = datetime(2026, 10, 31, 23, 30, tzinfo=zone).astimezone(UTC)
    steps = day("a", on)
    wrap = next(s for s in steps if s.kind == EventKind.WRAP)
    assert wrap.planned_at is not None
    assert wrap.planned_at.astimezone(zone).strftime("%H:%M") == "03:30"  # five hours later
    new = moved(steps, CUTS, wrap.id, wrap.planned_at - timedelta(hours=1))
    at = next(new[s.id] for s in steps if s.kind == EventKind.ON)
    assert at.astimezone(zone).strftime("%d %H:%M") == "31 22:30"


@given(
    kind=st.sampled_from([kind for kind, _, _ in BRISKET]),
    minutes=st.integers(-600, 600),
    locked=st.sets(st.sampled_from([str(kind) for kind, _, _ in BRISKET])),
)
def test_that_order_and_gaps_outlast_any_move_between_loose_steps(
    kind: str, minutes: int, locked: set[str]
) -> None:
    steps = day(locked=frozenset(locked - {kind}))
    step = next(s for s in steps if s.kind == kind)
    assert step.planned_at is not None
    new = moved(steps, CUTS, step.id, step.planned_at + timedelta(minutes=minutes))
    chain = chains(steps, CUTS)["brisket"]
    for before, after in pairwise(chain):
        both = before.id in new and after.id in new
        if not both or not before.planned_at or not after.planned_at:
            continue
        gap = new[after.id] - new[before.id]
        if before.kind in RESTS and kind not in ENDS:
            assert gap >= timedelta(seconds=before.takes or 0)
        else:
            assert gap == after.planned_at - before.planned_at
    stays = [s for s in steps if s.locked and s.id != step.id]
    assert not any(s.id in new for s in stays)


def test_that_what_was_passed_over_is_not_due() -> None:
    fire = light(NOON - timedelta(minutes=45))
    steps = [fire, *day("a"), *day("b", NOON + timedelta(hours=4))]
    assert [s.kind for s in due(steps)][:3] == [StepKind.INJECT, StepKind.INJECT, "lit"]
    on = next(s for s in steps if s.kind == EventKind.ON and s.pieces == ("a",))
    tapped = Event(**{**vars(on), "happened_at": NOON})
    after = [tapped if s.id == on.id else s for s in steps]
    left = [(s.kind, s.pieces) for s in due(after)]
    assert (StepKind.INJECT, ("a",)) not in left
    assert (StepKind.INJECT, ("b",)) in left
    assert (EventKind.LIT, ()) not in left
    off = next(s for s in steps if s.kind == EventKind.OFF and s.pieces == ("a",))
    done = Event(**{**vars(off), "happened_at": NOON})
    left = [(s.kind, s.pieces) for s in due([done if s.id == off.id else s for s in after])]
    assert [kind for kind, pieces in left if pieces == ("a",)] == ["sliced", "turn in"]
    assert (EventKind.WRAP, ("b",)) in left
