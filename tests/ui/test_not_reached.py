"""Meat that came off colder than the rule for it asks, said on every page and on paper.

165 °F with no hold for poultry: FDA Food Code 2022, 3-401.11(A)(3). 160 °F for ground meat: USDA
FSIS, safe minimum internal temperature chart. 155 °F for 17 s, or 158 °F at once, for injected
meat: FDA Food Code 2022, 3-401.11(A)(2).
"""

from datetime import timedelta
from html import unescape

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.files.summary.html import to_html, to_print
from pitjournal.journal.commands.records import AddCook
from pitjournal.journal.sharing import whole_summary
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.findings.page import FindingsPage
from pitjournal.ui.window import Window
from tests.builders import NOON, a_cook, an_event
from tests.ui.bench.clock import Clock
from tests.ui.conftest import Opener
from tests.ui.test_tasting import page_of, said

LEFT = Qt.MouseButton.LeftButton
LONG = 20_000


def on_the_fire(
    window: Window, clock: Clock, cut: str, kind: TreatmentKind = TreatmentKind.NONE
) -> BenchPage:
    """Open the bench of a cook of two arms, two pieces each, that went on at noon."""
    cook = a_cook(status=CookStatus.RUNNING, outcome="score.tenderness")
    arms = [
        Arm(cook_id=cook.id, position=place, name=name, control=not place)
        for place, name in enumerate(("Plain", "Treated"))
    ]
    pieces = [
        Piece(
            cook_id=cook.id,
            position=2 * pack + place,
            label=f"{'AB'[place]}{pack + 1}",
            cut=cut,
            arm_id=arm.id,
            pack=f"pack {pack + 1}",
        )
        for pack in range(2)
        for place, arm in enumerate(arms)
    ]
    treated = Treatment(cook_id=cook.id, arm_id=arms[1].id, kind=kind)
    lit, on = (an_event(cook.id, one) for one in (EventKind.LIT, EventKind.ON))
    window.desk.journal.do(AddCook(cook, (*arms, *pieces, treated, lit, on)))
    clock.now = NOON + timedelta(hours=1, minutes=20)
    clock.wind(window)
    window.go("cook", cook.id, "bench")
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, BenchPage)
    return place.current


def probed(qtbot: QtBot, bench: BenchPage, *degrees: str) -> None:
    """Probe piece after piece and feel it, as the panel goes on by itself."""
    qtbot.mouseClick(bench.taps["feel"], LEFT)
    panel = bench.window().findChild(FeelPanel)
    assert panel is not None
    for one in degrees:
        number, _, feel = one.partition(" ")
        if number != "-":
            qtbot.keyClicks(panel.internal.line, number)
            panel.internal.commit()
        qtbot.mouseClick(panel.taps[int(feel) - 1], LEFT)
    panel.close_panel()
    qtbot.waitUntil(lambda: bench.window().findChild(FeelPanel) is None)


def card_of(bench: BenchPage, label: str) -> str:
    return next(card for card in bench.pieces.cards if card.text() == label).accessibleName()


def test_that_poultry_taken_off_at_151_is_said_on_every_page_and_on_paper(
    qtbot: QtBot, open_window: Opener
) -> None:
    window, clock = open_window(), Clock()
    bench = on_the_fire(window, clock, "duck legs")
    assert bench.whole is not None
    cook_id = bench.whole.cook.id
    probed(qtbot, bench, "151 2", "171 4", "172 4", "173 4")
    assert "not reached" not in card_of(bench, "A1")  # it is on still
    qtbot.mouseClick(bench.taps["on"], LEFT)
    line = "165 °F not reached: 151 °F at 08:20"
    qtbot.waitUntil(lambda: line in card_of(bench, "A1"), timeout=LONG)
    assert f"A1: {line}." in bench.due.why.text()
    assert "not reached" not in card_of(bench, "B1")
    assert "unknown" not in card_of(bench, "B1")  # one reading at one point, but none colder
    qtbot.mouseClick(bench.due.finish, LEFT)
    tasting = page_of(window)
    full = (
        "Poultry, 165 °F (74 °C) all through: not reached in A1 (151 °F (66 °C) at 08:20) "
        "(FDA Food Code 2017/2022 3-401.11(A)(3))."
    )
    plain = full.replace(" °", "\N{NO-BREAK SPACE}°")
    assert tasting.below.isVisible()
    assert tasting.below.told.text() == plain
    assert "Local codes and licensed practice come first" in tasting.below.quiet.text()
    tasting.set_up.names.setText("North, South")
    tasting.draw_codes()
    assert tasting.below.isVisible()  # it can still be kept from the table
    window.go("cook", cook_id, "findings")
    place = window.place
    assert isinstance(place, CookPlace)
    findings = place.current
    assert isinstance(findings, FindingsPage)
    qtbot.waitUntil(findings.below.isVisible, timeout=LONG)
    assert findings.below.told.text() == plain
    summary = whole_summary(window.desk.journal, cook_id)
    for page in (to_html(summary), to_print(summary)):
        assert full in unescape(page)
        assert unescape(page).index(full) < page.index("Arms")
    words = f"{said(tasting)} {said(findings)} {card_of(bench, 'A1')}".casefold()
    assert " safe " not in words
    assert "unsafe" not in words


@pytest.mark.parametrize(
    ("cut", "kind", "probe", "line"),
    [
        ("duck legs", TreatmentKind.NONE, "- 4", ""),
        ("duck legs", TreatmentKind.NONE, "168 4", ""),
        ("ground beef loaf", TreatmentKind.NONE, "152 4", "160 °F not reached: 152 °F at 08:20"),
        (
            "brisket",
            TreatmentKind.INJECTED,
            "140 2",
            "155 °F for 17 s not reached: 140 °F at 08:20",
        ),
        ("brisket", TreatmentKind.INJECTED, "203 4", ""),
    ],
)
def test_that_a_card_says_what_was_measured_colder_and_nothing_else(  # noqa: PLR0917 - a table
    qtbot: QtBot, open_window: Opener, cut: str, kind: TreatmentKind, probe: str, line: str
) -> None:
    window, clock = open_window(), Clock()
    bench = on_the_fire(window, clock, cut, kind)
    probed(qtbot, bench, probe, probe)  # A1, and B1 which is treated
    qtbot.mouseClick(bench.taps["on"], LEFT)
    qtbot.waitUntil(lambda: not window.desk.cold._busy, timeout=LONG)
    if line:
        assert line in card_of(bench, "B1")
    else:
        assert "reached" not in card_of(bench, "B1")
        assert "unknown" not in card_of(bench, "B1")
    assert "reached" not in card_of(bench, "A2")  # nobody measured it


def test_that_a_cold_reading_long_before_is_said_to_be_the_last(
    qtbot: QtBot, open_window: Opener
) -> None:
    window, clock = open_window(units="metric"), Clock()
    bench = on_the_fire(window, clock, "chicken thighs")
    probed(qtbot, bench, "60 2")
    clock.now += timedelta(hours=1)
    qtbot.mouseClick(bench.taps["on"], LEFT)
    qtbot.waitUntil(lambda: "unknown" in card_of(bench, "A1"), timeout=LONG)
    assert "74 °C unknown: last 60 °C at 08:20" in card_of(bench, "A1")
