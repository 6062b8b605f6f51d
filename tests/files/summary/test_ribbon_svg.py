"""The day in a summary: the window's ribbon as SVG; clock times only where they may leave."""

import re
from dataclasses import replace
from datetime import timedelta
from xml.etree import ElementTree as ET

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Choice, PrivatePart
from pitjournal.files.summary.ribbon_svg import ribbon_chart
from pitjournal.journal.sharing.ribbon import day_chart
from tests.builders import NOON, a_cook, an_event

CLOCK = re.compile(r"\b\d\d:\d\d\b")


def a_day() -> WholeCook:
    cook = replace(a_cook(), status=CookStatus.DONE, serve_at=NOON + timedelta(hours=6))
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=f"R{n}", cut="brisket") for n in range(2)
    )
    events = (
        an_event(cook.id, EventKind.LIT, minutes=-45),
        an_event(cook.id, EventKind.ON),
        an_event(cook.id, "whispered to the fire", minutes=30),
        an_event(cook.id, EventKind.WRAP, minutes=200, wrap="paper"),
        an_event(cook.id, EventKind.OFF, minutes=300),
    )
    return WholeCook(cook=cook, pieces=pieces, events=events)


def test_that_without_times_the_day_counts_from_when_meat_went_on() -> None:
    chart = day_chart(a_day(), Choice())
    assert chart is not None
    svg = ribbon_chart(chart)
    assert not CLOCK.search(svg.replace("+", ""))
    assert "−0:45" in svg
    assert "+3:20" in svg
    assert "whispered" not in svg
    assert "2026" not in svg
    assert "wrapped in paper" in svg


def test_that_with_times_it_shows_the_clock_of_the_place() -> None:
    chart = day_chart(a_day(), Choice(parts=frozenset({PrivatePart.TIMES})))
    assert chart is not None
    svg = ribbon_chart(chart)
    assert "07:00" in svg  # noon UTC in Chicago in May is 7:00, UTC−5 (IANA, tzdata)
    assert "whispered to the fire" in svg


def test_that_it_is_one_picture_that_says_itself_in_words_and_stays_within() -> None:
    chart = day_chart(a_day(), Choice())
    assert chart is not None
    tree = ET.fromstring(ribbon_chart(chart))
    space = "{http://www.w3.org/2000/svg}"
    described = tree.find(f"{space}desc")
    assert described is not None
    assert described.text is not None
    assert described.text.startswith("As it went: lit −0:45, on 0:00")
    width = float(tree.attrib["width"])
    for box in tree.iter(f"{space}rect"):
        assert float(box.attrib["x"]) >= 0
        assert float(box.attrib["x"]) + float(box.attrib["width"]) <= width


def test_that_a_cook_without_a_log_has_no_day() -> None:
    assert day_chart(replace(a_day(), events=()), Choice()) is None
