"""A text column that holds bytes costs its own record, and nothing else."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.store import compare
from tests.journal.test_checks import a_journal


def spoil(folder: Path, table: str, column: str) -> None:
    """Put bytes that are no text into a column of every row."""
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection:
        assert connection.execute(f"UPDATE {table} SET {column} = x'ff00fe'").rowcount
        connection.commit()


@pytest.mark.parametrize("column", ["title", "question", "outcome", "zone", "kind", "status"])
def test_that_a_cook_with_bytes_for_a_text_is_named_and_left_out(
    tmp_path: Path, column: str, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "j"
    a_journal(folder)
    spoil(folder, "cook", column)
    assert main(["cooks", str(folder)]) == 0
    (line,) = capsys.readouterr().err.splitlines()
    assert f"is left out: its {column} is" in line
    assert main(["summary", str(folder), "1", "--to", str(tmp_path / "x.html")]) == 2
    assert f"That cook cannot be read: its {column} is" in capsys.readouterr().err


@pytest.mark.parametrize(("table", "column"), [("piece", "cut"), ("arm", "name")])
def test_that_bytes_for_a_name_in_a_cook_leave_its_line_in_the_list(
    tmp_path: Path, table: str, column: str
) -> None:
    folder = tmp_path / "j"
    a_journal(folder)
    spoil(folder, table, column)
    assert main(["cooks", str(folder)]) == 0


def test_that_titles_of_bytes_are_compared_too(tmp_path: Path) -> None:
    for name in ("one", "other"):
        a_journal(tmp_path / name)
    spoil(tmp_path / "one", "cook", "title")
    databases = (tmp_path / name / "journal.sqlite" for name in ("one", "other"))
    found = compare.differences(*databases)
    assert [cook.title for cook in found.go] == [""]
