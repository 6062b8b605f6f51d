"""A clock that was set leaves the order of what is logged, and its times are mended together."""

from datetime import UTC, datetime, timedelta

import pytest

from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.journal import Journal
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.bench import CheckDoneness, LogEvent
from pitjournal.journal.commands.clock import MoveTimes
from pitjournal.journal.steady_clock import SteadyClock
from tests.builders import NOON, add_comparison, an_event

HOUR = timedelta(hours=1)


class Computer:
    """A computer whose clock can be set, and that can sleep."""

    def __init__(self) -> None:
        self.wall, self.passed = NOON, 1000.0

    def pass_by(self, seconds: float, *, asleep: bool = False) -> None:
        self.wall += timedelta(seconds=seconds)
        self.passed += 0.0 if asleep else seconds

    def clock(self, *, counts_sleep: bool = True) -> SteadyClock:
        return SteadyClock(lambda: self.wall, lambda: self.passed, counts_sleep=counts_sleep)


@pytest.mark.parametrize("set_by", [-HOUR, HOUR, timedelta(days=-400), timedelta(minutes=-3)])
def test_that_a_clock_that_is_set_is_noticed_and_time_goes_on(set_by: timedelta) -> None:
    computer = Computer()
    clock = computer.clock()
    computer.pass_by(600)
    computer.wall += set_by
    computer.pass_by(60)
    assert clock.jump() == set_by
    assert clock.now() == NOON + timedelta(minutes=11)
    clock.take_new()
    assert clock.now() == NOON + timedelta(minutes=11) + set_by
    assert not clock.jump()


def test_that_a_small_correction_is_taken_over_without_a_word() -> None:
    computer = Computer()
    clock = computer.clock()
    for _ in range(100):  # a minute each, an hour and more in all
        computer.pass_by(600)
        computer.wall += timedelta(seconds=60)
        assert not clock.jump()
    assert clock.now() == computer.wall


@pytest.mark.parametrize("counts_sleep", [True, False])
def test_that_sleep_is_no_jump(*, counts_sleep: bool) -> None:
    computer = Computer()
    clock = computer.clock(counts_sleep=counts_sleep)
    computer.pass_by(8 * 3600, asleep=not counts_sleep)
    assert not clock.jump()
    assert clock.now() == computer.wall


def test_that_the_real_clock_goes_with_the_computers() -> None:
    clock = SteadyClock()
    assert abs(clock.now() - datetime.now(UTC)) < timedelta(seconds=5)
    assert not clock.jump()


def test_that_times_since_a_moment_are_moved_together_in_one_step(journal: Journal) -> None:
    command = add_comparison()
    journal.do(command)
    cook_id = command.cook.id
    piece = journal.whole(cook_id).pieces[0]
    for kind, minutes in ((EventKind.LIT, -90), (EventKind.ON, 0), (EventKind.WRAP, 120)):
        journal.do(LogEvent(an_event(cook_id, kind, minutes=minutes), "Log"))
    check = DonenessCheck(cook_id=cook_id, piece_id=piece.id, at=NOON + HOUR, feel=3)
    journal.do(CheckDoneness(check, "Probe"))

    def times() -> dict[str, datetime | None]:
        found = {event.kind: event.happened_at for event in journal.find(Event)}
        return found | {"check": journal.find(DonenessCheck)[0].at}

    before = times()
    journal.do(MoveTimes(cook_id, NOON, -HOUR, "Move"))
    assert times() == {
        EventKind.LIT: before[EventKind.LIT],
        EventKind.ON: NOON - HOUR,
        EventKind.WRAP: NOON + HOUR,
        "check": NOON,
    }
    assert check_journal(journal).held
    journal.undo()
    assert times() == before
