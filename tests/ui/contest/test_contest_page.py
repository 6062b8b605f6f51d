"""A contest in the window: cards by keys in one sitting, places, and the season around it.

Common practice, no source: six judges, the lowest weighted card left out. Sums are by hand.
"""

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.analysis.contests.results import result_of
from pitjournal.domain.contest import Category, Contest, JudgeCard
from pitjournal.domain.cook import Cook, CookKind
from pitjournal.ui.contest.page import ContestPage
from pitjournal.ui.look.parts.fields import Field
from pitjournal.ui.look.parts.words_field import WordsField
from pitjournal.ui.season.page import CATEGORIES, SeasonPage
from pitjournal.ui.tasting.sheet import ScoreField
from pitjournal.ui.window import Window
from tests.ui.conftest import Opener

READ_OUT = "998898898888888777"
"""Six cards, appearance, taste, tenderness: those that count add up to 41, 43 and 40."""

TOTAL = 167.4516  # 0.56 × 41 + 2.2972 × 43 + 1.1428 × 40, the sevens left out


def begun(window: Window) -> ContestPage:
    window.go("season")
    season = window.place
    assert isinstance(season, SeasonPage)
    season.begin()
    page = window.place
    assert isinstance(page, ContestPage)
    return page


def type_into(qtbot: QtBot, field: Field, text: str) -> None:
    field.line.selectAll()
    qtbot.keyClicks(field.line, text)
    qtbot.keyClick(field.line, Qt.Key.Key_Return)


def tell(page: ContestPage, totals: str) -> None:
    page.category.others.words.edit.setPlainText(totals)
    page.category.others.words.commit()


def read_out(qtbot: QtBot, window: Window, digits: str) -> None:
    for digit in digits:
        focus = window.focusWidget()
        assert isinstance(focus, ScoreField)
        qtbot.keyClick(focus, digit)


def test_that_a_new_contest_has_four_categories_with_rules_and_one_undo_takes_it_back(
    open_window: Opener,
) -> None:
    window = open_window()
    begun(window)
    journal = window.desk.journal
    assert [category.name for category in journal.find(Category)] == list(CATEGORIES)
    assert all(category.asked.judges == 6 for category in journal.find(Category))
    journal.undo()
    assert not journal.find(Contest)
    assert isinstance(window.place, SeasonPage)


def test_that_cards_are_entered_digit_by_digit_and_go_on_to_the_next_category(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    window.show()
    page = begun(window)
    page.grid.begin()
    read_out(qtbot, window, READ_OUT)
    journal = window.desk.journal
    assert len(journal.find(JudgeCard)) == 6
    assert page.whole is not None
    assert result_of(page.whole.turn_ins[0]).total == pytest.approx(TOTAL, abs=1e-9)
    read_out(qtbot, window, "888")  # of the next category, whose first field had the keys
    second = journal.find(Category)[1]
    (card,) = journal.find(JudgeCard, category_id=second.id)
    assert (card.seat, set(card.scores.values())) == (1, {8.0})


def test_that_a_score_no_judge_can_give_is_said_and_not_kept(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    window.show()
    page = begun(window)
    page.grid.begin()
    read_out(qtbot, window, "0")
    assert "not on the scale" in page.problem.text()
    assert not window.desk.journal.find(JudgeCard)


def test_that_the_place_is_worked_out_from_all_other_totals_and_said_so(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    window.show()
    page = begun(window)
    page.grid.begin()
    read_out(qtbot, window, READ_OUT)
    first = window.desk.journal.find(Category)[0]
    page.turn(first.id)
    type_into(qtbot, page.contest.field, "4")
    tell(page, "171.25 160, 167.4515")
    assert "2nd of 4, by the totals of all others." in page.result.text()
    assert "67 %" in page.result.text()  # two of three others stand behind
    tell(page, "171.25 much")
    assert "much" in page.category.others.error.text()
    assert window.desk.journal.find(Category)[0].others == (171.25, 167.4515, 160.0)


def test_that_a_window_that_closes_before_it_opens_is_refused(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    page = begun(window)
    type_into(qtbot, page.category.times["opens"], "11:55")
    type_into(qtbot, page.category.times["closes"], "11:50")
    assert "then it closes" in page.category.times["closes"].error.text()
    first = window.desk.journal.find(Category)[0]
    assert first.opens is not None
    assert first.closes is None


def test_that_its_cook_is_planned_for_the_turn_in_and_named_by_both(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    page = begun(window)
    type_into(qtbot, page.contest.name, "Field day")
    type_into(qtbot, page.category.times["ideal"], "12:00")
    page.category.plan.click()
    journal = window.desk.journal
    (cook,) = journal.find(Cook)
    first = journal.find(Category)[0]
    assert first.cook_id == cook.id
    assert (cook.title, cook.kind) == ("Field day, chicken", CookKind.CONTEST)
    assert cook.serve_at == first.ideal
    assert first.ideal is not None
    assert first.ideal - cook.starts_at == timedelta(hours=6)
    journal.undo()
    assert not journal.find(Cook)


def test_that_the_season_leads_to_a_contest_and_says_what_came_of_it(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    page = begun(window)
    type_into(qtbot, page.contest.name, "Field day")
    type_into(qtbot, page.contest.field, "20")
    type_into(qtbot, page.contest.place, "3")
    window.go("season")
    season = window.place
    assert isinstance(season, SeasonPage)
    assert season.list.texts()[0][1:] == ["Field day", "contest", "3rd of 20"]
    season._open(0)
    assert isinstance(window.place, ContestPage)


def test_that_a_note_being_typed_stays_with_its_category_when_another_is_turned_to(
    open_window: Opener, qtbot: QtBot
) -> None:
    window = open_window()
    window.show()
    page = begun(window)
    first, second, *_ = window.desk.journal.find(Category)
    note = next(
        field
        for field in page.category.findChildren(WordsField)
        if "Notes" in field.edit.accessibleName()
    )
    note.edit.setFocus()
    qtbot.keyClicks(note.edit, "too much parsley")
    page.turn(second.id)
    kept = {one.id: one.note for one in window.desk.journal.find(Category)}
    assert (kept[first.id], kept[second.id]) == ("too much parsley", "")
    assert note.edit.toPlainText() == ""
