"""Scores as a hand types them: on past a row's end, with a point, with the focus nowhere."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.scheme import Scheme
from pitjournal.domain.tasting import Mishap, TastingState
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.tasting.mishap_panel import MishapPanel
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.bench.clock import Clock
from tests.ui.conftest import Opener
from tests.ui.test_not_reached import on_the_fire, probed
from tests.ui.test_tasting import (
    PANEL,
    chip,
    drawn,
    opened,
    page_of,
    panel,
    read_out,
    said,
    session,
)

LEFT = Qt.MouseButton.LeftButton


def rows_of(window: Window, taster: str) -> list[list[float | None]]:
    """Return what a taster gave, row by row as served."""
    found = session(window)
    return [
        [found.given.get((sample.id, taster, name)) for name in found.tasting.criteria]
        for sample in found.served(taster)
    ]


def test_that_digits_run_on_into_the_next_row(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:2])
    page.scoring.turn("Ada")
    read_out(qtbot, page, "66687676" + "5432" * 7)
    assert rows_of(window, "Ada") == [[6, 6, 6, 8], [7, 6, 7, 6], *[[5, 4, 3, 2]] * 7]
    read_out(qtbot, page, "98")
    assert "This sheet is full: 98 was not taken" in page.scoring.problem.text()
    read_out(qtbot, page, "\n")
    assert page.scoring.taster == "Bruno"
    assert "98 came after Ada’s sheet was full" in page.scoring.problem.text()
    assert rows_of(window, "Bruno") == [[None] * 4] * 9
    read_out(qtbot, page, "7")
    assert page.scoring.problem.text() == ""


def test_that_enter_takes_a_digit_too_many_back(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:1])
    page.scoring.turn("Ada")
    read_out(qtbot, page, "76871")
    second = session(window).served("Ada")[1].code
    assert f"This row is full: 1 goes to the next, {second}" in page.scoring.problem.text()
    read_out(qtbot, page, "\n")
    assert f"1 after a full row was taken back, as Enter came before {second} was full" in (
        page.scoring.problem.text()
    )
    read_out(qtbot, page, "5544\n3 3 3 3\n")
    assert rows_of(window, "Ada")[:4] == [[7, 6, 8, 7], [5, 5, 4, 4], [3] * 4, [None] * 4]


def test_that_digits_run_into_no_row_that_has_scores(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:1])
    page.scoring.turn("Ada")
    read_out(qtbot, page, "7687\n5555\n")
    fields = list(page.scoring.sheet.fields.values())
    qtbot.mouseClick(fields[3], LEFT)
    read_out(qtbot, page, "812")
    assert "This row is full: 12 was not taken" in page.scoring.problem.text()
    assert rows_of(window, "Ada")[:2] == [[7, 6, 8, 8], [5, 5, 5, 5]]


@pytest.mark.parametrize("before", ["", "7", "768"])
def test_that_half_a_point_where_there_is_none_is_refused_with_words(
    qtbot: QtBot, open_window: Opener, before: str
) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:1])
    page.scoring.turn("Ada")
    read_out(qtbot, page, f"{before}6.5")
    field = list(page.scoring.sheet.fields.values())[len(before)]
    assert "6.5 lies between two scores: 1 to 9" in page.scoring.problem.text()
    assert field.wrong
    assert len(session(window).given) == len(before)  # half of a score is none
    assert window.focusWidget() is field
    read_out(qtbot, page, "7")  # typed over
    assert page.scoring.problem.text() == ""
    wanted = [*map(float, before), 7.0]
    assert rows_of(window, "Ada")[0] == [*wanted, *[None] * (4 - len(wanted))]
    assert all(field.text() in {"", "7", "6", "8"} for field in page.scoring.sheet.fields.values())


def test_that_half_a_point_is_kept_where_the_scheme_has_them(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    add = add_comparison()
    rules = {"criteria": [{"name": "bark"}, {"name": "bite", "scale": "half points"}]}
    page = opened(window, add, DrawTasting(add.cook.id, ("Ada",), 1, Scheme(name="b", rules=rules)))
    page.scoring.turn("Ada")
    read_out(qtbot, page, "66.5\n7 8,5\n86.3")
    assert rows_of(window, "Ada")[:2] == [[6, 6.5], [7, 8.5]]
    assert "6.3 lies between two scores" in page.scoring.problem.text()


def test_that_what_is_typed_right_after_the_draw_is_kept(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = opened(window, add_comparison())
    window.show()
    page.set_up.names.setText("North, South; East and West")
    place = window.place
    assert isinstance(place, CookPlace)
    place.tabs.setFocus()
    qtbot.keyClick(window, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    page.draw_codes()  # where no key reaches a window that is on no screen
    assert session(window).tasting.tasters == ("North", "South", "East", "West")
    read_out(qtbot, page, "76875")
    assert rows_of(window, "North")[:2] == [[7, 6, 8, 7], [5, None, None, None]]


def test_that_digits_typed_with_the_focus_on_the_tabs_reach_the_sheet(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:1])
    window.show()
    place = window.place
    assert isinstance(place, CookPlace)
    place.open(place.cook_id, "bench")
    place.open(place.cook_id, "tasting")
    place.tabs.setFocus()
    qtbot.keyClicks(place.tabs, "7")
    read_out(qtbot, page, "687\n" + "5555\n" * 8)
    assert rows_of(window, "Ada")[0] == [7, 6, 8, 7]
    place.tabs.setFocus()
    qtbot.keyClicks(place.tabs, "3")
    assert "Every score of Ada is there: 3 was not taken" in page.scoring.problem.text()
    assert rows_of(window, "Ada")[0] == [7, 6, 8, 7]


def test_that_a_question_about_blanks_stands_for_the_next_tap_alone(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:2])
    page.scoring.turn("Ada")
    read_out(qtbot, page, "7687\n" * 9)
    place, scoring = window.place, page.scoring
    assert isinstance(place, CookPlace)

    def asked() -> None:
        page._lock()
        assert scoring.lock.text() == "Lock all the same"
        assert "Missing: Bruno 36" in scoring.problem.text()
        assert session(window).tasting.state is TastingState.OPEN

    asked()
    place.open(place.cook_id, "findings")
    place.open(place.cook_id, "tasting")
    assert scoring.lock.text() == "Lock the scores"
    assert scoring.problem.text() == ""
    asked()
    scoring.turn("Bruno")
    assert scoring.lock.text() == "Lock the scores"
    asked()
    scoring._second._timer.timeout.emit()  # time passed
    assert scoring.lock.text() == "Lock the scores"
    asked()
    scoring.begin()
    read_out(qtbot, page, "5")
    window.desk.bridge.undo()  # as many blanks as before, and yet asked anew
    page._lock()
    assert session(window).tasting.state is TastingState.OPEN
    page._lock()
    assert session(window).tasting.state is TastingState.LOCKED


def test_that_one_who_leaves_early_is_waited_for_no_more(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:2])
    scoring = page.scoring
    scoring.turn("Bruno")
    assert scoring.missing.text() == "Absent"
    read_out(qtbot, page, "7687\n76")
    QApplication.processEvents()
    assert scoring.missing.text() == "Left early"
    qtbot.mouseClick(scoring.missing, LEFT)
    (note,) = session(window).notes
    assert note.mishap is Mishap.LEFT
    assert note.said == "Bruno left early, with 2 of 9 samples tasted"
    assert "Bruno, left early" in [one.text() for one in scoring.tasters.findChildren(Chip)]
    assert "not waited for" in said(scoring)
    scoring.turn("Ada")
    read_out(qtbot, page, "5555\n" * 9)
    assert window.focusWidget() is scoring.lock
    qtbot.mouseClick(scoring.lock, LEFT)  # and nothing is asked
    assert session(window).tasting.state is TastingState.LOCKED
    assert rows_of(window, "Bruno")[:2] == [[7, 6, 8, 7], [7, 6, None, None]]


def test_that_a_piece_that_came_off_cold_can_be_left_out(qtbot: QtBot, open_window: Opener) -> None:
    window, clock = open_window(), Clock()
    bench = on_the_fire(window, clock, "duck legs")
    probed(qtbot, bench, "151 2")
    qtbot.mouseClick(bench.taps["on"], LEFT)
    qtbot.mouseClick(bench.due.finish, LEFT)
    page = page_of(window)
    qtbot.waitUntil(page.below.isVisible, timeout=20_000)
    chip(qtbot, page.set_up.extras, "without A1")
    page.set_up.names.setText("Ada")
    page.set_up.draw_codes()
    whole = window.desk.journal.whole(session(window).tasting.cook_id)
    served = {sample.piece_id for sample in session(window).samples}
    assert sorted(p.label for p in whole.pieces if p.id in served) == ["A2", "B1", "B2"]


def test_that_a_mishap_is_noted_by_keys_alone_and_says_what_the_score_was(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=PANEL[:1])
    window.show()
    page.scoring.turn("Ada")
    read_out(qtbot, page, "7687\n" * 9)
    page._lock()
    assert session(window).tasting.state is TastingState.LOCKED
    qtbot.mouseClick(page.scoring.wrong, LEFT)
    fix = panel(window, MishapPanel)
    assert isinstance(fix, MishapPanel)
    window.activateWindow()
    qtbot.waitUntil(lambda: isinstance(window.focusWidget(), Chip))  # where Space chooses
    code = window.focusWidget()
    assert isinstance(code, Chip)
    qtbot.keyClick(code, Qt.Key.Key_Space)
    assert len(fix.codes.values()) == 1
    assert fix.value.placeholderText() == "The right score instead of 7; empty is none"
