"""The panels of a cook's probe files and of what the traces say, in a window on no screen."""

from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.probe_log import ProbeLog, ReadOptions, read_probe_log
from pitjournal.ui.bench.places import LEAVE_OUT
from pitjournal.ui.bench.probes.probe_files import ProbeFilesPanel
from pitjournal.ui.bench.probes.probe_panel import ProbePanel
from pitjournal.ui.bench.probes.probe_preview import preview_of
from pitjournal.ui.cook import day_chart
from pitjournal.ui.cook.day_chart import DayChart
from pitjournal.ui.cook.trace_says import TraceSaysPanel
from pitjournal.ui.cook.traces import Align
from pitjournal.ui.window import Window
from tests.builders import NOON
from tests.journal.test_probe_files import HOURS, a_log, attach, logged_cook
from tests.ui.conftest import Opener
from tests.ui.test_window import unnamed


@pytest.fixture
def window(open_window: Opener) -> Window:
    window = open_window("light", "metric")
    cook_id = logged_cook(window.desk.journal)
    attach(window.desk.journal, cook_id, a_log(NOON, HOURS))
    window.go("cook", cook_id, "bench")
    return window


def cook_of(window: Window) -> str:
    return window.desk.journal.cooks.page()[0].id


def files(window: Window) -> ProbeFilesPanel:
    window.go("probe files", cook_of(window))
    assert isinstance(window.panel, ProbeFilesPanel)
    return window.panel


def preview(window: Window, data: bytes, name: str) -> ProbePanel:
    desk = window.desk
    read = preview_of(read_probe_log(data, name), ReadOptions(), desk.system)
    panel = ProbePanel(desk, window, cook_of(window), name, data, read)
    panel.open_panel()
    return panel


def traces(window: Window) -> dict[str, Trace]:
    return {trace.channel: trace for trace in window.desk.journal.find(Trace)}


def test_that_a_clock_is_dragged_and_undone(window: Window) -> None:
    panel = files(window)
    assert not unnamed(window)
    chart = panel.clocks[0].chart
    assert chart is not None
    assert chart.shift_lines(120.0, done=False)
    assert traces(window)["Pit"].shift == 0.0
    chart.shift_lines(150.0, done=True)
    assert {trace.shift for trace in traces(window).values()} == {150.0}
    window.desk.bridge.undo()
    assert {trace.shift for trace in traces(window).values()} == {0.0}


def test_that_channels_are_swapped_placed_and_kept_whole(window: Window) -> None:
    before = traces(window)
    panel = files(window)
    row = next(c for c in panel.channels if c._trace.channel == "Meat 1")
    row._swap(before["Meat 2"].id)
    after = traces(window)
    assert after["Meat 1"].piece_id == before["Meat 2"].piece_id
    row = next(c for c in panel.channels if c._trace.channel == "Meat 2")
    assert len(row.out) == 1
    row._keeper(before["Meat 2"].left_out[0])()
    assert traces(window)["Meat 2"].left_out == ()


def test_that_what_a_trace_says_comes_with_what_it_was_read_from(
    window: Window, qtbot: QtBot
) -> None:
    window.go("what traces say", cook_of(window))
    panel = window.panel
    assert isinstance(panel, TraceSaysPanel)
    panel.turn(traces(window)["Meat 1"].id)

    def labels() -> list[str]:
        return [label.text() for label in panel.table.findChildren(type(panel.source))]

    qtbot.waitUntil(lambda: any(label.startswith("lethality") for label in labels()))
    names = labels()
    assert "07:00 to 13:00" in names  # noon UTC is seven in Chicago
    assert "360" in names


def test_that_traces_are_lined_up_at_each_pieces_own_moment(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    chart = next(c for c in window.findChildren(DayChart) if c.isVisibleTo(window))
    chart.line_up(Align.SIXTY)
    meat = [line for line in chart.chart.lines if line.sort == "meat"]
    assert len(meat) == 2
    for line in meat:
        assert line.values[abs(line.times).argmin()] == pytest.approx(60.0, abs=1.0)
    assert chart.chart.zone is None
    chart.write(tmp_path / "day")
    qtbot.waitUntil((tmp_path / "day.png").exists, timeout=20_000)
    assert (tmp_path / "day.png").stat().st_size > 1000
    chart.write(tmp_path / "day.svg")
    qtbot.waitUntil((tmp_path / "day.svg").exists, timeout=20_000)
    assert "<svg" in (tmp_path / "day.svg").read_text(encoding="utf-8")


def test_that_a_long_log_is_offered_to_be_cut(window: Window) -> None:
    data = a_log(NOON.replace(day=1), 60)
    panel = preview(window, data, "long.csv")
    assert panel.part.isVisibleTo(panel)
    assert panel._between() is not None
    panel.part.choose(False)
    assert panel._between() is None


def test_that_long_traces_are_read_by_the_worker(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(day_chart, "AT_ONCE", 10)
    journal = window.desk.journal
    chart = DayChart(window.desk)
    qtbot.addWidget(chart)
    (first, *_) = traces(window).values()
    damaged = journal.folder / "attachments" / first.samples[:2] / first.samples
    kept = damaged.read_bytes()
    damaged.write_bytes(b"damaged")
    chart.show_cook(journal.whole(cook_of(window)))
    assert not chart.chart.lines
    qtbot.waitUntil(lambda: len(chart.chart.lines) == 2)
    damaged.write_bytes(kept)


def test_that_a_unit_that_was_guessed_can_be_said(window: Window, qtbot: QtBot) -> None:
    data = a_log(NOON, 2).replace(b" (C)", b"")
    panel = preview(window, data, "bare.csv")
    assert panel.units.isVisibleTo(panel)
    assert panel.units.values() == ("degC",)
    panel._read_again(unit="degF")
    qtbot.waitUntil(panel.keep.isEnabled)
    assert {channel.unit_in_file for channel in panel.log.channels} == {"degF"}
    assert panel.log.channels[0].max_c == pytest.approx((123 - 32) / 1.8)
    assert panel.units.values() == ("degF",)


def test_that_a_preview_with_all_its_questions_has_room_in_a_small_window(
    window: Window, qtbot: QtBot
) -> None:
    window.resize(1024, 700)
    window.show()
    data = "".join(f"{5 * n}\t{225 + n % 3}.5\n" for n in range(60)).encode()
    panel = preview(window, data, "bare.txt")
    panel._read_again(counted="min")
    qtbot.waitUntil(panel.keep.isEnabled)
    QApplication.processEvents()
    assert panel.counts.values() == ("min",)
    items = (panel.inside.itemAt(place) for place in range(panel.inside.count()))
    shown = [item.widget() for item in items if item is not None]
    parts = [part for part in shown if part is not None and part.isVisible()]
    assert {panel.units, panel.counts, panel.started, panel.chart} <= set(parts)
    for one, other in pairwise(parts):
        assert one.geometry().bottom() < other.geometry().top()
    keep = panel.keep.mapTo(window, panel.keep.rect().bottomLeft()).y()
    assert panel.keep.isVisible()
    assert keep < window.height()


def test_that_answers_in_a_row_count_together_and_where_channels_sat_stays(
    window: Window, qtbot: QtBot
) -> None:
    data = a_log(NOON, 2).replace(b" (C)", b"")
    panel = preview(window, data, "bare.csv")
    piece = traces(window)["Meat 2"].piece_id
    panel.put(0, LEAVE_OUT)
    panel.put(2, piece)
    panel._read_again(unit="degC")
    assert not panel.keep.isEnabled()
    panel._read_again(unit="degF")
    panel._read_again(day_first=True)
    qtbot.waitUntil(panel.keep.isEnabled)
    assert {channel.unit_in_file for channel in panel.log.channels} == {"degF"}
    assert panel._read.options == ReadOptions(day_first=True, unit="degF")
    assert (panel._placed[0], panel._placed[2]) == (LEAVE_OUT, piece)


def test_that_an_answer_the_file_refuses_is_taken_back_and_the_rest_stays(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    panel = preview(window, a_log(NOON, 2).replace(b" (C)", b""), "bare.csv")
    before = panel.log

    def refuses(*_: object) -> ProbeLog:
        raise JournalError("No row can be read so.", "Answer otherwise.")

    monkeypatch.setattr(strangers, "probe_log", refuses)
    panel._read_again(unit="degF")
    qtbot.waitUntil(panel.keep.isEnabled)
    assert "No row can be read so." in panel.problem.text()
    assert panel.log is before
    assert panel.units.values() == ("degC",)


def test_that_a_file_is_kept_by_the_worker_and_what_stands_in_the_way_is_said(
    window: Window, qtbot: QtBot
) -> None:
    data = a_log(NOON, HOURS)
    panel = preview(window, data, "log.csv")  # this cook has it already
    qtbot.mouseClick(panel.keep, Qt.MouseButton.LeftButton)
    assert not panel.keep.isEnabled()
    qtbot.waitUntil(panel.keep.isEnabled)
    assert "has that file already" in panel.problem.text()
    other = preview(window, data + b"\n", "again.csv")
    qtbot.mouseClick(other.keep, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: len(window.desk.journal.find(ProbeFile)) == 2)
    assert window.desk.bridge.journal.steps()[0] == "Attach again.csv"


def test_that_meat_probes_are_proposed_to_pieces_in_order_and_what_is_left_out_is_said(
    window: Window,
) -> None:
    head = "Time,Pit (F),Meat 1 (F),Meat 2 (F)\n"
    rows = "".join(f"2026-05-02 07:{m:02d},110,{20 + m},{18 + m}\n" for m in range(20))
    panel = preview(window, (head + rows).encode(), "log.csv")
    pieces = [piece.id for piece in window.desk.journal.whole(cook_of(window)).pieces]
    names = [channel.name for channel in panel.log.channels]
    sat = dict(zip(names, panel._placed, strict=True))
    assert sat["Pit"] == "pit"
    assert [sat["Meat 1"], sat["Meat 2"]] == pieces[:2]
    panel.put(names.index("Meat 2"), LEAVE_OUT)
    assert "Meat 2" in panel.left_out.text()
    assert panel.left_out.isVisible()
    panel.put(names.index("Meat 2"), pieces[1])
    assert "Meat 2" not in panel.left_out.text()


def test_that_a_channel_is_left_out_and_put_back_into_another_piece(
    qtbot: QtBot, window: Window
) -> None:
    before = traces(window)
    panel = files(window)
    row = next(c for c in panel.channels if c._trace.channel == "Meat 2")
    row._sit(LEAVE_OUT)
    assert set(traces(window)) == {"Pit", "Meat 1"}
    (away,) = panel.left_out
    assert "360 readings" in away.said.text()
    whole = window.desk.journal.whole(cook_of(window))
    other = whole.pieces[3].id
    box = away.place.box
    box.setCurrentIndex(box.findText(f"piece {whole.pieces[3].label}"))
    box.activated.emit(box.currentIndex())
    qtbot.waitUntil(lambda: "Meat 2" in traces(window))
    assert traces(window)["Meat 2"].piece_id == other
    assert traces(window)["Meat 2"].left_out == before["Meat 2"].left_out
    assert not panel.left_out
    assert not unnamed(window)
