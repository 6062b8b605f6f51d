import csv
from pathlib import Path

import pytest

from pitjournal.cli import main
from tests.cli.conftest import Answer


def test_that_a_summary_is_written_and_says_what_leaves(
    folder: Path, tmp_path: Path, answer: Answer
) -> None:
    target = tmp_path / "cook.html"
    found = answer("summary", folder, "injecting", "--to", target)
    assert set(found) == {"file", "leaves", "left_out"}
    assert found["file"] == str(target)
    assert "<h1>Does injecting change the bite?</h1>" in target.read_text(encoding="utf-8")


def test_that_the_table_has_a_line_a_piece(folder: Path, tmp_path: Path) -> None:
    target = tmp_path / "cook.csv"
    assert main(["summary", str(folder), "2", "--to", str(target)]) == 0
    with target.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["Piece"] for row in rows] == ["A1", "B1", "C1", "A2", "B2", "C2", "A3", "B3", "C3"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["2", "--to", "cook.docx"], "cook.docx could be anything."),
        (["nothing like it", "--to", "cook.html"], "No cook is called “nothing like it”."),
        (["2", "--to", "/nowhere/at/all/cook.html"], "/nowhere/at/all/cook.html cannot be written"),
        (["2", "--to", "cook.html", "--detail", "all"], "Argument --detail: invalid choice"),
    ],
)
def test_that_what_cannot_be_written_is_told(
    folder: Path, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["summary", str(folder), *words]) == 2
    assert said in capsys.readouterr().err
