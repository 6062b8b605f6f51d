import csv
from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.files.formats import Format
from pitjournal.journal import open_journal
from pitjournal.ui.summary_formats import SUMMARY_FORMATS, ToWrite
from tests.builders import add_judged
from tests.cli.conftest import Answer


def test_that_a_summary_is_written_and_says_what_leaves(
    folder: Path, tmp_path: Path, answer: Answer
) -> None:
    target = tmp_path / "cook.html"
    found = answer("summary", folder, "injecting", "--to", target)
    assert set(found) == {"file", "leaves", "left_out", "links"}
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


def test_that_a_question_goes_along_with_a_link_that_asks_it_again(
    tmp_path: Path, answer: Answer
) -> None:
    path, target = tmp_path / "judged", tmp_path / "cook.html"
    journal = open_journal(path, new=True)
    for title, score in (("One", 5.0), ("Two", 6.0), ("Three", 7.0)):
        add_judged(journal, title, [(score, score), (score, score)])
    journal.close()
    told = answer("summary", path, "One", "--to", target, "--ask", "tenderness by cut")
    (link,) = told["links"]
    # RFC 3986: a space is %20
    assert link == "pitjournal:ask?tenderness%20by%20cut"
    assert "the question “tenderness by cut”, answered by all your cooks" in told["leaves"]
    page = target.read_text(encoding="utf-8")
    assert f'<a href="{link}">tenderness by cut</a>' in page
    # Means 5, 6 and 7: 6 ± 4.303 × 1 / √3 (Student, 2 degrees of freedom), rounded outward
    assert ">6<" in page
    assert "3.51 to 8.49 points" in page
    again = answer("trends", path, "--question", link)
    assert (again["question"], again["link"]) == ("tenderness by cut", link)
    assert again["groups"][0]["mean"] == pytest.approx(6.0)


@pytest.mark.parametrize(
    ("sentence", "needs", "words"),
    [
        ("cost by cut", "costs", "costs"),
        ("tenderness by place", "place", "place and altitude"),
        ("tenderness by cut where supplier is Butcher", "supplier", "suppliers and lots"),
        ("tenderness by cut where text has secret", "notes", "notes"),
        ("tenderness holding price", "costs", "costs"),
    ],
)
def test_that_a_question_over_something_private_stays_unless_that_is_chosen(  # noqa: PLR0917 - fixtures
    folder: Path, tmp_path: Path, answer: Answer, sentence: str, needs: str, words: str
) -> None:
    target = tmp_path / "cook.html"
    kept = answer("summary", folder, "2", "--to", target, "--ask", sentence)
    assert kept["links"] == []
    assert f"the question “{sentence}” (it tells of {words})" in kept["left_out"]
    assert "Asked of all cooks" not in target.read_text(encoding="utf-8")
    if "holding" not in sentence:  # with two cooks nothing can be held
        let = answer("summary", folder, "2", "--to", target, "--ask", sentence, "--with", needs)
        assert len(let["links"]) == 1
        assert not any("the question" in one for one in let["left_out"])


def test_that_shares_of_recipes_are_let_out_by_their_detail(
    folder: Path, tmp_path: Path, answer: Answer
) -> None:
    target, sentence = tmp_path / "cook.html", "salt in the meat by cut"
    kept = answer("summary", folder, "2", "--to", target, "--ask", sentence)
    assert f"the question “{sentence}” (it tells of shares of recipes)" in kept["left_out"]
    let = answer("summary", folder, "2", "--to", target, "--ask", sentence, "--detail", "ratios")
    assert len(let["links"]) == 1


def test_that_what_cannot_be_asked_is_one_line(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "cook.html"
    assert main(["summary", str(folder), "2", "--to", str(target), "--ask", "tendernes"]) == 2
    said = capsys.readouterr().err
    assert "Did you mean tenderness or tenderness (contest)" in said
    assert said.count("\n") == 1
    assert not target.exists()


@pytest.mark.parametrize("form", SUMMARY_FORMATS, ids=lambda form: form.suffix)
def test_that_every_format_of_the_list_is_written(
    folder: Path, tmp_path: Path, form: Format[ToWrite]
) -> None:
    if form.suffix in {".pdf", ".png"}:
        pytest.importorskip("PySide6")
    for ending in (form.suffix, *form.also, form.suffix.upper()):
        target = tmp_path / f"cook{ending}"
        assert main(["summary", str(folder), "2", "--to", str(target)]) == 0
        assert target.stat().st_size > 100
