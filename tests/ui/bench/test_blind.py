"""Arms hidden at the bench: neither a name nor a mark of an arm is to be seen there."""

import re
from collections.abc import Iterator
from dataclasses import replace

from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.domain.alarm import Alarm, AlarmKind
from pitjournal.domain.blind import numbered, without_arms
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Stage, Weighing
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.journal.commands.bench import LogEvent, SetAlarms
from pitjournal.journal.commands.records import Add
from pitjournal.ui.bench.alarms.alarm_panel import AlarmPanel
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.panels import WeighPanel
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.window import Window
from tests.builders import an_event
from tests.ui.bench.clock import Clock, bench_of, bench_on
from tests.ui.conftest import Opener

ARMS = ("Left alone", "Injected", "Needled")


def texts(widget: QWidget) -> Iterator[str]:
    for found in widget.findChildren(QWidget):
        if not found.isVisibleTo(widget):
            continue
        yield found.accessibleName()
        yield found.toolTip()
        if isinstance(found, QAbstractButton | QLabel):
            yield found.text()


def tells(window: Window) -> list[str]:
    """Return the words in sight that name an arm or a piece by its arm, and an arm's marks."""
    page = bench_of(window)
    assert page.whole is not None
    labels = "|".join(piece.label for piece in page.whole.pieces)
    named = re.compile(rf"{'|'.join(ARMS)}|\b(?:{labels})\b|pickup")
    seen = [text for text in (*texts(page), *_panels(window)) if named.search(text)]
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
    bench.selector.choose(bench.whole.arms[1].id if bench.whole is not None else "")
    bench.taps["flip"].click()  # logged for an arm
    bench.opens.hide_arms()
    for turn in ("chart", "log", "photos"):
        bench.day.turn(turn)
        assert not tells(window)
    for open_it, kind in (
        (bench.opens.feel, FeelPanel),
        (bench.opens.weigh, WeighPanel),
        (bench.opens.alarms, AlarmPanel),
    ):
        open_it()
        assert window.findChild(kind) is not None
        assert not tells(window)
        for panel in window.findChildren(Overlay):
            panel.close_panel()
        qtbot.waitUntil(lambda: not window.findChildren(Overlay))
    assert bench.selector.hidden.isVisible()


def test_that_hidden_arms_stay_hidden_and_are_shown_again_by_one_tap(open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    bench.opens.hide_arms()
    window.go("shelf")
    window._from_rail("running")
    assert not tells(window)
    bench.pieces.cards[1].click()
    bench.taps["spritz"].click()
    assert not tells(window)
    assert bench.shown is not None
    spritz = next(e for e in window.desk.journal.find(Event) if e.kind == "spritz")
    assert spritz.pieces == (bench.shown.pieces[1].id,)
    bench.selector.hidden.click()
    assert tells(window)


def test_that_a_blind_cook_has_its_pieces_and_no_arm(open_window: Opener) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    assert bench.whole is not None
    blind = without_arms(bench.whole)
    assert [p.label for p in blind.pieces] == [str(n) for n in range(1, len(blind.pieces) + 1)]
    assert {p.id for p in blind.pieces} == {p.id for p in bench.whole.pieces}
    assert not blind.arms
    # Injected meat is non-intact (FDA Food Code 3-401.11(A)(2)): hiding the arms does not hide that.
    assert {blind.treatment_kind(p) for p in blind.pieces} == {TreatmentKind.INJECTED}
    whole = replace(bench.whole, treatments=())  # a name that says a treatment is as good as one
    assert {without_arms(whole).treatment_kind(p) for p in blind.pieces} == {TreatmentKind.OTHER}
    arms = tuple(replace(arm, name=f"arm {n}") for n, arm in enumerate(whole.arms))
    whole = replace(whole, arms=arms)  # the title says it still: "Inject or leave alone"
    assert {without_arms(whole).treatment_kind(p) for p in blind.pieces} == {TreatmentKind.OTHER}
    whole = replace(whole, cook=replace(whole.cook, title="Ribs", question=""))
    assert {without_arms(whole).treatment_kind(p) for p in blind.pieces} == {None}
    assert {blind.arm_index(p.arm_id) for p in blind.pieces} == {None}


def test_that_numbers_of_a_blind_bench_are_the_slots_where_there_are_such(
    open_window: Opener,
) -> None:
    bench = bench_on(open_window(), Clock())
    assert bench.whole is not None
    pieces = bench.whole.pieces
    count = len(pieces)
    slotted = [replace(piece, slot=str(count - n)) for n, piece in enumerate(pieces)]
    assert [numbered(slotted)[p.id] for p in pieces] == [str(count - n) for n in range(count)]
    shelves = [replace(piece, slot="top") for piece in pieces]
    assert [numbered(shelves)[p.id] for p in pieces] == [str(n + 1) for n in range(count)]
    by_arm = sorted(shelves, key=lambda piece: piece.arm_id or "")
    grouped = [replace(piece, position=n) for n, piece in enumerate(by_arm)]
    assert [numbered(grouped)[p.id] for p in grouped] != [str(n + 1) for n in range(count)]
    nowhere = [replace(piece, slot="") for piece in pieces]
    drawn = numbered(nowhere)
    assert sorted(drawn.values()) == [str(n + 1) for n in range(count)]
    assert drawn == numbered(nowhere[::-1])  # the order in the plan, arm by arm, is not to be seen


def test_that_alarms_logged_work_and_weights_name_no_arm_while_it_is_hidden(
    open_window: Opener,
) -> None:
    window = open_window()
    clock = Clock()
    bench = bench_on(window, clock)
    assert bench.whole is not None
    arm = next(a for a in bench.whole.arms if a.name == "Injected")
    pieces = tuple(p.id for p in bench.whole.pieces_of(arm))
    cook, journal = bench.whole.cook.id, window.desk.journal
    injected = replace(an_event(cook, EventKind.ON, minutes=-90), kind="inject", pieces=pieces)
    journal.do(LogEvent(injected, "Log inject"))
    for stage, mass in ((Stage.TRIMMED, 1000.0), (Stage.TREATED, 1100.0)):
        weighing = Weighing(cook_id=cook, piece_id=pieces[0], stage=stage, mass=mass)
        journal.do(Add((weighing,), "Weigh"))
    due = Alarm(
        cook_id=cook,
        kind=AlarmKind.AT,
        words="Spritz",
        set_at=clock.now,
        at=clock.now,
        piece_id=pieces[0],
    )
    journal.do(SetAlarms((due,), "Alarm"))
    clock.pass_minutes(window, 1)
    bench.day.turn("log")
    seen = " ".join(tells(window))
    assert "B1: spritz" in seen  # the alarm
    assert "Injected" in seen  # the log
    bench.opens.hide_arms()
    assert window.desk.watch.ringing
    assert not tells(window)
    bench.opens.weigh()
    assert not tells(window)
    window.desk.go("probe files", cook)
    assert not tells(window)
