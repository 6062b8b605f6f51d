"""Arms hidden at the bench: neither a name nor a mark of an arm is to be seen there."""

from collections.abc import Iterator
from dataclasses import replace

from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.blind import without_arms
from pitjournal.domain.event import Event
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.ui.bench.alarm_panel import AlarmPanel
from pitjournal.ui.bench.panels import FeelPanel, WeighPanel
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.window import Window
from tests.ui.bench.clock import Clock, bench_of, bench_on
from tests.ui.conftest import Opener

ARMS = ("Left alone", "Injected", "Needled")


def texts(widget: QWidget) -> Iterator[str]:
    for found in widget.findChildren(QWidget):
        yield found.accessibleName()
        yield found.toolTip()
        if isinstance(found, QAbstractButton | QLabel):
            yield found.text()


def tells(window: Window) -> list[str]:
    """Return the words in sight that name an arm, and the marks that show one."""
    page = bench_of(window)
    seen = [text for text in (*texts(page), *_panels(window)) if any(a in text for a in ARMS)]
    marks = [mark for mark in window.findChildren(Mark) if mark._look not in {None, -1}]
    cards = [
        card for card in page.pieces.cards if card._now is not None and card._now.arm is not None
    ]
    return seen + ["a mark" for _ in (*marks, *cards)]


def _panels(window: Window) -> Iterator[str]:
    for panel in window.findChildren(Overlay):
        yield from texts(panel)


def test_that_hidden_arms_are_nowhere_on_the_bench(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    assert tells(window)  # before, they are
    bench.whom.choose(bench.whole.arms[1].id if bench.whole is not None else "")
    bench.taps["flip"].click()  # logged for an arm
    bench._hide_arms()
    for turn in ("chart", "log", "photos"):
        bench.day.turn(turn)
        assert not tells(window)
    for open_it, kind in (
        (bench._feel, FeelPanel),
        (bench._weigh, WeighPanel),
        (bench._alarms, AlarmPanel),
    ):
        open_it()
        assert window.findChild(kind) is not None
        assert not tells(window)
        for panel in window.findChildren(Overlay):
            panel.close_panel()
        qtbot.waitUntil(lambda: not window.findChildren(Overlay))
    assert bench.whom.hidden.isVisible()


def test_that_hidden_arms_stay_hidden_and_are_shown_again_by_one_tap(open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    bench._hide_arms()
    window.go("shelf")
    window._from_rail("running")
    assert not tells(window)
    bench.pieces.cards[1].click()
    bench.taps["spritz"].click()
    assert not tells(window)
    assert bench.whole is not None
    spritz = next(e for e in window.desk.journal.find(Event) if e.kind == "spritz")
    assert spritz.pieces == (bench.whole.pieces[1].id,)
    bench.whom.hidden.click()
    assert tells(window)


def test_that_a_blind_cook_has_its_pieces_and_no_arm(open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    assert bench.whole is not None
    blind = without_arms(bench.whole)
    assert [p.label for p in blind.pieces] == [p.label for p in bench.whole.pieces]
    assert not blind.arms
    # Injected meat is non-intact (9 CFR 317.2(e)(3)): hiding the arms does not hide that.
    assert {blind.treatment_kind(p) for p in blind.pieces} == {TreatmentKind.INJECTED}
    whole = replace(bench.whole, treatments=())
    assert {without_arms(whole).treatment_kind(p) for p in blind.pieces} == {None}
    assert {blind.arm_index(p.arm_id) for p in blind.pieces} == {None}
