"""A clock that goes on steadily while the computer's is set: what is logged keeps its order."""

import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

SMALL = timedelta(minutes=2)
"""A computer's clock is corrected by so much without a word."""


def _wall() -> datetime:
    return datetime.now(UTC)


def elapsed() -> float:
    """Return seconds that nobody can set, with those in which the computer slept, if it counts them."""
    boot = getattr(time, "CLOCK_BOOTTIME", None)
    return time.monotonic() if boot is None else time.clock_gettime(boot)


COUNTS_SLEEP = hasattr(time, "CLOCK_BOOTTIME")
"""Whether a jump ahead is no sleep."""


class SteadyClock:
    """The computer's clock as it was when this began, going on whatever is done to it.

    Parameters
    ----------
    wall
        The computer's clock, aware.
    passed
        Seconds that only ever grow.
    counts_sleep
        Whether they grow while the computer sleeps; where not, a jump ahead is taken for sleep.
    """

    def __init__(
        self,
        wall: Callable[[], datetime] = _wall,
        passed: Callable[[], float] = elapsed,
        *,
        counts_sleep: bool = COUNTS_SLEEP,
    ) -> None:
        self._wall, self._passed, self._counts_sleep = wall, passed, counts_sleep
        self._begun = wall(), passed()
        self.since = self._begun[0]

    def now(self) -> datetime:
        """Return the time, aware."""
        start, passed = self._begun
        return start + timedelta(seconds=self._passed() - passed)

    def jump(self) -> timedelta:
        """Return how far the computer's clock was set since: behind is negative, none is zero.

        Small corrections, and sleep where it is not counted, are taken over.
        """
        found = self._wall() - self.now()
        if abs(found) <= SMALL or (found > timedelta() and not self._counts_sleep):
            self._begun = self._wall(), self._passed()
            return timedelta()
        return found

    def take_new(self) -> None:
        """Go by the computer's clock as it is now."""
        self._begun = self._wall(), self._passed()
        self.since = self._begun[0]
