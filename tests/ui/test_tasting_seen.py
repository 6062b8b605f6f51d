"""What was known at the table, and what undo asks before it hides codes that were seen."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from pitjournal.domain.tasting import Blindness, TastingState
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.journal.commands.tasting import GiveScore, LockTasting, RevealTasting
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.tasting.unsee_panel import UnseePanel
from tests.builders import add_comparison
from tests.ui.conftest import Opener
from tests.ui.test_tasting import chip, drawn, opened, panel, read_out, said, session

LEFT = Qt.MouseButton.LeftButton


def test_that_undoing_a_reveal_asks_first_and_can_be_left(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=("Ada",))
    page.scoring.turn("Ada")
    read_out(qtbot, page, "7687")
    tasting = session(window).tasting
    window.desk.bridge.attempt(LockTasting(tasting.id), window)
    window.desk.bridge.attempt(RevealTasting(tasting.id), window)
    window.desk.bridge.undo()
    asked = panel(window, UnseePanel)
    assert isinstance(asked, UnseePanel)
    assert "The codes have been seen" in said(asked)
    assert session(window).tasting.revealed
    qtbot.mouseClick(asked.leave, LEFT)
    assert session(window).tasting.revealed
    qtbot.waitUntil(lambda: window.findChild(UnseePanel) is None)
    window.desk.bridge.undo()
    asked = panel(window, UnseePanel)
    assert isinstance(asked, UnseePanel)
    qtbot.mouseClick(asked.yes, LEFT)
    assert session(window).tasting.state is TastingState.LOCKED
    window.desk.bridge.undo()  # the lock is undone without a question
    assert session(window).tasting.state is TastingState.OPEN


def test_that_who_knows_is_asked_and_kept(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = opened(window, add_comparison())
    page.set_up.names.setText("Ada")
    assert page.set_up.seen.values() == (str(Blindness.BLIND),)
    chip(qtbot, page.set_up.seen, "everyone: eyes open")
    qtbot.mouseClick(page.set_up.draw, LEFT)
    assert session(window).tasting.seen is Blindness.OPEN


def test_that_a_panels_table_is_never_that_of_the_tasting_before(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window, tasters=("Ada", "Ben"))
    tasting = session(window).tasting
    for taster in tasting.tasters:
        page.scoring.turn(taster)
        read_out(qtbot, page, "7687\n" * 2)
    window.desk.bridge.attempt(LockTasting(tasting.id), window)
    window.desk.bridge.attempt(RevealTasting(tasting.id), window)
    qtbot.waitUntil(lambda: "Ada" in shown_in(page.result.panel), timeout=20_000)
    later = DrawTasting(tasting.cook_id, ("Cleo",), 5)
    window.desk.bridge.attempt(later, window)
    (sample, *_) = session(window).served("Cleo")
    after = session(window).tasting
    score = GiveScore(after.id, sample.id, "Cleo", "tenderness", 7)
    for command in (score, LockTasting(after.id), RevealTasting(after.id)):
        window.desk.bridge.attempt(command, window)
    assert "Ada" not in shown_in(page.result.panel)
    qtbot.waitUntil(lambda: "Cleo" in shown_in(page.result.panel), timeout=20_000)
    assert "everything the same" not in said(page.result)


def shown_in(table: FactTable) -> str:
    return " ".join(label.text() for label in table.findChildren(QLabel))


def test_that_serving_too_few_each_warns_before_the_draw(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = opened(window, add_comparison())
    page.set_up.names.setText("Ada, Ben, Cleo")
    chip(qtbot, page.set_up.each, "3 each")
    page.set_up.names.setText("Ada, Ben, Cleo, Dan")
    # Twelve scores of nine pieces: three beyond one a piece, for three levels.
    assert "too few in common to set a kind and a strict taster even" in said(page.set_up)
    chip(qtbot, page.set_up.each, "5 each")
    assert "too few in common" not in said(page.set_up)


def test_that_what_was_given_stands_beside_what_was_set_even(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = opened(window, add_comparison())
    page.set_up.names.setText("Ada, Ben, Cleo, Dan")
    page.set_up.criteria.choose("tenderness")
    chip(qtbot, page.set_up.each, "5 each")
    qtbot.mouseClick(page.set_up.draw, LEFT)
    tasting = session(window).tasting
    for taster in tasting.tasters:
        for place, sample in enumerate(session(window).served(taster)):
            value = 4 + place % 3 + (taster == "Ada")
            score = GiveScore(tasting.id, sample.id, taster, "tenderness", value)
            assert not window.desk.bridge.attempt(score, window)
    for command in (LockTasting(tasting.id), RevealTasting(tasting.id)):
        window.desk.bridge.attempt(command, window)
    assert "what was given stands in brackets" in page.result.about.text()
    assert "(" in shown_in(page.result.pieces)
