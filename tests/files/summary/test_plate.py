"""A plate laid out: every word in its own place, for any arms and any width."""

from dataclasses import replace
from xml.etree import ElementTree as ET

from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.domain.plate import Plate, PlatePoint, PlateRow, Reach, Stay
from pitjournal.files.summary.content import PlateChart
from pitjournal.files.summary.plate import lay_out_plate
from pitjournal.files.summary.plate_shapes import PlateRoom, PlateText
from pitjournal.files.summary.plate_svg import measure, plate_chart
from pitjournal.files.summary.plate_text import cut, wrapped
from pitjournal.files.summary.posted import plate_to_post
from tests.files.summary.sample import a_summary

values = st.floats(1, 9)
minutes = st.floats(0, 240)


def a_row(name: str, look: int, scores: list[float], stays: list[float]) -> PlateRow:
    mean = sum(scores) / len(scores) if scores else None
    return PlateRow(
        name,
        look,
        look == 0,
        "Not enough to tell, and something long that goes on for another line",
        "−1.08 to +1.08 over three cooks, from 16 racks. This cook alone: −0.08, −0.88 to +0.71",
        False,
        tuple(PlatePoint(f"A{n}", f"pack {n}", value) for n, value in enumerate(scores)),
        mean,
        Reach("this cook", 0.4, -2.0, 2.8) if look else None,
        Reach("three cooks", 0.2, -0.5, 0.9) if look else None,
        tuple(Stay(f"A{n}", low, None, True) for n, low in enumerate(stays)),
        "at least 15 to 30 min",
    )


@st.composite
def plates(draw: st.DrawFn) -> Plate:
    arms = draw(st.integers(2, 5))
    rows = [
        a_row(
            draw(st.sampled_from(("Left alone", "Injected", "A very long name of an arm indeed"))),
            look,
            draw(st.lists(values, min_size=1, max_size=6)),
            draw(st.lists(minutes, max_size=6)),
        )
        for look in range(arms)
    ]
    return Plate(tuple(rows), (), "Tenderness, 1 to 9", "points", "rack")


def over_each_other(one: PlateText, two: PlateText) -> bool:
    """Whether two texts share room, by half of what their letters are high."""
    wide = [measure(text.text, text.size, text.bold) for text in (one, two)]
    apart = one.x + wide[0] <= two.x or two.x + wide[1] <= one.x
    return not apart and abs(one.y - two.y) < 0.5 * min(one.size, two.size)


@settings(max_examples=40, deadline=None)
@given(plate=plates(), width=st.sampled_from((728.0, 876.0, 1148.0, 1600.0)))
def test_that_no_word_lies_over_another_and_none_outside(plate: Plate, width: float) -> None:
    picture = lay_out_plate(plate, PlateRoom(width, measure))
    for text in picture.texts:
        wide = measure(text.text, text.size, text.bold)
        assert text.x >= -1
        assert text.x + wide <= width + 1, text.text
        assert 0 < text.y <= picture.height
    texts = [text for text in picture.texts if text.text]
    for place, one in enumerate(texts):
        for two in texts[place + 1 :]:
            assert not over_each_other(one, two), (one, two)


@settings(max_examples=20, deadline=None)
@given(plate=plates())
def test_that_each_piece_has_a_mark_on_one_axis(plate: Plate) -> None:
    picture = lay_out_plate(plate, PlateRoom(1148.0, measure))
    placed = [
        (point.value, mark.x)
        for row in plate.rows
        for point in row.points
        for mark in picture.marks
        if mark.look == row.look and mark.name.startswith(f"{point.label}: ")
    ]
    for value, x in placed:
        for other, there in placed:
            assert value >= other or x <= there + 1e-6


def test_that_the_picture_of_a_summary_says_itself_in_words() -> None:
    rows = (a_row("Left alone", 0, [5, 6], [10, 20]), a_row("Injected", 1, [6, 7], [30]))
    plate = Plate(rows, (), "Tenderness, 1 to 9", "points", "rack")
    tree = ET.fromstring(plate_chart(PlateChart(plate)))
    space = "{http://www.w3.org/2000/svg}"
    described = tree.find(f"{space}desc")
    assert described is not None
    assert described.text == " ".join(row.sentence for row in rows)
    shown = {text.text for text in tree.iter(f"{space}text")}
    assert {"Injected", "this cook", "three cooks", "against left alone"} <= shown
    assert plate_chart(PlateChart(Plate(lead=("One arm was cooked.",)))) == ""


def test_that_the_picture_for_posting_leaves_out_no_allergen_and_says_the_conclusion() -> None:
    rows = (a_row("Left alone", 0, [5, 6], [10, 20]), a_row("Injected", 1, [6, 7], [30]))
    plate = Plate(rows, (), "Tenderness, 1 to 9", "points", "rack")
    chart = PlateChart(plate, "But they were heavier.", "", "Inject.", "written 14 Nov 2026")
    summary = replace(
        a_summary(), plate=chart, protects=("Allergens in what was put on or in: mustard.",)
    )
    shown = [text.text for text in ET.fromstring(plate_to_post(summary)).iter() if text.text]
    for words in (*summary.protects, chart.but, "“Inject.” (written 14 Nov 2026)", summary.title):
        assert words in shown
    assert plate_to_post(replace(summary, plate=None)) == ""


@given(text=st.text("ab ", min_size=1, max_size=60), width=st.floats(20, 300))
def test_that_wrapped_words_keep_to_their_width_and_lose_none(text: str, width: float) -> None:
    lines = wrapped(text, width, 13, measure)
    assert all(measure(line, 13, False) <= width for line in lines)
    if all(measure(word, 13, False) <= width for word in text.split()):
        assert " ".join(lines).split() == text.split()
    assert measure(cut(text, width, 13, measure), 13, False) <= width
