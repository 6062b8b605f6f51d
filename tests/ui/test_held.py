"""What is tapped while the journal's folder is away, and what the window says of it."""

from datetime import timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import DonenessCheck, Event, EventKind, Photo
from pitjournal.domain.tasting import Tasting, TastingState
from pitjournal.journal import Journal
from pitjournal.journal.commands.tasting import LockTasting, RevealTasting
from pitjournal.store.faults import NotSavedError
from pitjournal.ui.backing_up import BackingUp
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.log import LogRow
from pitjournal.ui.bench.panels import WhenPanel
from pitjournal.ui.look.parts.overlay import panels_over
from pitjournal.ui.tasting.unsee_panel import UnseePanel
from pitjournal.ui.window import Window
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener
from tests.ui.test_tasting import drawn, read_out

LEFT, Key, Ctrl = Qt.MouseButton.LeftButton, Qt.Key, Qt.KeyboardModifier.ControlModifier


def seen(window: Window) -> str:
    return "\n".join(label.text() for label in window.findChildren(QLabel) if label.isVisible())


def test_that_nothing_is_called_saved_that_is_only_held_and_the_bar_clears_by_itself(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    clock.now += timedelta(hours=4)  # meat that has only just gone on is not so hot: that is asked
    folder, away = tmp_path / "journal", tmp_path / "away"
    folder.rename(away)
    qtbot.mouseClick(bench.taps["feel"], LEFT)
    panel = window.findChild(FeelPanel)
    assert panel is not None
    for temperature in ("190", "195"):
        panel.internal.line.setFocus()
        qtbot.keyClicks(panel.internal.line, temperature)
        qtbot.mouseClick(panel.taps[3], LEFT)
        assert panel.said.text().startswith("Not saved yet for ")
        assert "✓ saved" not in seen(window)
        assert "Not saved yet: " in window.bar.text.text()
    assert len(window.desk.bridge.unsaved) == 2
    away.rename(folder)
    qtbot.waitUntil(lambda: not window.desk.bridge.unsaved, timeout=10_000)
    assert panel.said.text().startswith("✓ saved for ")
    panel.close_panel()
    assert "Not saved yet" not in seen(window)
    found = window.desk.journal.find(DonenessCheck)
    assert sorted(check.typed["internal"] for check in found) == ["190", "195"]


def test_that_a_held_tap_shows_on_its_tap_the_clock_and_the_log_until_it_is_saved(
    qtbot: QtBot, open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window, clock = open_window(), Clock()
    bench = bench_on(window, clock)
    journal, real = window.desk.journal, window.desk.journal.do

    def full(*_: object) -> object:
        raise NotSavedError("Not saved yet. The disk is full.", "It is kept here and tried again.")

    with monkeypatch.context() as disk:
        disk.setattr(journal, "do", full)
        qtbot.mouseClick(bench.taps["lid"], LEFT)
        assert bench.taps["lid"].accessibleDescription().startswith("not saved yet")
        assert "The disk is full" in bench.bar.text.toolTip()  # the line may be cut
        window.desk.bridge.told.emit("Something else.")
        bench.bar.put_away()
        assert "Not saved yet: Lid" in bench.bar.text.text()
        bench.day.turn("log")
        rows = [r.text.accessibleName() for r in bench.day.log.findChildren(LogRow)]
        assert "Lid: not saved yet" in rows
    assert journal.do == real
    qtbot.waitUntil(lambda: not window.desk.bridge.unsaved, timeout=10_000)
    assert [e for e in journal.find(Event) if e.kind == EventKind.LID]
    assert "not saved yet" not in bench.taps["lid"].accessibleDescription()
    assert "Not saved yet" not in bench.bar.text.text() or not bench.bar.text.isVisible()
    rows = [r.text.accessibleName() for r in bench.day.log.findChildren(LogRow)]
    assert "Lid" in rows


def test_that_a_backup_that_fails_is_told_plainly(open_window: Opener) -> None:
    window = open_window()
    told: list[str] = []
    window.desk.bridge.told.connect(told.append)
    backing_up = window.desk.findChild(BackingUp)
    assert backing_up is not None
    backing_up._failed("Not saved yet. The journal's folder is gone. Bring it back.")
    assert told == [
        (
            "This hour's backup could not be made. The journal's folder is gone. Bring it back. "
            "It is tried again by itself."
        )
    ]


def test_that_the_question_before_a_reveal_is_undone_lies_there_once(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.turn("Ada")
    read_out(qtbot, page, "7")
    (tasting,) = window.desk.journal.find(Tasting)
    for command in (LockTasting(tasting.id), RevealTasting(tasting.id)):
        window.desk.journal.do(command)
    for _ in range(4):
        QTest.keyClick(window.windowHandle(), Key.Key_Z, Ctrl)
    assert [type(panel) for panel in panels_over(window)] == [UnseePanel]
    QTest.keyClick(window.windowHandle(), Key.Key_Escape)
    assert not panels_over(window)
    assert window.desk.journal.find(Tasting)[0].state is TastingState.REVEALED


def photos(journal: Journal) -> list[str]:
    return sorted(photo.name for photo in journal.find(Photo))


def test_that_good_photos_are_kept_and_the_one_that_is_none_is_named(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window = open_window()
    bench = bench_on(window, Clock())
    names = ["bark.png", "fake.jpg", "slice.png"]
    for red, name in enumerate(names):  # no two alike: what is there already is left out
        Image.new("RGB", (60, 40), (120 + red, 60, 30)).save(tmp_path / name)
    (tmp_path / "fake.jpg").write_text("no picture")
    bench.opens.add_photos([tmp_path / name for name in names])
    qtbot.waitUntil(lambda: "Left out" in bench.bar.text.text(), timeout=30_000)
    assert photos(window.desk.journal) == ["bark.png", "slice.png"]
    assert "2 photos kept" in bench.bar.text.text()
    assert "fake.jpg" in bench.bar.text.text()


def test_that_a_held_tap_with_a_typed_time_is_kept_by_enter(
    qtbot: QtBot, open_window: Opener
) -> None:
    window = open_window()
    bench_on(window, Clock())
    QTest.keyClick(window.windowHandle(), Key.Key_F3, Qt.KeyboardModifier.ShiftModifier)
    panel = window.panel
    assert isinstance(panel, WhenPanel)
    panel.time.line.selectAll()
    qtbot.keyClicks(panel.time.line, "yesterday 23:50")
    QTest.keyClick(window.windowHandle(), Key.Key_Return)
    assert window.panel is None
    (lid,) = [e for e in window.desk.journal.find(Event) if e.kind == EventKind.LID]
    assert lid.happened_at is not None
    local = lid.happened_at.astimezone(ZoneInfo("America/Chicago"))
    assert (local.day, local.hour, local.minute) == (1, 23, 50)


def test_that_held_scores_stay_on_a_sheet_that_is_turned_away_and_back(
    qtbot: QtBot, open_window: Opener, tmp_path: Path
) -> None:
    window = open_window()
    page = drawn(window)
    page.scoring.turn("Ada")
    folder, away = tmp_path / "journal", tmp_path / "away"
    folder.rename(away)
    read_out(qtbot, page, "76")
    read = [field.text() for field in page.scoring.sheet.fields.values()]
    assert sorted(filter(None, read)) == ["6", "7"]
    assert window.desk.bridge.unsaved
    page.scoring.turn("Bruno")
    assert not any(field.text() for field in page.scoring.sheet.fields.values())
    page.scoring.turn("Ada")
    assert [field.text() for field in page.scoring.sheet.fields.values()] == read
    assert page.scoring.progress.text().startswith("2 of ")
    away.rename(folder)
    qtbot.waitUntil(lambda: not window.desk.bridge.unsaved, timeout=10_000)
    assert [field.text() for field in page.scoring.sheet.fields.values()] == read
