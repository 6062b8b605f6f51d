"""The charts draw anything they are given, and tell it in words and as a table."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QMouseEvent
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pitjournal.ui.charts.bars_chart import Bar, BarsChart
from pitjournal.ui.charts.canvas import tick_text, ticks
from pitjournal.ui.charts.difference_chart import DifferenceChart, DifferenceRow, beside_zero
from pitjournal.ui.charts.groups_chart import GroupMark, GroupsChart
from pitjournal.ui.charts.heat_chart import DEEPEST, HeatCell, HeatChart
from pitjournal.ui.charts.many_charts import ManyCharts
from pitjournal.ui.charts.points_chart import ArmPoints, PointsChart
from pitjournal.ui.charts.power_chart import PowerChart, beside_curve
from pitjournal.ui.charts.scatter_chart import Cloud, ScatterChart, Through
from pitjournal.ui.charts.spread import spread
from pitjournal.ui.charts.spread_chart import SpreadChart, SpreadStep
from pitjournal.ui.charts.trace.chart import ChartSpan, EventMark, Line, TraceChart
from pitjournal.ui.charts.window_chart import WindowChart, WindowRow
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import LIGHT, NIGHT, SUN, Theme


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
        [ChartSpan(1.7e9, 1.7e9 + 60, "in foil")],
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
    assert chart.sentence() == "With one arm there is nothing to compare."
    chart.show_curve([(2, 0.1), (3, 0.3), (12, 0.95)], (3, 0.3), "packs")
    assert drawn(chart, qtbot)
    assert chart.sentence() == "3 packs: found 30 % of the time; 12 packs: found 95 % of the time"
    assert chart.table()[2] == ["3", "30 %"]


@pytest.mark.parametrize("wide", [300.0, 520.0])
@pytest.mark.parametrize("high", [56.0, 94.0])
@pytest.mark.parametrize("effect", [0.5, 1.0, 2.0, 4.0, 8.0])
def test_that_what_is_said_of_a_cook_never_crosses_its_curve(
    wide: float, high: float, effect: float
) -> None:
    area = QRectF(52, 10, wide - 66, high)
    # Chances rise with the packs as 1 − exp(−effect · n ÷ 20) does.
    curve = [
        QPointF(
            area.left() + (n - 2) / 10 * area.width(),
            area.bottom() - (1 - math.exp(-effect * n / 20)) * area.height(),
        )
        for n in range(2, 13)
    ]
    for at in curve:
        place = beside_curve(at, QSizeF(98, 16), area, curve)
        assert area.contains(place)
        for first, last in pairwise(curve):
            assert not any(place.contains(first + (last - first) * k / 50) for k in range(51))


def cells(count: int) -> list[HeatCell]:
    return [
        HeatCell(f"row {n % 5}", f"column {n // 5}", 5.0 + n, f"{5 + n} points", n, n < 3)
        for n in range(count)
    ]


@pytest.mark.parametrize("count", [0, 1, 23])
def test_that_heat_tables_of_any_size_are_drawn_and_told(qtbot: QtBot, count: int) -> None:
    chart = HeatChart()
    rows = list(dict.fromkeys(cell.row for cell in cells(count)))
    columns = list(dict.fromkeys(cell.column for cell in cells(count)))
    chart.show_cells(cells(count), rows, columns)
    assert drawn(chart, qtbot)
    assert len(chart.spots) == count
    assert len(chart.table()) == 1 + len(rows)
    assert ("highest" in chart.sentence()) is bool(count)


def test_that_a_cell_is_tapped_anywhere_in_it_and_a_brush_takes_what_it_touches(
    qtbot: QtBot,
) -> None:
    chart = HeatChart()
    chart.show_cells(cells(4), [f"row {n}" for n in range(4)], ["column 0"])
    assert drawn(chart, qtbot)
    corner = chart.boxes[2].topLeft() + QPointF(3, 3)
    assert chart.at(corner) == 2
    over = chart.boxes[0].united(chart.boxes[1]).adjusted(4, 4, -4, -4)
    assert chart.inside(over) == (0, 1)


@pytest.mark.parametrize("count", [0, 1, 7, 5000])
def test_that_points_of_any_number_are_drawn_and_told(qtbot: QtBot, count: int) -> None:
    chart = ScatterChart()
    n = np.arange(count, dtype=np.int64)
    names = tuple(f"way {place}" for place in range(9))
    chart.show_points(
        Cloud((n % 97).astype(float), (n * 7 % 31).astype(float), n % 9, names),
        "thickness",
        "points",
    )
    chart.show_lines([Through(0.1, 2.0, 1, "+0.1 points for each mm more"), Through(0, 1.0)])
    assert drawn(chart, qtbot)
    assert len(chart.spots) == count
    assert len(chart.table()) == 1 + count
    assert (f"{count} cooks" in chart.sentence()) is bool(count)


def test_that_a_brush_over_points_takes_those_within_its_width(qtbot: QtBot) -> None:
    chart = ScatterChart()
    along = np.arange(10.0)
    chart.show_points(Cloud(along, along * 0 + 5, np.zeros(10, dtype=int)), "hours", "points")
    assert drawn(chart, qtbot)
    brushed: list[object] = []
    chart.brushed.connect(brushed.append)
    start, end = chart.spots[2].toPoint(), chart.spots[5].toPoint()
    qtbot.mousePress(chart, Qt.MouseButton.LeftButton, pos=start - QPoint(5, 60))
    qtbot.mouseMove(chart, start + QPoint(9, 0))
    qtbot.mouseMove(chart, end + QPoint(5, 10))
    qtbot.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=end + QPoint(5, 10))
    assert brushed == [(2, 3, 4, 5)]


def steps(count: int) -> list[SpreadStep]:
    return [SpreadStep(10.0 * n, 10.0 * (n + 1), (n * 3) % 5) for n in range(count)]


@pytest.mark.parametrize("count", [0, 1, 24])
def test_that_spreads_of_any_size_are_drawn_and_told(qtbot: QtBot, count: int) -> None:
    chart = SpreadChart()
    chart.show_steps(steps(count), "time on, min", middle=15.0 if count else None)
    assert drawn(chart, qtbot)
    assert len(chart.table()) == 1 + count
    assert ("most between" in chart.sentence()) is bool(count)


@pytest.mark.parametrize(
    ("low", "high", "texts"),
    [
        (0.0, 50.0, ["0 min", "10 min", "20 min", "30 min", "40 min", "50 min"]),
        (100.0, 230.0, ["2 h", "2 h 30", "3 h", "3 h 30"]),
        (0.0, 800.0, ["0 min", "3 h", "6 h", "9 h", "12 h"]),
        (-60.0, 60.0, ["−1 h", "−30 min", "0 min", "30 min", "1 h"]),
    ],
)
def test_that_lengths_of_time_are_marked_as_a_clock_counts(
    low: float, high: float, texts: list[str]
) -> None:
    # 60 minutes are an hour: marks stand at minutes and hours that a clock shows.
    places = ticks(low, high, 5, minutes=True)
    assert [tick_text(place, minutes=True) for place in places] == texts


def test_that_a_cut_is_dragged_and_stays_on_the_axis(qtbot: QtBot) -> None:
    chart = SpreadChart()
    chart.show_steps(steps(10), "time on, min")
    chart.show_cuts([30.0, 60.0])
    assert drawn(chart, qtbot)
    moved: list[tuple[float, ...]] = []
    chart.cuts_moved.connect(moved.append)
    held = QPoint(round(chart._x(30.0)), 100)
    qtbot.mousePress(chart, Qt.MouseButton.LeftButton, pos=held)
    away = QPoint(round(chart._x(45.0)), 100)
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(away),
        QPointF(away),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    chart.mouseMoveEvent(event)
    qtbot.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=away)
    assert moved[-1] == pytest.approx((45.0, 60.0), abs=0.5)
    for _ in range(120):
        qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert max(moved[-1]) == 100.0


def test_that_bars_are_told_and_chosen(qtbot: QtBot) -> None:
    chart = BarsChart()
    qtbot.addWidget(chart)
    chart.grab()
    assert chart.sentence() == "Nothing to show."
    chart.show_bars([Bar("cut", 0.4, 0.1, "50% of the spread"), Bar("wind", 0, 0, "none")])
    chart.resize(420, chart.height())
    chart.grab()
    assert len(chart.spots) == 2
    assert chart.sentence() == "cut 50% of the spread; wind none"
    assert chart.table()[1] == ["cut", "40 %", "10 %", "50% of the spread"]
    assert chart.at(QPointF(10, 50)) == 1


def test_that_groups_under_three_cooks_are_grey_in_their_own_shape(qtbot: QtBot) -> None:
    def colours(few: bool) -> set[str]:
        chart = GroupsChart()
        chart.show_groups([GroupMark("drum", "", 1, 5.0, None, None, 2, few)], "points")
        assert drawn(chart, qtbot)
        image = chart.grab().toImage()
        spot = chart.spots[0].toPoint()
        return {image.pixelColor(spot.x() + dx, spot.y()).name() for dx in range(-3, 4)}

    assert colours(few=True) == {QColor(look().theme.quiet).name()}
    assert colours(few=False) == {QColor(look().theme.arm(1)).name()}


def test_that_small_charts_lie_side_by_side_where_there_is_room(qtbot: QtBot) -> None:
    many = ManyCharts()
    qtbot.addWidget(many)
    charts = [(f"cooker {n}", GroupsChart()) for n in range(5)]
    many.resize(640, 700)
    many.show()
    many.show_charts(charts)
    assert many._columns == 2
    many.resize(1000, 700)
    qtbot.waitUntil(lambda: many._columns == 3)
    many.show_charts(charts[:1])
    assert len(many.charts) == 1
    many.show_charts([])
    assert not many.charts


@pytest.mark.parametrize("theme", [LIGHT, NIGHT, SUN])
def test_that_words_on_the_deepest_tint_can_be_read(theme: Theme) -> None:
    """WCAG 2.1, success criterion 1.4.3: 4.5 to 1 for text."""
    ground = [
        DEEPEST * one + (1 - DEEPEST) * two
        for one, two in zip(_rgb(theme.ember), _rgb(theme.card), strict=True)
    ]
    assert _contrast(_rgb(theme.ink), ground) >= 4.5


def _rgb(colour: str) -> list[float]:
    return [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]


def _contrast(one: Sequence[float], two: Sequence[float]) -> float:
    def luminance(rgb: Sequence[float]) -> float:
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in rgb]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@given(
    estimate=st.floats(-10, 10).filter(bool),
    middle=st.floats(0, 420),
    zero=st.floats(60, 360),
    width=st.floats(20, 50),
)
def test_that_a_value_never_lies_across_the_line_of_no_difference(
    estimate: float, middle: float, zero: float, width: float
) -> None:
    row = DifferenceRow("Injected", 1, "", "+1", estimate, None, None)
    room = QRectF(middle - width / 2, 0, width, 20)
    placed = beside_zero(room, zero, row.estimate, 420)
    assert not placed.left() < zero < placed.right()
    assert placed.width() == pytest.approx(width)


@pytest.mark.parametrize("width", [320, 700])
def test_that_a_narrow_chart_of_windows_leaves_its_words_to_a_note(
    qtbot: QtBot, width: int
) -> None:
    chart = WindowChart()
    chart.show_rows([WindowRow("A1", 0, 180.0, 190.0, 200.0, None, True)], "°F")
    qtbot.addWidget(chart)
    chart.resize(width, 200)
    assert not chart.grab().isNull()
    assert chart.sentence() == "A1 right for at least 10 °F, taken off while right"
    assert chart.table()[1][1] == "180 °F"
