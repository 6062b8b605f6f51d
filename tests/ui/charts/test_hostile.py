"""No range of numbers stops a chart: each paints in no time, whatever it is given."""

import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from itertools import pairwise
from math import isfinite, isnan
from time import process_time
from types import FrameType

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from pitjournal.analysis.trends.columns.grouping import sensible_edges
from pitjournal.analysis.trends.columns.round_steps import counts_in, round_steps
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.day.course import Part, Stretch
from pitjournal.domain.day.ribbon import Lane, Mark, Ribbon
from pitjournal.domain.plate import Plate, PlatePoint, PlateRow, Reach, Stay
from pitjournal.files.summary.charts import curve_chart, interval_chart, nice_ticks, point_chart
from pitjournal.files.summary.content import (
    Curve,
    CurveChart,
    Interval,
    IntervalChart,
    PointChart,
    Points,
)
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.charts.bars_chart import Bar, BarsChart
from pitjournal.ui.charts.canvas import Canvas, tick_texts, ticks
from pitjournal.ui.charts.difference_chart import DifferenceChart, DifferenceRow
from pitjournal.ui.charts.groups_chart import GroupMark, GroupsChart
from pitjournal.ui.charts.heat_chart import HeatCell, HeatChart
from pitjournal.ui.charts.plate.plate_view import PlateView
from pitjournal.ui.charts.points_chart import ArmPoints, PointsChart
from pitjournal.ui.charts.power_chart import PowerChart
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip
from pitjournal.ui.charts.scatter_chart import Cloud, ScatterChart, Through
from pitjournal.ui.charts.season_chart import SeasonChart
from pitjournal.ui.charts.spread_chart import SpreadChart, SpreadStep
from pitjournal.ui.charts.trace.chart import Level, Line, TraceChart
from pitjournal.ui.charts.window_chart import WindowChart, WindowRow
from pitjournal.units import UnitSystem
from tests.ui.charts.hostile import RANGES, ranges

Values = Sequence[float]

AT_ONCE = 0.050
"""A chart paints within so many s of the processor's time."""

NEVER = 10.0
"""What takes so long, s, does not return."""


@contextmanager
def at_most(seconds: float) -> Iterator[None]:
    """Stop what does not return, before it has eaten the memory."""

    def too_long(_signal: int, _frame: FrameType | None) -> None:
        pytest.fail(f"it did not return within {seconds:g} s")

    before = signal.signal(signal.SIGALRM, too_long)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def paint(chart: QWidget, width: int = 560, height: int = 300) -> None:
    chart.resize(width, height)
    image = QImage(width, height, QImage.Format.Format_ARGB32_Premultiplied)
    painter = QPainter(image)
    try:
        if isinstance(chart, TraceChart):
            chart.paint(painter)
        else:
            assert isinstance(chart, Canvas)
            chart.draw(painter)
    finally:
        painter.end()


def points(values: Values) -> QWidget:
    chart = PointsChart()
    own = tuple((f"A{n}", f"pack {n % 3}", value) for n, value in enumerate(values))
    chart.show_arms([ArmPoints("Left alone", 0, own, values[0] if values else None)], "°F")
    return chart


def differences(values: Values) -> QWidget:
    chart = DifferenceChart()
    chart.show_rows(
        [
            DifferenceRow(f"arm {n}", n, "more", "+1", value, value, values[0])
            for n, value in enumerate(values)
        ],
        "°F",
    )
    return chart


def groups(values: Values) -> QWidget:
    chart = GroupsChart()
    chart.show_groups(
        [
            GroupMark(f"drum {n}", "", n % 9, value, values[0], values[-1], 3, few=n % 2 == 1)
            for n, value in enumerate(values)
        ],
        "min",
        joined=len(values) % 2 == 1,
    )
    return chart


def heat(values: Values) -> QWidget:
    chart = HeatChart()
    chart.show_cells(
        [
            HeatCell(f"row {n}", "drum", value, f"{value:g}", 3, few=False)
            for n, value in enumerate(values)
        ],
        [f"row {n}" for n in range(len(values))],
        ["drum"],
    )
    return chart


def scatter(values: Values) -> QWidget:
    chart = ScatterChart()
    along = np.array(values, dtype=np.float64)
    series = np.zeros(along.size, dtype=np.int64)
    chart.show_points(Cloud(along, along[::-1], series), "pit, °F", "min", minutes=(False, True))
    slope = values[0] if values else 1.0
    chart.show_lines([Through(slope, 0.0, 0), Through(1.0, slope, mark=True)])
    return chart


def spread(values: Values) -> QWidget:
    chart = SpreadChart()
    edges = sorted(value for value in values if not isnan(value))
    chart.show_steps(
        [SpreadStep(low, high, 2) for low, high in pairwise(edges)], "pit, °F", middle=6.0
    )
    chart.show_cuts(edges[:2])
    return chart


def spread_in_steps(values: Values) -> QWidget:
    chart = SpreadChart()
    shown = np.array(values, dtype=np.float64)
    shown = shown[np.abs(shown) < 1e100]
    edges = round_steps(shown)
    counts = counts_in(shown, edges) if shown.size else []
    steps = zip(pairwise(edges.tolist()), counts, strict=True)
    chart.show_steps([SpreadStep(*ends, count) for ends, count in steps], "pit, °F", minutes=True)
    return chart


def windows(values: Values) -> QWidget:
    chart = WindowChart()
    chart.show_rows(
        [
            WindowRow(f"A{n}", 0, values[0], value, value, None, n % 2 == 0)
            for n, value in enumerate(values)
        ]
    )
    return chart


def chances(values: Values) -> QWidget:
    chart = PowerChart()
    chart.show_curve([(n + 2, value) for n, value in enumerate(values)], None, "packs")
    return chart


def bars(values: Values) -> QWidget:
    chart = BarsChart()
    chart.show_bars(
        [Bar(f"wind {n}", value, value, "half of it") for n, value in enumerate(values)]
    )
    return chart


def traces(values: Values) -> QWidget:
    chart = TraceChart()
    times = 1.7e9 + np.arange(0.0, 60.0 * len(values), 60.0)
    line = Line("1", "rack", times, np.array(values, dtype=np.float64), 1)
    levels = [Level(value, "set", "set") for value in values[:2] if isfinite(value)]
    chart.show_lines([line] if values else [], levels=levels)
    return chart


def ribbons(values: Values) -> QWidget:
    chart = RibbonStrip()
    times = [1.7e9 + min(max(value, -1e9), 1e9) for value in values if not isnan(value)]
    edges = sorted(set(times))
    course = tuple(
        Stretch(Part.ON if n % 2 else Part.WRAPPED, start, end, planned=n > 2)
        for n, (start, end) in enumerate(pairwise(edges))
    )
    marks = tuple(Mark("lid", f"lid {n}", at, None, False, at) for n, at in enumerate(edges))
    chart.show_ribbon(Ribbon((Lane("", None, ("one",), (course,)),), marks), "UTC")
    return chart


def plates(values: Values) -> QWidget:
    view = PlateView()
    own = tuple(PlatePoint(f"L{n}", f"pack {n % 3}", value) for n, value in enumerate(values))
    mean = values[0] if values else None
    stays = tuple(Stay(f"L{n}", value, values[-1], n % 2 == 0) for n, value in enumerate(values))
    rows = [PlateRow("Left alone", 0, True, "6 points", "", False, own, mean, stays=stays)]
    rows += [
        PlateRow(
            f"Arm {n}",
            n,
            False,
            "Not enough to tell",
            "−1 to +1",
            False,
            own[:9],
            mean,
            Reach("this cook", value, values[0], values[-1]),
            Reach("two cooks", value, values[-1], values[0]),
            stays[:9],
        )
        for n, value in enumerate(values[:7], 1)
    ]
    view.show_plate(Plate(tuple(rows), (), "Tenderness, 1 to 9", "points", "rack"))
    return view


def seasons(values: Values) -> QWidget:
    chart = SeasonChart()
    contests = [(f"contest {number}", f"{number} Jul") for number in range(len(values))]
    chart.show_season(contests, {"ribs": list(values), "brisket": [None, *values[1:]]})
    return chart


CHARTS: dict[str, Callable[[Values], QWidget]] = {
    "points": points,
    "differences": differences,
    "groups": groups,
    "heat": heat,
    "scatter": scatter,
    "spread": spread,
    "spread in round steps": spread_in_steps,
    "windows": windows,
    "chances": chances,
    "bars": bars,
    "traces": traces,
    "ribbons": ribbons,
    "plates": plates,
    "seasons": seasons,
}


def time_of(qtbot: QtBot, make: Callable[[Values], QWidget], values: Values) -> float:
    """Return the processor's time, s, from numbers to a picture; words and table come too."""
    started = process_time()
    with at_most(NEVER):
        chart = make(values)
        qtbot.addWidget(chart)
        paint(chart)
        assert isinstance(chart, Canvas | TraceChart)
        chart.sentence()
        chart.table()
    return process_time() - started


@pytest.mark.parametrize("sort", RANGES)
@pytest.mark.parametrize("chart", CHARTS)
def test_that_every_chart_paints_every_range_at_once(qtbot: QtBot, chart: str, sort: str) -> None:
    make, values = CHARTS[chart], RANGES[sort]
    plain = min(time_of(qtbot, make, (5.0, 6.0, 7.5)) for _ in range(2))
    took = min(time_of(qtbot, make, values) for _ in range(2))
    assert took <= max(AT_ONCE, 10 * plain)


@pytest.mark.parametrize("chart", CHARTS)
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(values=ranges)
def test_that_no_numbers_at_all_stop_a_chart(qtbot: QtBot, chart: str, values: list[float]) -> None:
    time_of(qtbot, CHARTS[chart], values)


@given(values=ranges)
def test_that_marks_of_an_axis_are_few_and_inside_and_differ(values: list[float]) -> None:
    known = sorted(value for value in values if isfinite(value)) or [0.0]
    for minutes in (False, True):
        with at_most(NEVER):
            found = ticks(known[0], known[-1], 5, minutes=minutes)
        assert len(found) <= 12
        room = 1e-6 * (known[-1] / 2 - known[0] / 2)
        assert all(known[0] - room <= tick <= known[-1] + room for tick in found)
        assert len(set(found)) == len(found)
        texts = tick_texts(found, minutes=minutes)
        assert len(set(texts)) == len(texts)


@given(values=ranges)
def test_that_what_lies_far_outside_an_axis_stands_near_it(values: list[float]) -> None:
    axis = Axis(0.0, 10.0, 50.0, 250.0)
    places = axis.all_at(np.array(values, dtype=np.float64))
    assert places.tolist() == [axis.at(value) for value in values]
    assert np.all(np.abs(places) < 1e4)


def test_that_one_odd_number_among_many_asks_for_no_more_steps_than_fit() -> None:
    shown = np.array(RANGES["one far away"])
    with at_most(NEVER):
        edges = round_steps(shown)
    assert 2 <= edges.size <= 40
    assert sum(counts_in(shown, edges)) == shown.size


@given(values=ranges)
def test_that_a_summarys_charts_are_drawn_of_any_numbers(values: list[float]) -> None:
    own = tuple((f"A{n}", "pack", value) for n, value in enumerate(values))
    intervals = tuple(Interval(1, "Injected", v, values[0], values[-1], "+1") for v in values)
    hours = tuple(float(n) for n in range(len(values)))
    with at_most(NEVER):
        drawn = [
            point_chart(PointChart("Tenderness", "points", (Points(1, "Injected", own, None),))),
            interval_chart(IntervalChart("Tenderness", "points", intervals)),
            curve_chart(CurveChart("Day", "°F", (Curve("rack", 1, hours, tuple(values)),))),
        ]
    # SVG 1.1, 4.2: a number is digits; "nan" and "inf" are none.
    assert not any(bad in picture for picture in drawn for bad in ('"nan', '"inf', "nan,", "inf,"))


@pytest.mark.parametrize("sort", RANGES)
def test_that_a_summarys_axis_covers_what_is_known(sort: str) -> None:
    known = [value for value in RANGES[sort] if abs(value) < 1e100]
    if not known:
        return
    with at_most(NEVER):
        found = nice_ticks(min(known), max(known))
    assert 2 <= len(found) <= 12
    assert found[0] <= min(known) + 1e-6
    assert found[-1] >= max(known) * (1 - 1e-9)


def test_that_numbers_which_only_rounding_parts_are_one_group() -> None:
    # 250 °F is 394.261… K: there and back a rounding is lost, and a cook sees one heat.
    variable = Catalogue()["set_point"]
    kelvin = np.array([394.26111111111106, 394.2611111111111, 394.26111111111115] * 3)
    assert sensible_edges(kelvin, variable, UnitSystem.US).size == 0
