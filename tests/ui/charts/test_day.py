"""The day on the chart: from lit to turn-in, what was probed by hand, and what is still wrapped."""

from datetime import timedelta

import numpy as np
import pytest
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.charts.trace.annotations import earlier
from pitjournal.ui.charts.trace.chart import ChartSpan, EventMark, Line, Probed, TraceChart
from pitjournal.ui.cook.traces import day_span, probed, spans
from pitjournal.ui.look.theme import look
from pitjournal.units import UnitSystem
from tests.builders import NOON, a_cook
from tests.ui.clipped import faults_in

COOK = a_cook()
A, B = (Piece(cook_id=COOK.id, position=n, label="AB"[n], cut="brisket") for n in range(2))
HOUR = 3600.0
START = NOON.timestamp()


def at(hours: float, kind: str, *pieces: Piece, planned: bool = False, **details: str) -> Event:
    moment = NOON + timedelta(hours=hours)
    return Event(
        cook_id=COOK.id,
        kind=kind,
        happened_at=None if planned else moment,
        planned_at=moment if planned else None,
        entered_at=NOON,
        pieces=tuple(piece.id for piece in pieces),
        details=details,
    )


def whole(
    *events: Event, serve: float | None = None, checks: tuple[DonenessCheck, ...] = ()
) -> WholeCook:
    served = None if serve is None else NOON + timedelta(hours=serve)
    ordered = sorted(events, key=lambda e: e.happened_at or e.planned_at or NOON)
    cook = a_cook(serve_at=served)
    return WholeCook(cook=cook, pieces=(A, B), events=tuple(ordered), checks=checks)  # fmt: skip


def hours_of(span: tuple[float, float] | None) -> tuple[float, float] | None:
    return None if span is None else tuple((end - START) / HOUR for end in span)  # type: ignore[return-value]


def test_that_a_day_goes_from_lit_to_turn_in_without_the_night_before() -> None:
    night = at(-12, "salt")
    found = day_span(whole(night, at(0, "lit"), at(1, "on"), at(9, "off"), serve=10), [])
    assert hours_of(found) == (0, 10)


def test_that_a_day_without_a_fire_or_a_turn_in_goes_from_on_to_what_came_last() -> None:
    line = Line("1", "A", START + np.array([0.0, 11 * HOUR]), np.array([40.0, 200.0]))
    assert hours_of(day_span(whole(at(1, "on"), at(9, "off")), [line])) == (1, 11)
    assert hours_of(day_span(whole(at(1, "on", planned=True), at(9, "off", planned=True)), [])) == (1, 9)  # fmt: skip


def test_that_a_turn_in_of_another_day_does_not_stretch_it() -> None:
    assert hours_of(day_span(whole(at(0, "lit"), at(9, "off"), serve=200), [])) == (0, 9)
    assert day_span(whole(at(-12, "salt")), []) is None


def test_that_what_is_wrapped_stays_open_until_every_piece_is_out() -> None:
    wraps = (at(0, "lit"), at(3, "wrap", wrap="foil"))
    (tint,) = spans(whole(*wraps))
    assert (tint.start, tint.text, tint.open) == (START + 3 * HOUR, "in foil", True)
    (tint,) = spans(whole(*wraps, at(5, "off", A)))
    assert tint.open
    (tint,) = spans(whole(*wraps, at(5, "off", A), at(6, "unwrap", B)))
    assert (tint.end, tint.open) == (START + 6 * HOUR, False)


def test_that_two_wraps_are_two_tints() -> None:
    found = spans(
        whole(
            at(3, "wrap", A, wrap="foil"),
            at(4, "wrap", B, wrap="paper"),
            at(5, "unwrap", A),
            at(7, "off", A, B),
        )
    )
    assert [(tint.text, (tint.end - START) / HOUR) for tint in found] == [
        ("in foil", 5),
        ("in paper", 7),
    ]


def test_that_what_is_probed_by_hand_is_a_mark() -> None:
    checks = (
        DonenessCheck(cook_id=COOK.id, piece_id=A.id, at=NOON, internal=90.0, feel=3),
        DonenessCheck(cook_id=COOK.id, piece_id=B.id, at=NOON, feel=2),
    )
    (one,) = probed(whole(checks=checks), UnitSystem.US)
    assert (one.label, one.arm) == ("A", None)
    assert one.value == pytest.approx(194.0)  # 90 °C


def test_that_marks_and_tints_are_painted_and_the_night_is_named(qtbot: QtBot) -> None:
    chart = TraceChart("°F")
    qtbot.addWidget(chart)
    chart.resize(700, 300)
    chart.now = lambda: START + 5 * HOUR
    events = [EventMark(START - 12 * HOUR, "salt"), EventMark(START, "lit")]
    chart.show_lines(
        [],
        [*events, EventMark(START + 4 * HOUR, "wrap in foil")],
        [ChartSpan(START + 4 * HOUR, START + 4 * HOUR, "in foil", open=True)],
        probed=[Probed(START + 2 * HOUR, 150.0, "A", 1)],
        day=(START, START + 8 * HOUR),
    )
    chart.show_all()
    chart._fit()
    image = chart.grab().toImage()
    view = chart.view()
    assert view.start == pytest.approx(START, abs=60)
    assert earlier(view, chart.events) == "← 1 earlier"
    mark = image.pixelColor(round(view.x(START + 2 * HOUR)), round(view.y(150.0)))
    assert mark == QColor(look().theme.arm(1))
    height = round(view.area.top()) + 60
    inside, after = (image.pixelColor(round(view.x(START + h * HOUR)), height) for h in (4.5, 6.0))
    assert inside != after
    assert "A 150 °F by hand at 14:00" in chart.sentence()
    assert faults_in(chart) == []
