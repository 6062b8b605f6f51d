"""A contest through the journal's door: cards by seat, totals and places by the rules.

Common practice, no source: six judges, whole numbers 2 to 9 (1 is a penalty), the lowest weighted
card left out; weights 0.5600, 2.2972 and 1.1428, earlier 0.5714, 2.2858 and 1.1428. All sums are
by hand. The rules of a contest itself come first.
"""

from datetime import timedelta
from pathlib import Path

import pytest

from pitjournal.analysis.contests.results import overall_of, result_of, tie_words
from pitjournal.analysis.trends.question import By, Question
from pitjournal.domain.contest import Category, Contest, JudgeCard, TurnIn, WholeContest
from pitjournal.domain.piece import Piece
from pitjournal.errors import JournalError
from pitjournal.files.schemes import shipped
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.contests import EnterCards, EnterScore, JudgeBy
from pitjournal.journal.commands.records import Add, AddCook, Change, Remove
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook

CARDS = tuple(
    {"appearance": float(a), "taste": float(b), "tenderness": float(c)}
    for a, b, c in ((9, 9, 8), (8, 9, 8), (8, 9, 8), (8, 8, 8), (8, 8, 8), (7, 7, 7))
)
"""Of the five that count appearance has 41, taste 43, tenderness 40; the sevens are lowest."""

NOW = 167.4516  # 0.56 × 41 + 2.2972 × 43 + 1.1428 × 40 = 22.96 + 98.7796 + 45.712
BEFORE = 167.4288  # 0.5714 × 41 + 2.2858 × 43 + 1.1428 × 40 = 23.4274 + 98.2894 + 45.712


def made(journal: Journal, *names: str, **fields: object) -> tuple[Contest, list[Category]]:
    """Add a contest of these categories, judged by the newer rules."""
    contest = Contest(name="Spring", starts_at=NOON, zone="America/Chicago", **fields)  # type: ignore[arg-type]
    categories = [
        Category(contest_id=contest.id, position=place, name=name, meat=name)
        for place, name in enumerate(names)
    ]
    journal.do(Add((contest, *categories), "A contest"))
    for category in categories:
        journal.do(JudgeBy(category.id, shipped("contest-2")))
    return contest, categories


def seen(journal: Journal, contest: Contest) -> WholeContest:
    found = journal.contests.whole(contest.id)
    assert found is not None
    return found


def first(journal: Journal, contest: Contest) -> TurnIn:
    return seen(journal, contest).turn_ins[0]


def test_that_six_cards_add_up_by_both_versions_of_the_rules(journal: Journal) -> None:
    contest, (ribs,) = made(journal, "ribs")
    journal.do(EnterCards(ribs.id, CARDS))
    assert result_of(first(journal, contest)).total == pytest.approx(NOW, abs=1e-9)
    journal.do(JudgeBy(ribs.id, shipped("contest-1")))
    assert result_of(first(journal, contest)).total == pytest.approx(BEFORE, abs=1e-9)
    journal.undo()
    assert first(journal, contest).category.title == "contest, version 2"


def test_that_a_total_waits_for_the_last_whole_card(journal: Journal) -> None:
    contest, (ribs,) = made(journal, "ribs")
    journal.do(EnterCards(ribs.id, CARDS[:5]))
    for name, value in {"appearance": 7.0, "taste": 7.0}.items():
        journal.do(EnterScore(ribs.id, 6, name, value))
    assert result_of(first(journal, contest)).total is None
    journal.do(EnterScore(ribs.id, 6, "tenderness", 7.0))
    assert result_of(first(journal, contest)).total == pytest.approx(NOW, abs=1e-9)
    journal.do(EnterScore(ribs.id, 6, "tenderness", None))
    assert result_of(first(journal, contest)).total is None
    journal.undo()


@pytest.mark.parametrize(
    ("seat", "criterion", "value"),
    [
        (1, "taste", 10.0),
        (1, "taste", 7.5),
        (1, "taste", 0.0),
        (7, "taste", 8.0),
        (0, "taste", 8.0),
        (1, "smoke", 8.0),
    ],
)
def test_that_what_no_judge_can_give_is_refused_and_changes_nothing(
    journal: Journal, seat: int, criterion: str, value: float
) -> None:
    _, (ribs,) = made(journal, "ribs")
    with pytest.raises(JournalError):
        journal.do(EnterScore(ribs.id, seat, criterion, value))
    assert not journal.find(JudgeCard)


def test_that_a_penalty_of_one_counts_as_one(journal: Journal) -> None:
    contest, (ribs,) = made(journal, "ribs")
    journal.do(EnterCards(ribs.id, (*CARDS[:5], {**CARDS[5], "appearance": 1.0})))
    # that card was the lowest and still is: the total stays
    assert result_of(first(journal, contest)).total == pytest.approx(NOW, abs=1e-9)
    assert result_of(first(journal, contest)).cards[0] == pytest.approx(
        0.56 + 2.2972 * 7 + 1.1428 * 7
    )


def test_that_cards_are_not_judged_by_a_scheme_that_scores_other_things(journal: Journal) -> None:
    _, (ribs,) = made(journal, "ribs")
    journal.do(EnterCards(ribs.id, CARDS))
    with pytest.raises(JournalError, match="no total"):
        journal.do(JudgeBy(ribs.id, shipped("home-panel-1")))


def test_that_a_place_is_worked_out_only_where_all_totals_are_known(journal: Journal) -> None:
    contest, (ribs,) = made(journal, "ribs", field=5)
    journal.do(EnterCards(ribs.id, CARDS))
    journal.do(Change(Category, ribs.id, {"others": (170.0, 160.5, 167.4516)}))
    assert result_of(first(journal, contest)).place is None  # one of four is missing
    journal.do(Change(Category, ribs.id, {"others": (170.0, 160.5, 167.4516, 171.2)}))
    found = result_of(first(journal, contest))
    assert (found.place, found.tied, found.worked_out) == (3, 1, True)
    assert found.beaten == pytest.approx(2 / 4)  # two of four others stand behind
    assert "one other has" in tie_words(first(journal, contest), found)
    journal.do(Change(Category, ribs.id, {"given_place": 4}))
    found = result_of(first(journal, contest))
    assert (found.place, found.worked_out, found.doubts) == (4, False, ())  # as the tie was settled
    journal.do(Change(Category, ribs.id, {"given_place": 2}))
    assert "announced 2" in result_of(first(journal, contest)).doubts[0]


def test_that_a_category_may_have_a_field_of_its_own(journal: Journal) -> None:
    contest, (ribs,) = made(journal, "ribs", field=40)
    journal.do(Change(Category, ribs.id, {"given_place": 3, "entries": 21}))
    assert result_of(first(journal, contest)).beaten == pytest.approx(18 / 20)
    journal.do(Change(Category, ribs.id, {"given_place": 22}))
    found = result_of(first(journal, contest))
    assert found.beaten is None
    assert found.doubts == ("Place 22 of 21 cannot be.",)


def test_that_the_sum_over_all_categories_waits_for_all_of_them(journal: Journal) -> None:
    contest, (ribs, butt) = made(journal, "ribs", "pork butt", field=3)
    journal.do(EnterCards(ribs.id, CARDS))
    assert overall_of(seen(journal, contest)).total is None
    journal.do(Change(Category, butt.id, {"given_total": 150.5}))
    assert overall_of(seen(journal, contest)).total == pytest.approx(317.9516)  # 167.4516 + 150.5
    journal.do(Change(Contest, contest.id, {"overall_others": (300.0, 320.0)}))
    assert overall_of(seen(journal, contest)).place == 2


def test_that_trends_knows_what_came_of_a_contest_and_follows_each_change(
    journal: Journal,
) -> None:
    contest, (ribs,) = made(journal, "ribs", field=11)
    cook = a_cook()
    rack = Piece(cook_id=cook.id, position=0, label="A1", cut="back ribs")
    journal.do(AddCook(cook, (rack,)))
    journal.do(EnterCards(ribs.id, CARDS))
    question = Question("contest_total", (By("contest"),))
    assert not journal.trends.ask(question, UnitSystem.US).groups
    journal.do(Change(Category, ribs.id, {"cook_id": cook.id, "given_place": 3}))
    (group,) = journal.trends.ask(question, UnitSystem.US).groups
    assert group.key == ("Spring",)
    assert group.mean == pytest.approx(NOW)
    journal.do(Change(Contest, contest.id, {"field": 21}))
    beaten = journal.trends.ask(Question("field_beaten", ()), UnitSystem.US).groups
    assert [one.mean for one in beaten] == [pytest.approx(18 / 20)]
    journal.do(EnterScore(ribs.id, 1, "taste", 8.0))
    (group,) = journal.trends.ask(question, UnitSystem.US).groups
    assert group.mean == pytest.approx(NOW - 2.2972)
    other = a_cook("Another")
    journal.do(AddCook(other, (Piece(cook_id=other.id, position=0, label="B1", cut="ribs"),)))
    journal.do(Change(Category, ribs.id, {"cook_id": other.id}))
    values = {cook_id: said for _, cook_id, level, said in journal.values() if level == "piece"}
    assert "contest_total" not in values[cook.id]
    assert values[other.id]["contest_place"] == 3.0


def test_that_of_several_categories_from_one_cook_each_piece_has_that_of_its_meat(
    journal: Journal,
) -> None:
    _, (ribs, butt) = made(journal, "back ribs", "pork butt", field=11)
    cook = a_cook()
    pieces = [
        Piece(cook_id=cook.id, position=place, label=label, cut=cut)
        for place, (label, cut) in enumerate((("R1", "baby backs"), ("B1", "Boston butt")))
    ]
    journal.do(AddCook(cook, tuple(pieces)))
    for place, category in enumerate((ribs, butt), start=1):
        journal.do(Change(Category, category.id, {"cook_id": cook.id, "given_place": place}))
    places = {owner: said.get("contest_place") for owner, _, _, said in journal.values()}
    assert [places[piece.id] for piece in pieces] == [1.0, 2.0]


def test_that_a_removed_contest_takes_its_cards_along_and_leaves_its_cook(journal: Journal) -> None:
    contest, (ribs,) = made(journal, "ribs")
    cook = a_cook()
    journal.do(AddCook(cook))
    journal.do(EnterCards(ribs.id, CARDS))
    journal.do(Change(Category, ribs.id, {"cook_id": cook.id}))
    journal.do(Remove(Contest, contest.id))
    assert not journal.find(Category)
    assert not journal.find(JudgeCard)
    assert journal.cooks.count() == 1
    journal.undo()
    assert len(journal.find(JudgeCard)) == 6
    journal.do(Remove(type(cook), journal.find(type(cook))[0].id))
    assert journal.find(Category)[0].cook_id is None


def test_that_a_contest_is_as_it_was_after_a_restart(tmp_path: Path) -> None:
    folder = tmp_path / "journal"
    journal = open_journal(folder, new=True)
    contest, (ribs,) = made(journal, "ribs", field=42, paid=150.0)
    opens = NOON + timedelta(minutes=55)
    times = {"opens": opens, "ideal": NOON, "closes": opens, "must": "six portions"}
    journal.do(Change(Category, ribs.id, times))
    journal.do(EnterCards(ribs.id, CARDS))
    before = seen(journal, contest)
    journal.close()
    again = open_journal(folder)
    assert seen(again, contest) == before
    again.undo()
    assert not seen(again, contest).turn_ins[0].cards
    again.close()
