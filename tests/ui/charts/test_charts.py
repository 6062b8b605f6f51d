"""The charts draw anything they are given, and tell it in words and as a table."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pitjournal.ui.charts.canvas import ticks
from pitjournal.ui.charts.difference_chart import DifferenceChart, DifferenceRow
from pitjournal.ui.charts.groups_chart import GroupMark, GroupsChart
from pitjournal.ui.charts.points_chart import ArmPoints, PointsChart
from pitjournal.ui.charts.power_chart import PowerChart
from pitjournal.ui.charts.spread import spread
from pitjournal.ui.charts.trace_chart import EventMark, Line, Span, TraceChart
from pitjournal.ui.charts.window_chart import WindowChart, WindowRow


def drawn(chart: QWidget, qtbot: QtBot) -> bool:
    """Return whether a chart paints more than one colour."""
    qtbot.addWidget(chart)
    chart.resize(420, 260)
    image = chart.grab().toImage()
    colours = {image.pixel(x, y) for x in range(0, 420, 3) for y in range(0, 260, 3)}
    return len(colours) > 1


@given(
    wanted=st.lists(st.floats(-50, 250), min_size=1, max_size=20),
    gap=st.floats(1, 20),
)
def test_that_labels_never_cover_each_other_where_there_is_room(
    wanted: list[float], gap: float
) -> None:
    placed = spread(wanted, gap, 0.0, 400.0)
    assert all(-1e-6 <= place <= 400.0 + 1e-6 for place in placed)
    ordered = sorted(placed)
    least = min(gap, 400.0 / max(len(wanted) - 1, 1))
    assert all(two - one >= least - 1e-6 for one, two in pairwise(ordered))


@given(low=st.floats(-1e4, 1e4), width=st.floats(1e-3, 1e4))
def test_that_ticks_are_round_and_inside(low: float, width: float) -> None:
    found = ticks(low, low + width, 5)
    assert found
    assert len(found) <= 8
    assert all(low - width * 0.01 <= tick <= low + width * 1.01 for tick in found)


@pytest.mark.parametrize("count", [0, 1, 7, 12])
def test_that_traces_of_any_number_are_drawn_and_told(qtbot: QtBot, count: int) -> None:
    times = 1.7e9 + np.arange(0.0, 3600.0, 60.0)
    lines = [
        Line(str(n), f"piece {n}", times, np.linspace(40, 200 + n, times.size), n % 9)
        for n in range(count)
    ]
    chart = TraceChart()
    chart.show_lines(lines, [EventMark(1.7e9 + 600, "lid")] * bool(count), [])
    assert drawn(chart, qtbot)
    assert len(chart.table()) == (count + 1 if count else 0)
    assert ("No probe file yet" in chart.sentence()) is (count == 0)


def test_that_gaps_and_missing_readings_are_no_fault(qtbot: QtBot) -> None:
    times = 1.7e9 + np.arange(0.0, 3600.0, 60.0)
    values = np.full(times.size, np.nan)
    chart = TraceChart()
    chart.show_lines(
        [Line("1", "dead", times, values, 1), Line("2", "one", times[:1], np.array([60.0]), 2)],
        [],
        [Span(1.7e9, 1.7e9 + 60, "in foil")],
    )
    assert drawn(chart, qtbot)


@pytest.mark.parametrize("arms", [0, 1, 3, 12])
def test_that_points_of_any_number_of_arms_are_drawn(qtbot: QtBot, arms: int) -> None:
    chart = PointsChart()
    points = tuple((f"A{n}", f"pack {n}", 6.0 + n / 3) for n in range(60 // max(arms, 1)))
    chart.show_arms([ArmPoints(f"Way {n}" * 8, n, points, 6.5) for n in range(arms)], "points")
    assert drawn(chart, qtbot)
    assert len(chart.table()) == 1 + arms * len(points)


def test_that_a_difference_without_an_interval_shows_none(qtbot: QtBot) -> None:
    chart = DifferenceChart()
    chart.show_rows(
        [DifferenceRow("Injected", 1, "no interval", "+1 point", 1.0, None, None)], "tenderness"
    )
    assert drawn(chart, qtbot)
    assert chart.table()[1][2:] == ["none", "none"]


def test_that_bars_tell_their_bounds(qtbot: QtBot) -> None:
    chart = WindowChart()
    chart.show_rows(
        [WindowRow("A1", 0, 0, 15, 45, 60, False), WindowRow("A2", 1, 0, 15, 30, None, True)]
    )
    assert drawn(chart, qtbot)
    assert chart.sentence() == (
        "A1 right for at least 30 min; A2 right for at least 15 min, taken off while right"
    )


def test_that_a_group_is_chosen_by_keys(qtbot: QtBot) -> None:
    chart = GroupsChart()
    marks = [GroupMark(f"cooker {n}", "", 0, 5.0 + n, 4.0, 7.0, 3, False) for n in range(4)]
    chart.show_groups(marks, "points")
    assert drawn(chart, qtbot)
    chosen: list[int] = []
    chart.chosen.connect(chosen.append)
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Return):
        qtbot.keyClick(chart, key)
    assert chosen == [1]


def test_that_a_curve_of_chances_tells_this_cook_and_its_end(qtbot: QtBot) -> None:
    chart = PowerChart()
    assert chart.sentence() == "With one way there is nothing to compare."
    chart.show_curve([(2, 0.1), (3, 0.3), (12, 0.95)], (3, 0.3), "packs")
    assert drawn(chart, qtbot)
    assert chart.sentence() == "3 packs: found 30 % of the time; 12 packs: found 95 % of the time"
    assert chart.table()[2] == ["3", "30 %"]
