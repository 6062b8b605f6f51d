"""When a logger was started whose file shows a clock and no day: by hand, in Chicago."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.probe_log import ProbeLog, read_probe_log
from pitjournal.ui.bench.probes.logger_start import logger_start
from tests.builders import NOON, a_cook, an_event

STARTED = datetime(2026, 5, 2, 1, 5, tzinfo=UTC)  # 20:05 on 1 May in Chicago, five hours behind


def overnight(head: str = "Time") -> ProbeLog:
    """Read five hours from 20:05 on, a row a minute, past midnight."""
    rows = "".join(
        f"{STARTED - timedelta(hours=5) + timedelta(minutes=n):%I:%M:%S %p},{250 + n % 5}\n"
        for n in range(300)
    )
    return read_probe_log(f"{head},Pit (F)\n{rows}".encode(), "log.csv")


def a_whole(status: CookStatus) -> WholeCook:
    cook = a_cook(status=status)
    return WholeCook(cook=cook, events=(an_event(cook.id, EventKind.ON, minutes=-11 * 60),))


def test_that_a_clock_without_a_day_is_the_last_one_that_ends_by_now() -> None:
    running = a_whole(CookStatus.RUNNING)
    assert logger_start(overnight(), running, NOON) == STARTED
    soon = STARTED + timedelta(hours=4)  # an hour before its end: it is the day before's
    assert logger_start(overnight(), running, soon) == STARTED - timedelta(days=1)


def test_that_for_a_cook_that_is_done_it_is_the_nearest_to_when_its_meat_went_on() -> None:
    done = a_whole(CookStatus.DONE)
    assert logger_start(overnight(), done, NOON + timedelta(days=40)) == STARTED


def test_that_what_counts_from_nought_has_no_such_start() -> None:
    counted = read_probe_log(
        b"Elapsed (min),Pit (F)\n" + b"".join(b"%d,250\n" % n for n in range(60)), "log.csv"
    )
    assert logger_start(counted, a_whole(CookStatus.RUNNING), NOON) is None
    log = replace(overnight(), first_rows=())
    assert logger_start(log, a_whole(CookStatus.RUNNING), NOON) is None
