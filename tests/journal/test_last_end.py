"""What is said at the start after the system ended the program."""

import faulthandler
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from pitjournal.journal import last_end

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="these signals are POSIX")


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Give the settings and the note a place of their own, and the faults back to pytest."""
    monkeypatch.setenv("PITJOURNAL_SETTINGS", str(tmp_path / "settings.json"))
    yield tmp_path
    faulthandler.enable(sys.__stderr__ or 2)


def ended_by(number: signal.Signals) -> None:
    work = f"""
import os
from pitjournal.journal.last_end import watch_for_end
assert watch_for_end() == ""
os.kill(os.getpid(), {int(number)})
"""
    done = subprocess.run([sys.executable, "-c", work], check=False, env=os.environ)
    assert done.returncode == -number


def test_that_a_file_that_was_cut_off_is_told_once() -> None:
    ended_by(signal.SIGBUS)
    said = last_end.watch_for_end()
    assert "cut off by another program" in said
    assert "\n" not in said
    assert last_end.watch_for_end() == ""


def test_that_another_fault_is_told_as_one_of_the_program() -> None:
    ended_by(signal.SIGSEGV)
    assert "a fault in it" in last_end.watch_for_end()


def test_that_nothing_is_told_of_one_that_was_killed_or_of_a_note_that_is_none(
    place: Path,
) -> None:
    ended_by(signal.SIGKILL)
    assert last_end.watch_for_end() == ""
    last_end.path_of_note().write_bytes(b"\xff\xfe other things")
    assert last_end.watch_for_end() == ""
    place.joinpath("pitjournal.ended").unlink()
    place.joinpath("pitjournal.ended").mkdir()
    assert last_end.watch_for_end() == ""  # the program starts all the same


def test_that_a_fault_that_ended_nothing_is_not_told() -> None:
    work = """
from pitjournal.journal import last_end
assert last_end.watch_for_end() == ""
last_end.path_of_note().write_text("Windows fatal exception: access violation\\n")
"""
    subprocess.run([sys.executable, "-c", work], check=True, env=os.environ)
    assert last_end.watch_for_end() == ""
