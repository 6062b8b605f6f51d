"""For whom a tap is: the fire and the lid are everyone's, and a guided step leaves no trace."""

from datetime import UTC, datetime, timedelta

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import Event, EventKind
from pitjournal.journal.commands.records import Add
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.look.parts.chips import Chip
from pitjournal.ui.window import Window
from tests.ui.conftest import Opener
from tests.ui.test_keys import bench_of


def logged(window: Window) -> dict[str, tuple[str, ...]]:
    return {e.kind: e.pieces for e in window.desk.journal.find(Event) if e.happened_at is not None}


def first_arm(bench: BenchPage) -> tuple[str, ...]:
    whole = bench.whole
    assert whole is not None
    return tuple(piece.id for piece in whole.pieces_of(whole.arms[1]))


def test_that_fire_and_lid_are_the_whole_cooks_whoever_is_chosen(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench, keys = bench_of(qtbot, window)
    arm = first_arm(bench)
    bench.selector.take(arm)
    bench.taps["lid"].held.emit()
    panel = window.panel
    assert panel is not None
    assert panel.accessibleName() == "Lid, all 9"
    panel.close_panel()
    for key in ("7", "3", "4"):
        qtbot.keyClick(keys, key)
    assert logged(window) == {EventKind.LIT: (), EventKind.LID: (), EventKind.FLIP: arm}


def test_that_a_guided_step_is_for_its_own_pieces_and_then_for_is_everyone(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench, keys = bench_of(qtbot, window)
    arm, whole = first_arm(bench), bench.whole
    assert whole is not None
    now = datetime.now(UTC)
    steps = tuple(
        Event(
            cook_id=whole.cook.id,
            kind=kind,
            happened_at=None,
            entered_at=now,
            planned_at=now + timedelta(minutes=minutes),
            pieces=pieces,
        )
        for kind, minutes, pieces in (("spritz", 1, arm), ("wrap", 2, ()))
    )
    window.desk.journal.do(Add(steps, "plan"))
    bench.due.do_it.click()
    assert logged(window) == {EventKind.SPRITZ: arm}
    assert bench.selector.chosen == ()
    bench.selector.take(arm)  # chosen for something else
    bench.due.do_it.click()
    assert logged(window)[EventKind.WRAP] == ()
    assert bench.selector.chosen == ()
    qtbot.keyClick(keys, "2")
    assert logged(window)[EventKind.ON] == ()


def test_that_who_is_meant_stands_on_the_tap(qtbot: QtBot, open_window: Opener) -> None:
    window = open_window()
    bench, keys = bench_of(qtbot, window)
    arm, whole = first_arm(bench), bench.whole
    assert whole is not None
    assert bench.taps["on"].accessibleDescription() == "all 9"
    bench.selector.take(arm)
    for name in ("on", "flip", "spritz", "wrap"):
        assert bench.taps[name].accessibleDescription().startswith(whole.arms[1].name), name
    assert whole.arms[1].name not in bench.taps["lid"].accessibleDescription()
    qtbot.keyClick(keys, "2")
    qtbot.keyClick(keys, "A")
    rest = [piece.label for piece in whole.pieces if piece.id not in arm]
    assert bench.taps["on"].accessibleDescription() == f"{', '.join(rest[:4])} and 2 more"


def test_that_chips_that_have_room_in_one_line_are_not_broken_by_their_own_bar(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench, _ = bench_of(qtbot, window)
    window.resize(1280, 800)
    selector = bench.selector
    area = selector._area
    qtbot.waitUntil(lambda: area.width() > 100)
    for width in (selector.chips.row_width() - 20, selector.chips.row_width() + 8):
        area.setFixedWidth(width)  # once too narrow, then with room again
        QApplication.processEvents()
    selector._make_room()
    QApplication.processEvents()
    chips = selector.chips.findChildren(Chip)
    assert len({chip.y() for chip in chips}) == 1
    assert not area.verticalScrollBar().isVisible()
