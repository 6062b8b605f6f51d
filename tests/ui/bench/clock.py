"""A clock that stands until it is moved, and the bench of a running cook under it."""

from datetime import datetime, timedelta

from pitjournal.domain.event import EventKind
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.window import Window
from tests.builders import NOON, add_comparison, an_event


class Clock:
    """The time of a window's desk."""

    def __init__(self, now: datetime = NOON) -> None:
        self.now = now

    def wind(self, window: Window) -> None:
        """Give a window this clock."""
        window.desk.clock = lambda: self.now

    def pass_seconds(self, window: Window, seconds: float) -> None:
        """Let time pass, and the window see it once, as after a sleep."""
        self.now += timedelta(seconds=seconds)
        window.desk.watch.look()
        place = window.place
        if isinstance(place, CookPlace) and isinstance(place.current, BenchPage):
            place.current._tick()

    def pass_minutes(self, window: Window, minutes: float) -> None:
        """Let minutes pass."""
        self.pass_seconds(window, 60 * minutes)


def bench_of(window: Window) -> BenchPage:
    """Return the bench that is seen."""
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    return place.current


def bench_on(window: Window, clock: Clock) -> BenchPage:
    """Add a running comparison and go to its bench, under this clock."""
    clock.wind(window)
    command = add_comparison()
    window.desk.journal.do(command)
    lit = an_event(command.cook.id, EventKind.LIT, minutes=-60)
    window.desk.journal.do(LogEvent(lit, "Log lit"))
    window.desk.journal.do(LogEvent(an_event(command.cook.id, EventKind.ON, minutes=-5), "Log on"))
    window.go("cook", command.cook.id, "bench")
    return bench_of(window)
