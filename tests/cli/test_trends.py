"""Questions on the command line: as a sentence, and by the name they are saved under."""

import csv
from pathlib import Path

import pytest

from pitjournal.analysis.trends.question import By, Question
from pitjournal.analysis.trends.stored import kept
from pitjournal.cli import main
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.journal import open_journal
from pitjournal.journal.commands.questions import SaveQuestion
from pitjournal.journal.commands.records import Add, AddCook
from tests.builders import a_cook, add_judged
from tests.cli.conftest import Answer


@pytest.fixture
def cooks(tmp_path: Path) -> Path:
    """Return a journal of three cooks with a saved question, and one of a newer version."""
    path = tmp_path / "three"
    journal = open_journal(path, new=True)
    for number, (cut, thickness) in enumerate(
        (("brisket", 0.05), ("brisket", 0.06), ("back ribs", 0.02))
    ):
        cook = a_cook(f"Cook {number}")
        piece = Piece(cook_id=cook.id, position=0, label="A", cut=cut, thickness_1=thickness)
        journal.do(AddCook(cook, (piece,)))
    journal.do(SaveQuestion("How thick", kept(Question("thickness", (By("cut"),)))))
    newer = SavedQuestion(name="From tomorrow", question={"version": 99}, position=1)
    journal.do(Add((newer,), "Keep"))
    journal.close()
    return path


@pytest.mark.parametrize("words", ["thickness by cut", "How thick", "how thick "])
def test_that_a_sentence_and_a_saved_name_ask_the_same(
    cooks: Path, answer: Answer, words: str
) -> None:
    found = answer("trends", cooks, "--question", words)
    assert found["question"] == "thickness by cut"
    means = {group["key"][0]: group["mean"] for group in found["groups"]}
    assert means == {"brisket": pytest.approx(0.055), "back ribs": pytest.approx(0.02)}


def test_that_a_sentence_takes_filters_and_what_is_held(cooks: Path, answer: Answer) -> None:
    found = answer(
        "trends", cooks, "--units", "us", "--question", "thickness where thickness above 1 in"
    )
    assert found["where"] == ["thickness above 1 in"]
    assert found["groups"][0]["cooks"] == 2


def test_that_saved_questions_are_listed_also_those_that_cannot_be_read(
    cooks: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    found = answer("trends", cooks, "--questions")
    assert found == [
        {"name": "How thick", "question": "thickness by cut"},
        {"name": "From tomorrow", "question": None},
    ]
    assert main(["trends", str(cooks), "--questions"]) == 0
    assert "A newer version" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--question", "thicknes by cut"], "Did you mean thickness"),
        (["--question", "From tomorrow"], "newer version"),
        (["--question", "thickness", "--by", "cut"], "--question alone"),
        ([], "Add --show"),
    ],
)
def test_that_what_cannot_be_asked_is_one_line(
    cooks: Path, capsys: pytest.CaptureFixture[str], words: list[str], said: str
) -> None:
    assert main(["trends", str(cooks), *words]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert told.count("\n") == 1


def test_that_no_saved_question_says_where_to_save_one(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["trends", str(folder), "--questions"]) == 0
    assert "Save one in Trends" in capsys.readouterr().out


def test_that_panel_and_judges_are_held_against_each_other(
    tmp_path: Path, answer: Answer, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "judged"
    journal = open_journal(path, new=True)
    add_judged(journal, "One", [(5, 5), (6, 8)])
    add_judged(journal, "Two", [(5, 6), (4, 7)])
    add_judged(journal, "Three", [(4, 8)])
    journal.close()
    question = "tenderness (contest) by tenderness"
    # The judges less the panel: (0, 2), (1, 3), (4); worked by hand in the tests of science.
    found = answer("trends", path, "--question", question)["agreement"]
    assert (found["pieces"], found["cooks"]) == (5, 3)
    assert found["mean"] == pytest.approx(7 / 3)
    assert found["limits"][1] == pytest.approx(7 / 3 + 1.96 * 3**0.5)
    assert answer("trends", path, "--question", "tenderness")["agreement"] is None
    capsys.readouterr()
    assert main(["trends", str(path), "--question", question]) == 0
    assert "lies 2.33 points above tenderness on average" in capsys.readouterr().out


def test_that_csv_is_in_the_units_of_the_words(
    cooks: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # 0.055 m are 55 mm; an inch is 25.4 mm (international yard and pound agreement, 1959).
    for units, unit, mean in (("metric", "mm", "55"), ("us", "in", "2.165354331")):
        words = ["--question", "thickness by cut", "--units", units, "--csv"]
        assert main(["trends", str(cooks), *words]) == 0
        rows = list(csv.DictReader(capsys.readouterr().out.splitlines()))
        assert {row["cut"]: row[f"mean ({unit})"] for row in rows}["brisket"] == mean
