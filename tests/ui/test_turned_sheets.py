"""One sheet is turned from taster to taster: its fields stay, and no score goes to the wrong one."""

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.shelf import OwnVariable
from pitjournal.domain.tasting import Score
from pitjournal.journal.commands.records import Add
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.trends.by_panel import AT_ONCE, by_panel
from tests.ui.conftest import Opener
from tests.ui.test_tasting import PANEL, drawn, session


def test_that_what_is_being_typed_is_the_one_s_before_and_the_next_sheet_is_blank(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window)
    sheet = page.scoring.sheet
    before = list(sheet.fields.values())
    names = [field.accessibleName() for field in before]
    (sample_id, criterion), field = next(iter(sheet.fields.items()))
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    field.setText("7")
    field.setModified(True)
    page.scoring.next_taster()
    (score,) = window.desk.journal.find(Score)
    assert (score.taster, score.sample_id, score.criterion, score.value) == (
        PANEL[0],
        sample_id,
        criterion,
        7.0,
    )
    assert page.scoring.taster == PANEL[1]
    assert list(sheet.fields.values()) == before  # turned, not made anew
    assert not any(one.text() for one in before)
    shown = [one.accessibleName() for one in before]
    assert sorted(shown) == sorted(names)
    served = [s.code for s in session(window).served(PANEL[1])]
    assert [name.split(",")[0] for name in shown[:: len(names) // len(served)]] == served
    for _ in PANEL[1:]:
        page.scoring.next_taster()
    assert page.scoring.taster == PANEL[0]
    assert sheet.fields[sample_id, criterion].text() == "7"


def test_that_a_refused_score_does_not_stay_on_the_next_sheet(
    qtbot: QtBot, open_window: Opener
) -> None:
    del qtbot
    window = open_window()
    page = drawn(window)
    field = next(iter(page.scoring.sheet.fields.values()))
    field.setText("x")
    field.setModified(True)
    assert not field.commit()
    page.scoring.next_taster()
    assert not field.wrong
    assert field.text() == ""
    assert not window.desk.journal.find(Score)


def test_that_a_panel_of_many_variables_says_how_many_more_letters_find(
    open_window: Opener,
) -> None:
    window = open_window()
    own = tuple(
        OwnVariable(name=f"own number {n}", level="cook", kind="number") for n in range(200)
    )
    window.desk.journal.do(Add(own, "Add variables"))
    panel = by_panel(window, window.desk, lambda _by: None)
    panel.open_panel()
    assert len(panel.choice.findChildren(Chip)) == AT_ONCE
    assert panel.more.text().startswith("And ")
    panel.line.setText("own number 17")
    QApplication.processEvents()
    found = [chip.text() for chip in panel.choice.findChildren(Chip) if chip.isVisibleTo(panel)]
    assert sorted(found) == sorted(f"own number {n}" for n in range(200) if "17" in str(n))
    assert panel.more.isHidden()
