"""Files beside the database that another program cuts off while the journal is open.

Each runs in a process of its own: before, the system ended it (SIGBUS).
"""

import os
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.journal import open_journal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="files in use keep their size")

WORK = """
import os, sys
from pathlib import Path
from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import AddCook
from tests.builders import a_cook

folder, what, size = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
journal = open_journal(folder, new=True)
second = open_journal(folder) if sys.argv[4] == "two" else None
for number in range(5):
    journal.do(AddCook(a_cook(f"Cook {number}")))
if what == "wal":
    journal.database.settle()
os.truncate(folder / f"journal.sqlite-{what}", size)
if second is not None:
    assert second.cooks.count() == 5, second.cooks.count()
assert journal.cooks.count() == 5
journal.do(AddCook(a_cook("After it")))
journal.worked_out.catch_up()
journal.backups.make("by-hand")
os.truncate(folder / f"journal.sqlite-{what}", size)
if sys.argv[5] == "close":
    journal.close()
else:
    os._exit(0)
"""


@pytest.mark.parametrize("windows", ["one", "two"])
@pytest.mark.parametrize("end", ["close", "killed"])
@pytest.mark.parametrize("size", [0, 50, 20_000])
def test_that_an_index_that_is_cut_off_ends_nothing_and_costs_nothing(
    tmp_path: Path, windows: str, end: str, size: int
) -> None:
    run(tmp_path / "journal", "shm", str(size), windows, end)
    with closing(open_journal(tmp_path / "journal")) as journal:
        assert journal.cooks.count() == 6
        assert journal.database.integrity() == (True, True)


@pytest.mark.parametrize("size", [0, 50, 5_000])
def test_that_a_log_that_is_cut_off_after_a_rest_costs_nothing_from_before(
    tmp_path: Path, size: int
) -> None:
    run(tmp_path / "journal", "wal", str(size), "one", "killed")
    with closing(open_journal(tmp_path / "journal")) as journal:
        assert journal.cooks.count() >= 5
        assert journal.database.integrity() == (True, True)


def run(folder: Path, *told: str) -> None:
    command = [sys.executable, "-c", WORK, str(folder), *told]
    done = subprocess.run(command, check=False, env=os.environ, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
