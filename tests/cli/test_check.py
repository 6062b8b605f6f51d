from pathlib import Path

import pytest

from pitjournal.cli import main
from tests.cli.conftest import Answer
from tests.journal.test_checks import a_journal

READINGS = "the readings of a channel of the log log.csv of “Does injecting change the bite?”"


def test_that_a_whole_journal_is_a_yes(folder: Path, answer: Answer) -> None:
    found = answer("check", folder)
    assert set(found) == {
        "database",
        "foreign_keys",
        "attachments",
        "traces",
        "derived",
        "derived_older",
        "rows",
        "lacking",
        "foreign",
        "impossible",
        "rubbish",
        "held",
    }
    assert found["held"] is True


def test_that_a_fault_is_a_no(
    tmp_path: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    sha = a_journal(tmp_path / "j")
    (tmp_path / "j" / "attachments" / sha[:2] / sha).write_bytes(b"else")
    found = answer("check", tmp_path / "j", code=1)
    assert found["attachments"] == {
        "checked": 2,
        "missing": 0,
        "changed": 1,
        "which": [f"{READINGS} ({sha[:12]}…) is changed"],
    }
    assert main(["check", str(tmp_path / "j")]) == 1
    told = capsys.readouterr().out
    assert "NOT HELD  2 kept files looked at, 1 changed" in told
    assert "The journal is not whole." in told


def test_that_no_journal_is_neither(tmp_path: Path) -> None:
    assert main(["check", str(tmp_path)]) == 2
