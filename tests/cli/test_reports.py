"""`season`, `class` and the shapes of a picture, from the command line."""

from pathlib import Path

import pytest

from pitjournal.cli import main
from tests.cli.conftest import Answer


def test_that_a_season_is_one_page_of_html_and_says_what_leaves(
    folder: Path, tmp_path: Path, answer: Answer
) -> None:
    target = tmp_path / "season.html"
    found = answer("season", folder, "--to", target)
    assert set(found) == {"file", "leaves", "left_out"}
    assert found["file"] == str(target)
    page = target.read_text(encoding="utf-8")
    assert "<h1>Season 2026</h1>" in page
    assert "Does injecting change the bite? (planned)" in page


def test_that_cooks_are_chosen_by_their_numbers(
    folder: Path, tmp_path: Path, answer: Answer
) -> None:
    target = tmp_path / "one.html"
    answer("season", folder, "1", "--to", target)
    page = target.read_text(encoding="utf-8")
    assert "<h1>1 cook, what it showed</h1>" in page
    assert "Does injecting change the bite?" not in page


def test_that_a_class_sheet_is_for_so_many_pieces(
    folder: Path, tmp_path: Path, answer: Answer
) -> None:
    target = tmp_path / "sheet.html"
    answer("class", folder, "injecting", "--pieces", 30, "--to", target)
    page = target.read_text(encoding="utf-8")
    assert "<h2>For 30 pieces of each arm</h2>" in page
    assert "Injected meat counts as non-intact" in page


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["season", "--to", "season.docx"], "season.docx could be anything."),
        (["season", "--to", "season.html", "--year", "1999"], "No cook and no contest in 1999."),
        (["season", "1", "--year", "2026", "--to", "season.html"], "A year or cooks, not both."),
        (["class", "2", "--to", "sheet.csv"], "sheet.csv could be anything."),
        (["class", "2", "--pieces", "0", "--to", "sheet.html"], "A class of 0 pieces cannot be."),
        (["class", "nobody", "--to", "sheet.html"], "No cook is called “nobody”."),
        (["summary", "2", "--shape", "wide", "--to", "a.pdf"], "Only a picture has a shape."),
    ],
)
def test_that_what_cannot_be_written_is_one_line(  # noqa: PLR0917 - fixtures
    folder: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    words: list[str],
    said: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    before = sorted(tmp_path.iterdir())
    assert main([words[0], str(folder), *words[1:]]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert told.count("\n") == 1
    assert sorted(tmp_path.iterdir()) == before
