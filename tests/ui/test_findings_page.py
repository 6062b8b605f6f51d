"""The page of findings, driven as a cook drives it."""

from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.records import AddCook, Change
from pitjournal.journal.preferences import open_drawers
from pitjournal.ui.charts.plate.plate_view import PlateRowWords
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.findings.model import MOST_DRAWN
from pitjournal.ui.findings.page import FindingsPage
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.window import Window
from tests.analysis.makers import compared, felt
from tests.builders import an_event
from tests.ui.conftest import Opener

KINDS = (TreatmentKind.NONE, TreatmentKind.INJECTED, TreatmentKind.NEEDLED)
LONG = 20_000
"""Milliseconds that a worker on a busy machine may take."""


def add(window: Window, whole: WholeCook, days: int = 0) -> str:
    """Add a cook that is done, its ways treated as their names say."""
    cook = replace(
        whole.cook,
        status=CookStatus.DONE,
        starts_at=whole.cook.starts_at + timedelta(days=days),
    )
    treatments = tuple(
        Treatment(cook_id=cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, KINDS, strict=False)
    )
    parts = (*whole.arms, *whole.pieces, *treatments, *whole.checks, *whole.events)
    tasting = (*whole.tastings, *whole.samples, *whole.scores)
    window.desk.journal.do(AddCook(cook, (*parts, *tasting)))
    return cook.id


def shown(qtbot: QtBot, window: Window, cook_id: str) -> FindingsPage:
    """Go to a cook's findings and wait until all is worked out."""
    window.go("cook", cook_id, "findings")
    place = window.place
    assert isinstance(place, CookPlace)
    page = place.current
    assert isinstance(page, FindingsPage)

    def ready() -> bool:
        return page.shown is not None and page.shown.deeper is not None

    qtbot.waitUntil(ready, timeout=LONG)
    page.drawers.open_only([drawer.key for drawer in page.drawers.all])
    return page


def texts(page: FindingsPage) -> str:
    """Return all that is to be read on a page."""
    return "\n".join(label.text() for label in page.findChildren(QLabel) if label.isVisibleTo(page))


THREE = ("Left alone", "Injected", "Needled")
SCORES = ((6.0, 6.5, 5.5), (7.0, 7.0, 7.5), (6.0, 6.4, 5.8))


def test_that_one_tap_starts_the_cook_that_would_tell_most(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = shown(qtbot, window, add(window, compared(THREE, SCORES)))
    assert "Injected × needled, two by two" in texts(page)
    plan = next(b for b in page.findChildren(QAbstractButton) if b.text() == "Plan it")
    plan.click()
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, PlanPage)
    line = window.desk.journal.cooks.page()[0]
    made = window.desk.journal.whole(line.id)
    assert [arm.name for arm in made.ordered_arms] == [*THREE, "Injected and needled"]
    assert len(made.pieces) == 12
    both = made.ordered_arms[-1]
    kinds = {t.kind for t in made.treatments if t.arm_id == both.id}
    assert kinds == {TreatmentKind.INJECTED, TreatmentKind.NEEDLED}
    assert made.cook.status is CookStatus.PLANNED
    window.desk.bridge.undo()
    assert len(window.desk.journal.cooks.page()) == 1


def test_that_older_cooks_of_a_comparison_are_drawn_when_asked_for(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    cooks = MOST_DRAWN + 3
    ids = [
        add(window, compared(THREE[:2], ((6, 6.5, n % 3), (7, 7, 1 + n % 3))), days=n)
        for n in range(cooks)
    ]
    page = shown(qtbot, window, ids[-1])
    assert len(page.drawers.across_card.chart.table()) == 1 + MOST_DRAWN + 1
    assert page.drawers.across_card.every.text() == "Draw 3 older ones too"
    page.drawers.across_card.every.click()
    assert len(page.drawers.across_card.chart.table()) == 1 + cooks + 1
    page.drawers.across_card.every.click()
    assert len(page.drawers.across_card.chart.table()) == 1 + MOST_DRAWN + 1
    assert "one more such cook would truly differ" in texts(page)
    assert page.drawers.spread_card.isVisibleTo(page)


def leeway_cook() -> WholeCook:
    """Return a cook of six pieces a way, each pulled past right, injected ones later."""
    whole = compared(THREE[:2], ([6.0, 6.5, 5.5, 6.1, 6.2, 6.4], [7.0, 7.1, 7.5, 6.9, 7.2, 7.4]))
    checks: list[DonenessCheck] = []
    for place, piece in enumerate(whole.pieces):
        last = 40.0 + 9 * (place % 6) + 45 * (place // 6)
        checks += felt(whole.cook, piece, (0, 2), (15, 4), (last, 4), (last + 15, 6))
    off = an_event(whole.cook.id, "off", minutes=300)
    return replace(whole, checks=tuple(sorted(checks, key=lambda c: c.at)), events=(off,))


def test_that_leeway_is_shown_on_three_axes_with_its_model(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = shown(qtbot, window, add(window, leeway_cook()))
    card = page.drawers.leeway_card
    assert "Estimate from 12 racks of this cook" in card.note.text()
    qtbot.waitUntil(lambda: "against the control" in texts(page), timeout=LONG)
    assert len(card.windows.table()) == 13
    card.axis.choose("hold")
    card.axis.chosen.emit("hold")
    assert "No piece was felt in the box" in card.note.text()
    card.axis.choose("temperature")
    card.axis.chosen.emit("temperature")
    assert len(card.windows.table()) == 1


def test_that_other_cuts_are_joined_when_asked_and_the_choice_is_kept(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    whole = compared(("Left alone", "Injected"), ((5, 6, 7), (6, 7, 8.5)))
    butts = replace(whole, pieces=tuple(replace(p, cut="pork butt") for p in whole.pieces))
    add(window, butts)
    last = add(window, compared(("Left alone", "Injected"), ((5, 6, 7), (6, 7.5, 8))), days=7)
    page = shown(qtbot, window, last)
    assert page.shown is not None
    assert not page.shown.found.across
    assert "pork butt" in page.drawers.across_card.note.text()
    own, other = page.drawers.across_card.cuts.findChildren(QAbstractButton)
    assert (own.text(), other.text()) == ("this cut alone", "pork butt too")
    other.click()
    qtbot.waitUntil(lambda: bool(page.shown and page.shown.found.every_cut), timeout=LONG)
    assert [len(joined.cooks) for joined in page.shown.found.across] == [2]
    assert window.desk.journal.findings.of(last).every_cut  # the command line and the summary too
    window.desk.journal.undo()
    assert not window.desk.journal.findings.of(last).every_cut


def test_that_everything_says_how_it_was_worked_out(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    page = shown(qtbot, window, add(window, leeway_cook()))
    page.drawers.how.click()
    panel = next(panel for panel in window.findChildren(Overlay) if panel.isVisible())
    said = "\n".join(label.text() for label in panel.findChildren(QLabel))
    for words in ("Student (1908)", "Turnbull (1976)", "Holm (1979)", "Taken for granted"):
        assert words in said


@pytest.mark.parametrize(
    "values",
    [((6.0, 6.0), (6.0, 6.0)), ((), (7.0,)), ((6.0,), (7.0,)), ((6.0, 7.0), ())],
)
def test_that_thin_cooks_show_no_traceback_and_no_endless_number(
    qtbot: QtBot, open_window: Opener, values: tuple[tuple[float, ...], ...]
) -> None:
    window = open_window()
    page = shown(qtbot, window, add(window, compared(THREE[:2], values)))
    said = texts(page)
    assert "inf" not in said.replace("information", "")
    assert "nan" not in said
    assert page.shown is not None
    assert page.shown.found.words


def test_that_a_revealed_tasting_without_a_log_has_findings(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    whole = compared(THREE, SCORES)
    cook_id = add(window, whole)
    window.desk.journal.do(Change(Cook, cook_id, {"status": CookStatus.PLANNED}))
    page = shown(qtbot, window, cook_id)
    assert "Injected racks" in texts(page)
    assert "Nothing to find yet" not in texts(page)


def test_that_the_page_says_that_it_is_being_worked_out_and_then_stays_as_it_is(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    cook_id = add(window, compared(THREE, SCORES))
    window.go("cook", cook_id, "findings")
    place = window.place
    assert isinstance(place, CookPlace)
    page = place.current
    assert isinstance(page, FindingsPage)
    assert page.shown is None
    assert "Working it out…" in texts(page)
    assert "recorded" not in texts(page).replace("From what was recorded.", "")
    shown(qtbot, window, cook_id)
    qtbot.waitUntil(lambda: "Injected racks" in texts(page), timeout=LONG)
    before = texts(page)
    window.desk.journal.do(Change(Cook, cook_id, {"note": "windy"}))
    qtbot.waitUntil(lambda: "Working it out…" not in texts(page), timeout=LONG)
    assert texts(page) == before  # nothing goes and comes again
    other = add(window, compared(("Left alone", "Injected"), SCORES[:2]), 7)
    window.go("cook", other, "findings")
    assert "Injected racks" not in texts(page)  # nor is the cook before shown for this one
    assert "Working it out…" in texts(page)


def test_that_a_conclusion_stays_as_written_and_says_what_came_since(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    first = add(window, compared(THREE[:2], ((6, 6.5, 5.5), (7, 7, 7.5))))
    page = shown(qtbot, window, first)
    qtbot.keyClicks(page.concluded.field.line, "Inject for a contest.")
    page.concluded.field.commit()
    assert window.desk.journal.whole(first).conclusion is not None
    qtbot.waitUntil(lambda: "written" in page.concluded.when.text(), timeout=LONG)
    assert "since" not in page.concluded.when.text()
    for days in (7, 14, 21):
        add(window, compared(THREE[:2], ((6, 6.2, 5.5), (7, 7.4, 7.5))), days)
    page = shown(qtbot, window, first)
    qtbot.waitUntil(lambda: "three more cooks since" in page.concluded.when.text(), timeout=LONG)
    assert page.concluded.field.line.text() == "Inject for a contest."


def test_that_drawers_open_by_key_say_what_is_in_them_and_are_remembered(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    first = add(window, leeway_cook())
    other = add(window, compared(THREE, SCORES), 7)
    page = shown(qtbot, window, first)
    page.drawers.open_only(())
    assert not page.drawers.leeway_card.isVisibleTo(page)
    head = page.drawers.head("right")
    assert head.accessibleName().startswith("How long right, folded, at least")
    head.setFocus()
    qtbot.keyClick(head, Qt.Key.Key_Return)
    assert page.drawers.leeway_card.isVisibleTo(page)
    assert open_drawers(first) == ("right",)
    window.go("cook", other, "findings")
    assert not page.drawers.opened
    window.go("cook", first, "findings")
    assert page.drawers.opened == ("right",)
    qtbot.keyClick(head, Qt.Key.Key_Space)
    assert open_drawers(first) == ()


def test_that_a_row_of_the_plate_is_reached_by_tab_and_copied(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = shown(qtbot, window, add(window, compared(THREE, SCORES)))
    rows = page.plate.findChildren(PlateRowWords)
    assert [row.accessibleName().partition(":")[0] for row in rows] == list(THREE)
    qtbot.keyClick(rows[1], Qt.Key.Key_Return)
    assert QGuiApplication.clipboard().text() == rows[1].accessibleName()
    assert "Tenderness" in page.plate.accessibleDescription()


def test_that_a_file_that_was_written_is_said_in_a_line_that_covers_nothing(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = shown(qtbot, window, add(window, leeway_cook()))
    window.resize(1024, 700)
    said = "Written to " + "/a/folder/with/a/long/name" * 3
    window.desk.bridge.told.emit(said)
    full = page.bar.full
    qtbot.waitUntil(full.isVisible)
    QApplication.processEvents()
    assert full.text.text() == said
    beside = (page.plate, page.but, page.next_line, page.concluded, page.drawers)
    assert not any(full.geometry().intersects(part.geometry()) for part in beside)
    assert page.next_line.why.wordWrap()  # what comes next is told in full
    page.bar.put_away()
    assert not full.isVisible()
