from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from pitjournal.files.marks import LIGHT, NIGHT, SHAPES, look_of, outline
from pitjournal.files.summary import charts_of
from pitjournal.files.summary.charts import (
    curve_chart,
    interval_chart,
    nice_ticks,
    point_chart,
)
from pitjournal.files.summary.content import CurveChart, IntervalChart, PointChart, Points
from pitjournal.science.colour import contrast
from tests.files.summary.sample import a_summary

SVG = "{http://www.w3.org/2000/svg}"


@given(st.floats(-1e4, 1e4), st.floats(1e-3, 1e4))
def test_that_ticks_cover_the_values_in_equal_steps(low: float, span: float) -> None:
    ticks = nice_ticks(low, low + span)
    steps = [b - a for a, b in pairwise(ticks)]
    assert ticks[0] <= low + 1e-6 * span
    assert ticks[-1] >= low + span - 1e-6 * span
    assert max(steps) - min(steps) <= 1e-6 * max(steps)
    assert 2 <= len(ticks) <= 8


def test_that_equal_values_still_have_an_axis() -> None:
    assert nice_ticks(6.5, 6.5)[0] < nice_ticks(6.5, 6.5)[-1]


def test_that_a_mark_stands_at_its_value() -> None:
    arms = (Points(1, "Injected", (("A", "", 5.0), ("B", "", 6.0), ("C", "", 7.0)), 6.0),)
    root = ET.fromstring(point_chart(PointChart("Tenderness", "points", arms)))
    heights = [
        sum(float(corner.split(",")[1]) for corner in (mark.get("points") or "").split()) / 4
        for mark in root.iter(f"{SVG}polygon")
    ]
    labels = {
        text.text: float(text.get("y") or 0) - 4
        for text in root.iter(f"{SVG}text")
        if text.text in {"5", "6", "7"}
    }
    assert [round(height) for height in heights] == [round(labels[v]) for v in ("5", "6", "7")]


def test_that_an_unknown_interval_draws_no_line() -> None:
    summary = a_summary()
    assert summary.intervals
    known = interval_chart(summary.intervals)
    assert known.count("arm-1") == 2  # line and mark
    assert known.count("arm-2") == 1  # mark only


def test_that_nothing_to_show_is_no_chart() -> None:
    assert point_chart(PointChart("", "", ())) == ""
    assert interval_chart(IntervalChart("", "", ())) == ""
    assert curve_chart(CurveChart("", "", ())) == ""


def test_that_the_words_of_close_events_do_not_touch() -> None:
    summary = a_summary()
    assert summary.curves
    drawn = curve_chart(summary.curves)
    assert ">wrap<" in drawn
    assert ">lid<" not in drawn


def test_that_a_trace_of_one_reading_is_drawn() -> None:
    summary = a_summary()
    assert summary.curves
    one = replace(summary.curves.curves[1], hours=(0.0,), values=(5.0,))
    assert "<svg" in curve_chart(replace(summary.curves, curves=(one,)))


def test_that_every_chart_is_sound_xml_without_styles_a_printer_lacks() -> None:
    for _, svg in charts_of(a_summary()):
        root = ET.fromstring(svg)
        assert root.get("viewBox")
        assert "style" not in {element.tag.removeprefix(SVG) for element in root.iter()}


def test_that_every_arm_stands_out_from_its_card() -> None:
    # WCAG 2.2, success criterion 1.4.11: graphical objects need a contrast of 3 to 1.
    assert all(contrast(colour, "#FFFDF9") >= 3 for colour in LIGHT)
    assert all(contrast(colour, "#1E1A17") >= 3 for colour in NIGHT)


def test_that_shapes_are_as_many_as_colours_and_all_different() -> None:
    outlines = [outline(look) for look in range(len(SHAPES))]
    assert len(SHAPES) == len(LIGHT) == len(NIGHT) == len(set(outlines))


def test_that_a_ninth_arm_begins_anew_after_the_control() -> None:
    assert [look_of(look) for look in (0, 7, 8, 14, 15)] == [0, 7, 1, 7, 1]
