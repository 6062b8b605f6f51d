"""`pitjournal contests`: what came of contests, as a list and as JSON.

Common practice, no source: the lowest of six weighted cards is left out. By hand: six cards of
all eights, 4 × 8 = 32 points each, come to 5 × 32 = 160.
"""

from pathlib import Path

import pytest

from pitjournal.cli import main
from pitjournal.domain.contest import Category, Contest
from pitjournal.files.schemes import shipped
from pitjournal.journal import open_journal
from pitjournal.journal.commands.contests import EnterCards, JudgeBy
from pitjournal.journal.commands.records import Add
from tests.builders import NOON
from tests.cli.conftest import Answer


@pytest.fixture
def contests(folder: Path) -> Path:
    """Return a journal with one contest: ribs judged, butt not yet."""
    journal = open_journal(folder)
    contest = Contest(name="Spring", starts_at=NOON, zone="America/Chicago", field=11)
    ribs, butt = (
        Category(contest_id=contest.id, position=place, name=name, given_place=given)
        for place, (name, given) in enumerate((("ribs", 3), ("pork butt", None)))
    )
    journal.do(Add((contest, ribs, butt), "A contest"))
    journal.do(JudgeBy(ribs.id, shipped("contest-2")))
    eights = dict.fromkeys(("appearance", "taste", "tenderness"), 8.0)
    journal.do(EnterCards(ribs.id, (eights,) * 6))
    journal.close()
    return folder


def test_that_a_contest_has_its_categories_with_totals_and_places(
    contests: Path, answer: Answer
) -> None:
    (found,) = answer("contests", contests)
    assert (found["name"], found["date"], found["field"]) == ("Spring", "2026-05-02", 11)
    assert (found["total"], found["placed"]) == (None, None)  # the butt is not judged yet
    ribs, butt = found["categories"]
    assert ribs["total"] == pytest.approx(160.0)
    assert (ribs["placed"], ribs["beaten"], ribs["judged_by"]) == (3, 0.8, "contest, version 2")
    assert ribs["cards"] == [pytest.approx(32.0)] * 6
    assert (butt["total"], butt["judged_by"]) == (None, None)


def test_that_the_list_is_for_people_and_says_whose_rules_come_first(
    contests: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["contests", str(contests)]) == 0
    out = capsys.readouterr().out
    assert "160.0000" in out
    assert "80 %" in out
    assert "Check the rules of the contest you enter" in out
    assert "None" not in out


def test_that_only_one_year_is_listed_where_one_is_named(contests: Path, answer: Answer) -> None:
    assert answer("contests", contests, "--year", 2025) == []
    assert len(answer("contests", contests, "--year", 2026)) == 1
