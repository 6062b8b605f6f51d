"""The page of Trends: every way to ask, to draw, to tap, to brush, to save and to take along."""

import csv
from collections.abc import Callable
from functools import partial
from pathlib import Path
from threading import current_thread, main_thread
from typing import TypeVar

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.question import By, Part, Picture, Question, Sign, Where
from pitjournal.analysis.trends.stored import kept
from pitjournal.analysis.trends.table import answer_as_csv
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.journal.commands.questions import SaveQuestion
from pitjournal.journal.commands.records import Add, AddCook, Change, Remove
from pitjournal.ui.charts.groups_chart import GroupsChart
from pitjournal.ui.charts.marks_chart import MarksChart
from pitjournal.ui.charts.scatter_chart import ScatterChart
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.destination import Destination, ToTest
from pitjournal.ui.findings.share_panel import SharePanel
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.theme import font
from pitjournal.ui.plan.new_cook import NewCookPage
from pitjournal.ui.trends.by_panel import BinsPanel, VariablePanel
from pitjournal.ui.trends.export_panel import ExportPanel
from pitjournal.ui.trends.filter_panel import FilterPanel
from pitjournal.ui.trends.how_panel import entries
from pitjournal.ui.trends.page import TrendsPage
from pitjournal.ui.trends.saved_card import (
    A_TURN,
    AT_ONCE,
    SavedCard,
    SavedLine,
    SavedPanel,
    SavePanel,
)
from pitjournal.ui.window import Window
from pitjournal.units import UnitSystem
from tests.builders import a_cook, add_judged
from tests.ui.conftest import Opener
from tests.ui.invented import with_cooks

LEFT = Qt.MouseButton.LeftButton
W = TypeVar("W", bound=QWidget)
THICKNESS = Question("thickness", (By("cut"),))


@pytest.fixture
def window(open_window: Opener) -> Window:
    """Return a window on twelve cooks, at Trends."""
    found = open_window(units="metric")
    with_cooks(found)
    found.go("trends")
    return found


@pytest.fixture
def page(window: Window) -> TrendsPage:
    found = window.place
    assert isinstance(found, TrendsPage)
    return found


def the(window: Window, kind: type[W]) -> W:
    """Return the newest panel of a kind."""
    return window.findChildren(kind)[-1]


def press(text: str, inside: QWidget) -> None:
    found = [b for b in inside.findChildren(QAbstractButton) if b.text() == text]
    assert found, text
    found[-1].click()


def chart(page: TrendsPage) -> MarksChart:
    return page.answer_card.charts.charts[0]


def test_that_a_sentence_and_the_controls_are_in_step(qtbot: QtBot, page: TrendsPage) -> None:
    page.ask_line.line.setText("thickness by cut where place is yard")
    qtbot.keyClick(page.ask_line.line, Qt.Key.Key_Return)
    assert page.question == Question(
        "thickness", (By("cut"),), (Where("place", Sign.IS, ("yard",)),)
    )
    chips = [chip.text() for chip in page.controls.findChildren(Chip)]
    assert {"cut", "place is yard"} <= set(chips)
    press("place is yard", page.controls)
    assert page.question.where == ()
    assert page.ask_line.line.text() == "thickness by cut"


def test_that_what_is_wrong_is_marked_where_it_stands(qtbot: QtBot, page: TrendsPage) -> None:
    before = page.question
    page.ask_line.line.setText("thickness by cutt where place is yard")
    qtbot.keyClick(page.ask_line.line, Qt.Key.Key_Return)
    assert page.ask_line.line.selectedText() == "cutt"
    assert "Did you mean cut" in page.ask_line.problem.text()
    assert page.question is before
    assert page.ask_line.line.text() == "thickness by cutt where place is yard"


@pytest.mark.parametrize(
    ("question", "panels"),
    [
        (Question("thickness"), 1),
        (THICKNESS, 1),
        (Question("thickness", (By("price"),)), 1),
        (Question("thickness", (By("price"), By("cut"), By("place"))), 2),
        (Question("thickness", (By("date", Part.MONTH), By("cut"))), 1),
        (Question("thickness", (By("cut"), By("place")), picture=Picture.HEAT), 1),
        (Question("thickness", (By("cut"), By("place"), By("set_point"))), 2),
        (Question("thickness", (By("cut"),), picture=Picture.SPREAD), 3),
        (Question("thickness", (By("cut"), By("place"), By("date", Part.YEAR))), 2),
        (Question("thickness", (By("supplier"),)), 1),
        (Question("thickness", (By("supplier"),), picture=Picture.SPREAD), 1),
        (Question("price", (By("cut"),), held=("set_point",)), 1),
    ],
)
def test_that_every_picture_is_drawn_told_and_leads_to_its_cooks(
    qtbot: QtBot, page: TrendsPage, question: Question, panels: int
) -> None:
    page.ask(question)
    drawing = page.answer_card.drawing
    assert drawing is not None
    assert len(drawing.panels) == panels
    for (_, drawn), behind in zip(drawing.panels, drawing.behind, strict=True):
        assert drawn.sentence()
        assert drawn.table()
        drawn.grab()
        assert len(drawn.spots) == len(behind)
        if not behind:
            continue
        chosen = max(range(len(behind)), key=lambda n: len(behind[n].cook_ids))
        drawn.chosen.emit(chosen)
        assert not page.cooks_card.isHidden()
        assert behind[chosen].words in page.cooks_card.heading.text()
    qtbot.waitUntil(lambda: page.judged is not None, timeout=20_000)
    assert bool(page.chance.text()) is bool(question.by)


def test_that_one_tap_lists_the_cooks_and_a_second_opens_one(
    qtbot: QtBot, window: Window, page: TrendsPage
) -> None:
    page.ask(THICKNESS)
    drawn = chart(page)
    qtbot.waitUntil(lambda: bool(drawn.spots), timeout=5000)
    qtbot.mouseClick(drawn, LEFT, pos=drawn.spots[0].toPoint())
    links = page.cooks_card.findChildren(QAbstractButton)
    assert links[0].text().endswith("Cook 10")  # the newest back ribs
    links[0].click()
    assert isinstance(window.place, CookPlace)


def test_that_brushed_groups_become_a_filter(qtbot: QtBot, page: TrendsPage) -> None:
    page.ask(THICKNESS)
    drawn = chart(page)
    qtbot.waitUntil(lambda: bool(drawn.spots), timeout=5000)
    first, second = drawn.spots[0].toPoint(), drawn.spots[1].toPoint()
    qtbot.mousePress(drawn, LEFT, pos=first - QPoint(30, 20))
    qtbot.mouseMove(drawn, second + QPoint(20, 20))
    qtbot.mouseMove(drawn, second + QPoint(30, 20))
    qtbot.mouseRelease(drawn, LEFT, pos=second + QPoint(30, 20))
    (where,) = page.question.where
    assert where.key == "cut"
    assert set(where.values) == {"brisket", "back ribs"}


def test_that_a_brush_by_keys_keeps_a_stretch_of_a_number(qtbot: QtBot, page: TrendsPage) -> None:
    page.ask(Question("thickness", (By("price"),)))
    drawn = chart(page)
    qtbot.waitUntil(lambda: bool(drawn.spots), timeout=5000)
    assert isinstance(drawn, ScatterChart)
    for _ in range(3):
        qtbot.keyClick(drawn, Qt.Key.Key_Right)
    for _ in range(2):
        qtbot.keyClick(drawn, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(drawn, Qt.Key.Key_Return)
    low, high = page.question.where
    assert (low.key, low.sign, high.sign) == ("price", Sign.AT_LEAST, Sign.AT_MOST)
    assert page.answer is not None
    assert page.answer.cooks == 3


def test_that_another_picture_is_chosen_by_a_chip(page: TrendsPage) -> None:
    page.ask(Question("thickness", (By("price"),)))
    press("groups", page.answer_card.pictures)
    assert page.question.picture is Picture.GROUPS
    assert isinstance(chart(page), GroupsChart)
    assert page.ask_line.line.text() == "thickness by price as groups"


def test_that_a_variable_is_found_by_a_few_letters(
    qtbot: QtBot, window: Window, page: TrendsPage
) -> None:
    page.ask(THICKNESS)
    page.controls.add_by()
    panel = the(window, VariablePanel)
    qtbot.keyClicks(panel.line, "plac")
    qtbot.keyClick(panel.line, Qt.Key.Key_Return)
    assert page.question.by == (By("cut"), By("place"))


def test_that_what_a_variable_means_is_said_where_it_is_chosen(
    qtbot: QtBot, window: Window, page: TrendsPage
) -> None:
    meant = "standard deviation of the pit while meat is on"
    page.ask(Question("pit_spread"))
    assert page.controls.what.text() == f"S{meant[1:]}."
    page.ask(THICKNESS)
    assert page.controls.what.text() == "Mean of the points measured."
    page.controls.add_by()
    panel = the(window, VariablePanel)
    (chip,) = [one for one in panel.findChildren(Chip) if one.text() == "pit spread"]
    assert (chip.toolTip(), chip.accessibleDescription()) == (meant, meant)
    qtbot.keyClicks(panel.line, "pit spr")
    assert panel.what.text() == f"Pit spread: {meant}."
    panel.close_panel()
    page.controls.add_where()
    found = the(window, FilterPanel)
    found.choose("pit_spread")
    assert found.what.text() == f"S{meant[1:]}."
    found.close_panel()


def test_that_cuts_are_typed_moved_and_made_sensible_again(
    qtbot: QtBot, window: Window, page: TrendsPage
) -> None:
    page.ask(Question("price", (By("thickness"),)))
    page.controls.cut(0)
    panel = the(window, BinsPanel)
    panel.cuts.setText("30 mm, 45 mm")
    panel.cuts.textEdited.emit(panel.cuts.text())
    assert panel.chart.cuts == pytest.approx([30.0, 45.0])
    window.grab()
    panel.chart.setFocus()
    for key in (Qt.Key.Key_S, Qt.Key.Key_Right, Qt.Key.Key_Right):
        qtbot.keyClick(panel.chart, key)
    assert panel.chart.cuts[0] > 30.0
    panel.cuts.setText("30 mm, soon")
    panel.cuts.textEdited.emit(panel.cuts.text())
    assert "soon" in panel.problem.text()
    panel.cuts.setText("30 mm, 45 mm")
    press("Use these", panel)
    assert page.question.by[0].edges == pytest.approx((0.03, 0.045))
    assert page.ask_line.line.text() == "price by thickness split at 30 mm, 45 mm"
    page.controls.cut(0)
    press("One more", the(window, BinsPanel))
    assert len(the(window, BinsPanel).chart.cuts) == 3
    press("Sensible ones", the(window, BinsPanel))
    assert page.question.by[0].edges == ()


def test_that_filters_of_every_kind_are_made(window: Window, page: TrendsPage) -> None:
    page.ask(Question("thickness"))

    def panel(key: str) -> FilterPanel:
        page.controls.add_where()
        found = the(window, FilterPanel)
        found.choose(key)
        window.grab()
        return found

    press("brisket", panel("cut"))
    press("Add the filter", the(window, FilterPanel))
    assert page.question.where[-1] == Where("cut", Sign.IS, ("brisket",))
    found = panel("set_point")
    found._part.low.line.setText("112 C")  # type: ignore[union-attr]
    found._part.low.line.setModified(True)  # type: ignore[union-attr]
    press("Add the filter", found)
    assert page.question.where[-1].sign is Sign.AT_LEAST
    assert page.question.where[-1].values[0] == pytest.approx(112.0)
    press("yes", panel("frozen"))
    press("Add the filter", the(window, FilterPanel))
    assert page.question.where[-1] == Where("frozen", Sign.IS, ("yes",))
    dates = panel("date")
    dates._part.since.line.setText("last week")  # type: ignore[union-attr]
    press("Add the filter", dates)
    assert "is no date" in dates.problem.text()
    dates._part.since.line.setText("March 2026")  # type: ignore[union-attr]
    press("Add the filter", dates)
    assert page.question.where[-1] == Where("date", Sign.AT_LEAST, ("2026-03",))
    nothing = panel("place")
    press("Add the filter", nothing)
    assert "tap one" in nothing.problem.text()


def test_that_a_question_is_saved_asked_named_moved_pinned_and_undone(
    window: Window, page: TrendsPage
) -> None:
    journal = window.desk.journal
    for name, question in (("By cut", THICKNESS), ("By price", Question("price"))):
        page.ask(question)
        page._save()
        panel = the(window, SavePanel)
        panel.name.line.setText(name)
        press("Save it", panel)
    press("By cut", page.saved)
    assert page.question == THICKNESS
    press("Change", page.saved)  # the last: By price
    change = the(window, SavedPanel)
    change.name.line.setText("What it costs")
    change.name.line.setModified(True)
    change.name.commit()
    press("Up", change)
    press("pinned to the start page", change)
    saved = sorted(journal.find(SavedQuestion), key=lambda one: one.position)
    assert [(one.name, one.pinned) for one in saved] == [("What it costs", True), ("By cut", False)]
    window.go("cooks")
    press("What it costs", window.cooks.pinned)
    assert window.place is page
    assert page.question == Question("price")
    press("Take it away", change)
    assert len(journal.find(SavedQuestion)) == 1
    journal.undo()
    assert len(journal.find(SavedQuestion)) == 2


def test_that_naming_one_of_many_saved_questions_makes_no_line_anew(
    window: Window, page: TrendsPage
) -> None:
    journal = window.desk.journal
    for name in ("By cut", "By price", "By wood"):
        journal.do(SaveQuestion(name, kept(THICKNESS)))
    before = page.saved.findChildren(SavedLine)
    assert [line.ask.text() for line in before] == ["By cut", "By price", "By wood"]
    middle = next(one for one in journal.find(SavedQuestion) if one.name == "By price")
    journal.do(Change(SavedQuestion, middle.id, {"name": "By the pound"}, "Name a question"))
    assert page.saved.findChildren(SavedLine) == before
    assert [line.ask.text() for line in before] == ["By cut", "By the pound", "By wood"]
    assert before[1].change.accessibleName() == "Change By the pound"
    journal.do(Remove(SavedQuestion, middle.id, "Take a question away"))
    left = page.saved.findChildren(SavedLine)
    assert [line.ask.text() for line in left] == ["By cut", "By wood"]


def test_that_a_question_that_cannot_be_asked_is_kept_and_said(
    window: Window, page: TrendsPage
) -> None:
    journal = window.desk.journal
    gone = kept(Question("thickness", (By("own.gone"),)))
    newer = {**kept(THICKNESS), "version": 99}
    for name, question in (("old one", gone), ("new one", newer)):
        journal.do(Add((SavedQuestion(name=name, question=question),), "Keep"))
    before = page.question
    press("old one", page.saved)
    assert "no longer there" in page.saved.problem.text()
    press("new one", page.saved)
    assert "newer version" in page.saved.problem.text()
    assert page.question is before
    assert len(journal.find(SavedQuestion)) == 2
    press("Change", page.saved)  # the words of what can't be read, and no fault
    window.grab()


@pytest.mark.parametrize("ending", ["csv", "png", "svg", "doc"])
def test_that_an_answer_is_taken_along(
    qtbot: QtBot, window: Window, page: TrendsPage, tmp_path: Path, ending: str
) -> None:
    page.ask(THICKNESS)
    window.grab()
    page._export()
    panel = the(window, ExportPanel)
    target = tmp_path / f"answer.{ending}"
    panel.target.setText(str(target))
    press("Write it", panel)
    if ending == "doc":
        assert "could be anything" in panel.problem.text()
        assert not target.exists()
        return
    qtbot.waitUntil(target.exists, timeout=20_000)
    data = target.read_bytes()
    if ending == "csv":
        rows = list(csv.reader(data.decode("utf-8-sig").splitlines()))
        assert rows[0][:4] == ["cut", "cooks", "pieces", "mean (mm)"]
        assert len(rows) == 4
    else:
        assert data.startswith(b"\x89PNG" if ending == "png" else b"<?xml")


def said_on(panel: ExportPanel) -> bool:
    return bool(panel.problem.text())


def test_that_a_folder_that_is_not_there_is_said(
    qtbot: QtBot, window: Window, page: TrendsPage, tmp_path: Path
) -> None:
    page.ask(THICKNESS)
    window.grab()
    for ending in ("csv", "png", "svg"):
        page._export()
        panel = the(window, ExportPanel)
        panel.target.setText(str(tmp_path / "no such folder" / f"a.{ending}"))
        press("Write it", panel)
        qtbot.waitUntil(partial(said_on, panel), timeout=20_000)
        panel.close_panel()


def test_that_what_matters_most_leads_to_a_question(
    qtbot: QtBot, window: Window, page: TrendsPage
) -> None:
    page.ask(THICKNESS)
    page._matter()
    qtbot.waitUntil(lambda: bool(page.matters.found), timeout=60_000)
    assert page.matters.found[0].variable.key == "cut"
    window.grab()
    page.matters.chart.chosen.emit(0)
    assert page.question.by == (By("cut"),)
    assert not page.matters.isHidden()
    page.ask(Question("price"))
    assert page.matters.isHidden()


def test_that_no_cooks_and_one_cook_are_said_in_words(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    window.go("trends")
    page = window.place
    assert isinstance(page, TrendsPage)
    window.grab()
    assert "No cook has what is asked for" in chart(page).sentence()
    page._matter()
    qtbot.waitUntil(lambda: "too few" in page.matters.words.text(), timeout=20_000)
    with_cooks(window, 1)
    page.ask(THICKNESS)
    qtbot.waitUntil(lambda: page.judged is not None, timeout=20_000)
    assert "not enough" in page.chance.text()
    assert "Grey rests on fewer than three cooks" in page.words.text()


def test_that_how_to_ask_is_told_as_in_the_manual(window: Window, page: TrendsPage) -> None:
    told = dict(entries())
    assert told["holding VARIABLE"] == "take out of the differences what goes with this variable"
    assert told["within the same cook"] == "only cooks that have at least two of the groups"
    assert any(text.startswith("MEASURE [by VARIABLE") and not told[text] for text in told)
    page._how()
    window.grab()


def test_that_a_cook_that_would_test_it_begins_with_its_ways(
    window: Window, page: TrendsPage
) -> None:
    page.ask(Question("thickness", (By("place"),), (Where("cut", Sign.IS, ("brisket",)),)))
    press("Plan a cook that would test it", page)
    planned = window.place
    assert isinstance(planned, NewCookPage)
    assert str(planned.question.value) == "Does place change thickness?"
    assert planned.cut.value == "brisket"
    assert [arm.name for arm in planned.arms()] == ["field", "yard"]
    test = ToTest("Which wrap?", "wrap", ("foil", "paper"), "time_on")
    window.go_to(Destination(place="new cook", test=test))
    assert [arm.name.lower() for arm in planned.arms()] == ["foil", "paper"]
    assert planned.outcome.values() == ("time_on",)
    page.leave()
    window.go("cooks")
    window.go("new cook")  # what was to be tested is taken over once
    assert str(planned.question.value) == "Which wrap?"


def test_that_very_many_groups_are_drawn_in_part_and_exported_whole(
    window: Window, page: TrendsPage
) -> None:
    for number in range(270):
        cook = a_cook(f"Lot {number}", place=f"place {number:03d}")
        piece = Piece(cook_id=cook.id, position=0, label="A", cut="brisket", thickness_1=0.05)
        window.desk.journal.do(AddCook(cook, (piece,)))
    for picture, drawn in ((Picture.GROUPS, 60), (Picture.SPREAD, 12)):
        page.ask(Question("thickness", (By("place"),), picture=picture))
        assert f"{drawn} of 272 groups drawn" in page.answer_card.title.text()
        assert page.answer_card.rest.text() == "22 more groups are in the export."
    assert page.answer is not None
    text = answer_as_csv(page.answer, UnitSystem.METRIC).decode("utf-8-sig")
    assert len(text.splitlines()) == 273


def test_that_one_panel_lies_over_the_page_and_none_over_the_next(
    window: Window, page: TrendsPage
) -> None:
    for opening in (page.controls.add_where, page.controls.add_by, page._save, page._how):
        opening()
        assert len([p for p in window.findChildren(Overlay) if p.isVisible()]) == 1
    window.go("shelf")
    assert not [p for p in window.findChildren(Overlay) if p.isVisible()]


def test_that_filters_go_with_the_cook_to_the_list_and_back(
    window: Window, page: TrendsPage
) -> None:
    brisket = (Where("cut", Sign.IS, ("brisket",)),)
    page.ask(Question("thickness", (By("place"),), brisket))
    press("These cooks in the list", page)
    assert window.cooks.isVisible()
    assert window.cooks.model.total == 4
    yard = (*brisket, Where("place", Sign.IS, ("yard",)))
    window.cooks.narrowing.take(yard)
    press("ask about these", window.cooks.narrowing)
    assert page.isVisible()
    assert page.question == Question("thickness", (By("place"),), yard)


def test_that_panel_and_judges_are_held_against_each_other(
    qtbot: QtBot, window: Window, page: TrendsPage
) -> None:
    for title, scores in (
        ("One", [(5.0, 5.0), (6.0, 8.0)]),
        ("Two", [(5.0, 6.0), (4.0, 7.0)]),
        ("Three", [(4.0, 8.0)]),
    ):
        add_judged(window.desk.journal, title, scores)
    window.desk.journal.worked_out.catch_up()
    press("Do my panel and the judges agree?", page)
    drawn = chart(page)
    assert isinstance(drawn, ScatterChart)
    assert drawn.cloud.size == 5
    assert [line.mark for line in drawn.lines] == [True]
    assert "each mark a piece" in page.answer_card.title.text()
    # The judges less the panel: (0, 2), (1, 3), (4): means 1, 2, 4.
    qtbot.waitUntil(lambda: "2.33 points above" in page.said.text())
    assert "5 pieces of 3 cooks" in page.said.text()
    assert "too few" not in page.said.text()
    assert page.plan.isHidden()
    page.ask(THICKNESS)
    assert not page.plan.isHidden()
    assert not page.said.isVisible()


def test_that_a_question_goes_into_a_cooks_summary_as_a_link(
    qtbot: QtBot, window: Window, page: TrendsPage, tmp_path: Path
) -> None:
    window.desk.journal.do(SaveQuestion("By place", kept(Question("thickness", (By("place"),)))))
    page.ask(THICKNESS)
    page._export()
    panel = the(window, ExportPanel)
    press("link in a cook's summary", panel)
    panel.cook.setText("no such cook")
    press("Choose what leaves", panel)
    assert "No cook is called" in panel.problem.text()
    panel.cook.setText("Cook 3")
    press("Choose what leaves", panel)
    share = the(window, SharePanel)
    assert "“thickness by cut”, answered by all your cooks" in share.leaves.text()
    assert "By place" not in share.leaves.text() + share.stays.text()
    press("By place", share)
    assert "“By place” (it tells of place and altitude)" in share.stays.text()
    target = tmp_path / "cook.html"
    press("one HTML file", share)
    share.target.setText(str(target))
    press("Write it", share)
    qtbot.waitUntil(target.exists, timeout=20_000)
    text = target.read_text(encoding="utf-8")
    assert 'href="pitjournal:ask?thickness%20by%20cut"' in text
    assert "thickness by place" not in text


def test_that_a_pasted_link_asks_its_question(qtbot: QtBot, page: TrendsPage) -> None:
    page.ask_line.line.setText("pitjournal:ask?thickness%20by%20cut")
    qtbot.keyClick(page.ask_line.line, Qt.Key.Key_Return)
    assert page.question == THICKNESS
    assert page.ask_line.line.text() == "thickness by cut"


def test_that_no_question_leaves_with_a_summary_unless_chosen(window: Window) -> None:
    window.desk.journal.do(SaveQuestion("By cut", kept(THICKNESS)))
    cook_id = window.desk.journal.cooks.find("Cook 3")
    panel = SharePanel(window.desk, window, cook_id)
    assert panel.asked.values() == ()
    assert "By cut" not in panel.leaves.text()


def test_that_a_long_group_has_the_lines_it_needs_and_no_number_is_cut(
    window: Window, page: TrendsPage
) -> None:
    window.resize(1024, 700)
    page.ask(Question("thickness", (By("cut"), By("set_point"), By("place"))))
    window.grab()
    view = page.answer_card.table.view
    head = view.horizontalHeader()
    shown = [place for place in range(head.count()) if not view.isColumnHidden(place)]
    assert sum(head.sectionSize(place) for place in shown) <= view.width()
    metrics = QFontMetrics(font())
    for place, texts in enumerate(page.answer_card.table.texts()):
        lines = -(-metrics.horizontalAdvance(texts[0]) // (head.sectionSize(0) - 8))
        assert lines >= 2
        assert view.rowHeight(place) >= lines * metrics.height()


def test_that_lines_of_many_saved_questions_are_made_in_turns(window: Window, qtbot: QtBot) -> None:
    desk, journal = window.desk, window.desk.journal
    window.go("cooks")
    for number in range(AT_ONCE + A_TURN + 1):
        journal.do(SaveQuestion(f"invented {number}", kept(THICKNESS)))
    card = SavedCard(desk)
    qtbot.addWidget(card)
    card.refresh()
    assert len(card.findChildren(SavedLine)) == AT_ONCE
    qtbot.waitUntil(lambda: len(card.findChildren(SavedLine)) == AT_ONCE + A_TURN + 1)
    named = [line.ask.text() for line in card.findChildren(SavedLine)]
    assert named == [f"invented {number}" for number in range(AT_ONCE + A_TURN + 1)]


def test_that_what_a_question_reads_for_the_first_time_is_read_in_a_job(
    window: Window,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    reopen: Callable[[Window], Window],
) -> None:
    window.desk.journal.trends.frame()
    window = reopen(window)  # what was just worked out is in memory as it is
    window.go("trends")
    page = window.place
    assert isinstance(page, TrendsPage)
    qtbot.waitUntil(lambda: page.answer is not None, timeout=20_000)
    trends = window.desk.journal.trends
    monkeypatch.setattr("pitjournal.ui.desk.AT_ONCE", 0)  # as with thousands of cooks
    before, new = page.answer, Question("thickness", (By("supplier"),))
    assert trends.warm
    assert not trends.holds(new.keys)
    read: list[bool] = []
    ask = trends.ask

    def noted(question: Question, system: UnitSystem) -> Answer:
        read.append(current_thread() is main_thread())
        return ask(question, system)

    monkeypatch.setattr(trends, "ask", noted)
    page.ask(Question("thickness", (By("set_point"),)))  # asked again before it is there
    page.ask(new)
    assert page.answer is before
    qtbot.waitUntil(lambda: page.question == new, timeout=20_000)
    assert read == [False, False, True]
    assert trends.holds(new.keys)
    page.ask(new)
    assert read == [False, False, True, True]
