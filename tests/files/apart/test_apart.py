"""Whatever becomes of the process that reads, the program lives on and says it in a line."""

import os
import pickle
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from pitjournal.errors import JournalError
from pitjournal.files import apart
from pitjournal.files.apart import ReadingLimits, read_apart
from pitjournal.files.apart.calls import ReaderFaultError
from tests.files.apart import readers

LIMITS = ReadingLimits(memory=300_000_000, seconds=30.0)
SHORT = ReadingLimits(memory=300_000_000, seconds=1.0)


@pytest.fixture(autouse=True)
def none_left() -> Iterator[None]:
    yield
    apart.close()
    assert not children()


def children() -> list[int]:
    """Return the processes that this one started and that are still there, zombies too."""
    found = Path("/proc/self/task").glob("*/children")
    return [int(pid) for one in found for pid in one.read_text(encoding="ascii").split()]


def says(limits: ReadingLimits = LIMITS) -> int:
    """Return the process that reads now."""
    pid, data = read_apart("honest", limits, None, readers.says, b"a rack of ribs")
    assert data == b"a rack of ribs"
    assert pid != os.getpid()
    return pid


def test_that_one_process_reads_file_after_file() -> None:
    assert len({says() for _ in range(5)}) == 1


def test_that_large_files_arrive_whole_both_ways() -> None:
    data = os.urandom(30_000_000)
    assert read_apart("large", ReadingLimits(), None, readers.says, data)[1] == data


def test_that_a_short_file_after_a_long_one_is_itself() -> None:
    for length in (3_000_000, 400_000, 2_000_000):
        data = os.urandom(length)
        assert read_apart("one", LIMITS, None, readers.says, data)[1] == data


@pytest.mark.skipif(sys.platform != "linux", reason="memory is shared on Linux only")
def test_that_a_reader_that_rests_holds_no_file() -> None:
    def held() -> int:
        links = [link for link in Path("/proc/self/fd").iterdir() if link.is_symlink()]
        return sum(link.stat().st_size for link in links if "memfd:calls" in str(link.readlink()))

    read_apart("large", ReadingLimits(), None, readers.says, os.urandom(3_000_000))
    assert held() == 3_000_000
    apart.tidy()
    assert held() == 0
    data = os.urandom(3_000_000)
    assert read_apart("large", ReadingLimits(), None, readers.says, data)[1] == data


def test_that_a_refusal_comes_back_with_its_hint() -> None:
    with pytest.raises(JournalError) as refused:
        read_apart("short", LIMITS, None, readers.refuses, b"abc")
    assert (refused.value.message, refused.value.hint) == ("3 bytes are not enough.", "Take more.")


def test_that_a_fault_of_a_reader_comes_with_where_it_was() -> None:
    with pytest.raises(ReaderFaultError, match=r"readers\.py:\d+ in faults"):
        read_apart("wrong", LIMITS, None, readers.faults, b"")
    says()


@pytest.mark.parametrize(
    ("reader", "limits", "said"),
    [
        (readers.ends, LIMITS, "reading it broke off"),
        (readers.grows, LIMITS, "more memory than"),
        (readers.hangs, SHORT, "not read within 1 seconds"),
        (readers.works_for_ever, SHORT, "not read within 1 seconds"),
    ],
)
def test_that_a_file_that_is_too_much_is_refused_and_the_next_one_read(
    reader: Callable[[bytes], object], limits: ReadingLimits, said: str
) -> None:
    before = says(limits)
    with pytest.raises(JournalError, match=said) as refused:
        read_apart("bad.xlsx", limits, None, reader, b"")
    assert refused.value.message.startswith("bad.xlsx ")
    assert refused.value.hint
    assert says(limits) != before


def test_that_reading_ends_at_once_when_nobody_waits_any_more() -> None:
    class NoLongerWantedError(Exception):
        pass

    asked = []

    def stop() -> None:
        asked.append(1)
        if len(asked) > 3:
            raise NoLongerWantedError

    begun = time.monotonic()
    with pytest.raises(NoLongerWantedError):
        read_apart("slow", LIMITS, stop, readers.hangs, b"")
    assert time.monotonic() - begun < 10
    says()


def test_that_a_reader_that_prints_does_not_disturb_its_answer() -> None:
    assert read_apart("noisy", LIMITS, None, readers.prints, b"") == "quiet"


def test_that_nothing_is_called_that_comes_back() -> None:
    with pytest.raises(pickle.UnpicklingError, match="not taken"):
        read_apart("sly", LIMITS, None, readers.sends_a_call, b"")


def test_that_a_process_made_ahead_is_the_one_that_reads() -> None:
    apart.prepare("pitjournal.files.probe_log.reader")
    (ahead,) = children()
    assert says(ReadingLimits()) == ahead


def test_that_a_process_that_rests_is_let_go(monkeypatch: pytest.MonkeyPatch) -> None:
    says()
    apart.tidy()
    assert children()
    monkeypatch.setattr("pitjournal.files.apart.calls.KEPT", -1.0)
    apart.tidy()
    assert not children()


PARENT = """
import sys
from pitjournal.files.apart import ReadingLimits, read_apart
from tests.files.apart import readers
print(read_apart("a", ReadingLimits(), None, readers.says, b"")[0], flush=True)
{then}
"""


@pytest.mark.parametrize(
    "then", ["sys.stdin.read()", 'read_apart("a", ReadingLimits(), None, readers.hangs, b"")']
)
def test_that_the_process_ends_when_the_program_is_killed(then: str) -> None:
    command = [sys.executable, "-c", PARENT.format(then=then)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as program:
        assert program.stdout is not None
        reader = int(program.stdout.readline())
        assert Path(f"/proc/{reader}").exists()
        program.kill()
    until = time.monotonic() + 20
    while Path(f"/proc/{reader}").exists() and time.monotonic() < until:
        os.sched_yield()
    assert not Path(f"/proc/{reader}").exists()
