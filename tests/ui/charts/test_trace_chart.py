"""The chart of a cook: a pan shows what a fresh paint would, labels and words keep apart."""

from itertools import pairwise
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QImage, QPainter
from PySide6.QtWidgets import QScrollArea
from pytestqt.qtbot import QtBot

from pitjournal.ui.charts.trace import annotations, line_ends
from pitjournal.ui.charts.trace.chart import ChartSpan, EventMark, Level, Line, TraceChart
from pitjournal.ui.charts.trace.layer import TraceLayer
from pitjournal.ui.charts.trace.lines import Sort, View, view_of
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import font, look
from pitjournal.ui.look.tokens import THEMES

START = 1_700_000_000.0
TIMES = START + np.arange(0.0, 6 * 3600.0, 10.0)


def line(key: str, arm: int | None = 1, sort: Sort = "meat", level: float = 80.0) -> Line:
    values = level + 10 * np.sin(TIMES / 500) + (TIMES - START) / 3000
    return Line(key, key, TIMES, values, arm, sort)


def a_view(start: float = START, length: float = 3600.0, before: View | None = None) -> View:
    return view_of(QRectF(0, 0, 400, 200), (start, start + length), (50, 110), 1.0, before)


def painted(layer: TraceLayer, view: View) -> np.ndarray:
    image = QImage(400, 200, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(0)
    painter = QPainter(image)
    layer.paint(painter, view)
    painter.end()
    return np.frombuffer(image.constBits(), np.uint8).reshape(200, 400, 4).astype(int)


@pytest.mark.parametrize("sort", ["meat", "pit"])
@pytest.mark.parametrize("step", [7.0, -7.0, 63.0, 350.0])
def test_that_a_pan_shows_what_painting_anew_would(qtbot: QtBot, sort: Sort, step: float) -> None:
    del qtbot
    kept, view = TraceLayer(), a_view(START + 7200)
    kept.show_lines([line("a", sort=sort)])
    for frame in range(60):
        view = a_view(START + 7200 + frame * step, before=view)
        seen = painted(kept, view)
    fresh = TraceLayer()
    fresh.show_lines([line("a", sort=sort)])
    anew = painted(fresh, view)
    if sort == "pit":
        # Dashes go on where they were: as many, though not at the same places.
        columns = [int(picture[..., 3].any(axis=0).sum()) for picture in (seen, anew)]
        assert columns[0] == pytest.approx(columns[1], abs=8)
        return
    assert np.abs(seen - anew).max() <= 80
    assert np.abs(seen - anew).mean() < 0.05


def test_that_a_view_moves_by_whole_pixels(qtbot: QtBot) -> None:
    del qtbot
    one = a_view()
    other = a_view(START + 100.3, before=one)
    assert (other.anchor, other.scale) == (one.anchor, one.scale)
    assert other.first == round(100.3 * one.scale)
    assert other.x(other.time_at(37)) == pytest.approx(37)


@given(
    times=st.lists(st.floats(0, 21600), max_size=30),
    texts=st.lists(st.sampled_from(["lid", "spray", "in butcher paper", "w" * 90]), min_size=1),
)
def test_that_words_of_events_never_cover_each_other(
    qapp: object, times: list[float], texts: list[str]
) -> None:
    del qapp
    events = [EventMark(START + t, texts[n % len(texts)]) for n, t in enumerate(times)]
    metrics = QFontMetricsF(font(tokens.SMALL))
    found = annotations.lanes_of(a_view(length=21600.0), events)
    assert len(found) == len(events)
    for lane in range(annotations.LANES):
        words = sorted(
            (left, left + metrics.horizontalAdvance(event.text))
            for event, left, at in found
            if at == lane
        )
        assert all(one[1] < other[0] for one, other in pairwise(words))
        assert all(left >= 0 and right <= 400 for left, right in words)


def test_that_a_label_tells_the_value_where_the_line_leaves_the_view(qtbot: QtBot) -> None:
    del qtbot
    rising = Line("r", "Injected", TIMES, (TIMES - START) / 100, 1)
    layer = TraceLayer()
    layer.show_lines([rising])
    ((_, value),) = line_ends.ends_of(a_view(length=3600.0), [rising], layer.pyramids)
    assert line_ends.end_text(rising, value) == "Injected 36°"
    assert not line_ends.ends_of(a_view(START - 9999, 60.0), [rising], layer.pyramids)
    assert annotations.number(-17.8) == "−18"
    assert annotations.number(-0.2) == "0"


@pytest.mark.parametrize("theme", list(THEMES))
@pytest.mark.parametrize("width", [300, 640, 1200])
def test_that_a_crowded_day_is_drawn_in_every_theme(qtbot: QtBot, theme: str, width: int) -> None:
    look().choose(theme)
    chart = TraceChart("°C")
    qtbot.addWidget(chart)
    lines = [line(f"piece {n} with a very long name", n % 9, "meat", 60 + n) for n in range(60)]
    lines += [line("pit", None, "pit", 120), line("air", None, "air", 20)]
    events = [EventMark(START + 60 * n, "spray and turn", bool(n % 2)) for n in range(90)]
    spans = [ChartSpan(START + 3600 * n, START + 3600 * n + 1800, "in foil") for n in range(5)]
    levels = [Level(107, "set 107 °C", "set"), Level(60, "60 °C", "safety")]
    chart.show_lines(lines, events, spans, zone="America/Chicago", levels=levels, band=(100, 115))
    chart.resize(width, 400)
    chart.show()
    qtbot.waitUntil(lambda: chart.view().area.right() < width - 50)
    image = chart.grab().toImage()
    seen = {image.pixelColor(x, y).name() for x in range(50, width, 3) for y in range(12, 370)}
    wanted = {QColor(colour).name() for colour in (*THEMES[theme].arms, THEMES[theme].quiet)}
    assert wanted <= seen
    assert len(chart.table()) == 63
    look().choose("light")


def test_that_keys_and_brush_zoom_pan_and_show_all(qtbot: QtBot) -> None:
    chart = TraceChart()
    qtbot.addWidget(chart)
    chart.show_lines([line("a")])
    chart.resize(600, 300)
    chart.show()
    whole = chart.box.viewRange()[0]
    qtbot.keyClick(chart, Qt.Key.Key_Plus)
    near = chart.box.viewRange()[0]
    assert near[1] - near[0] == pytest.approx(0.7 * (whole[1] - whole[0]))
    qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert chart.box.viewRange()[0][0] > near[0]
    chart.brush(START + 600, START + 1200, done=False)
    chart.brush(START + 600, START + 1200, done=True)
    assert chart.box.viewRange()[0] == pytest.approx([START + 600, START + 1200])
    qtbot.keyClick(chart, Qt.Key.Key_0)
    assert chart.box.viewRange()[0] == pytest.approx(whole)


def test_that_the_wheel_is_the_page_s_until_the_chart_has_the_focus(qtbot: QtBot) -> None:
    area, chart = QScrollArea(), TraceChart()
    qtbot.addWidget(area)
    assert chart.wheel_zooms()
    area.setWidget(chart)
    assert not chart.wheel_zooms()


def test_that_a_chart_is_taken_along_as_picture_and_as_lines(qtbot: QtBot) -> None:
    chart = TraceChart("°C")
    qtbot.addWidget(chart)
    chart.show_lines([line("Injected"), line("pit", None, "pit")], [EventMark(START + 60, "lid")])
    chart.resize(700, 320)
    assert QImage.fromData(chart.as_png()).width() == 700
    told = ET.fromstring(chart.as_svg())
    kinds = {element.tag.rsplit("}", 1)[-1] for element in told.iter()}
    assert {"path", "desc"} & kinds
    assert kinds & {"polyline", "path"}
    words = " ".join(told.itertext())
    assert "Injected up to" in words


def test_that_a_chart_says_itself_to_who_can_t_see_it(qtbot: QtBot) -> None:
    chart = TraceChart("°C")
    qtbot.addWidget(chart)
    chart.show_lines([Line("a", "Injected", TIMES[:7], np.arange(7.0) + 60, 1)], zone="UTC")
    assert chart.accessibleDescription() == "From 22:13 to 22:14: Injected up to 66 °C."
    assert chart.table()[1] == ["Injected", "60 °C", "62 °C", "63 °C", "64 °C", "66 °C"]
    assert chart.values_at(START + 30) == [("Injected", 63.0)]


def test_that_lined_up_traces_count_from_their_moment(qtbot: QtBot) -> None:
    chart = TraceChart("°C")
    qtbot.addWidget(chart)
    times = np.arange(-1800.0, 7200.0, 60.0)
    chart.show_lines([Line("a", "A1", times, times / 100.0, 1)], zone=None)
    assert annotations.clock(-1800.0, None) == "−0:30"
    assert annotations.clock(0.0, None) == "0:00"
    assert annotations.clock(27 * 3600.0, None) == "+27:00"
    assert chart.sentence().startswith("From −0:30 to +1:59")


def test_that_a_picture_that_takes_long_is_stretched_while_the_hand_moves_and_exact_at_rest() -> (
    None
):
    layer, fresh = TraceLayer(), TraceLayer()
    layer.show_lines([line("a")])
    fresh.show_lines([line("a")])
    painted(layer, a_view())
    layer._cost = 1.0  # as a chart of millions of readings
    nearer = a_view(START + 300, 3000.0)
    stretched = painted(layer, nearer)
    assert layer.behind
    assert stretched.any()
    layer.rest()
    assert np.array_equal(painted(layer, nearer), painted(fresh, nearer))
    assert not layer.behind


def test_that_a_picture_of_another_hour_is_not_stretched_to_this_one() -> None:
    layer, fresh = TraceLayer(), TraceLayer()
    layer.show_lines([line("a")])
    fresh.show_lines([line("a")])
    painted(layer, a_view())
    layer._cost = 1.0
    later = a_view(START + 4 * 3600, 3000.0)
    assert np.array_equal(painted(layer, later), painted(fresh, later))
