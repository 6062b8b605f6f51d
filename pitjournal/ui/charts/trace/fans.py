"""Where a trace goes from its last reading: the bands of a forecast, opened like a fan."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from pitjournal.ui.charts.trace.annotations import clock, number
from pitjournal.ui.charts.trace.lines import View
from pitjournal.ui.forecasts import LATER
from pitjournal.ui.look.theme import colour, look

WIDE, NARROW = 0.12, 0.22
"""How strongly the band of nine in ten is tinted, and that of one in two on top of it."""

FAR = 1e5
"""What lies beyond the edge of a chart is drawn at most so far away, px."""


@dataclass(frozen=True)
class FanStep:
    """When a value on the way is reached, s since 1970; infinite where nobody can say.

    Attributes
    ----------
    value
        In the unit shown.
    likely
        The middle of the chances.
    half, nine
        From when to when: one chance in two, and nine in ten.
    """

    value: float
    likely: float
    half: tuple[float, float]
    nine: tuple[float, float]


@dataclass(frozen=True)
class TraceFan:
    """The way of a piece from its last reading to its target, in the unit shown."""

    label: str
    start: tuple[float, float]
    steps: tuple[FanStep, ...]

    @property
    def end(self) -> float:
        """Until when a chart should be seen, s since 1970: nine in ten, but not far beyond."""
        last = self.steps[-1]
        ahead = last.likely - self.start[0]
        return min(last.nine[1], last.likely + max(ahead, 1800.0))


def paint_fan(painter: QPainter, view: View, fan: TraceFan | None) -> None:
    """Paint both bands, and the most likely way as dots between them."""
    if fan is None:
        return
    theme = look().theme
    painter.save()
    painter.setClipRect(view.area)
    painter.setPen(Qt.PenStyle.NoPen)
    for tint, bands in (
        (WIDE, [(step.nine, step.value) for step in fan.steps]),
        (NARROW, [(step.half, step.value) for step in fan.steps]),
    ):
        early = [_spot(view, band[0], value) for band, value in bands]
        late = [_spot(view, band[1], value) for band, value in reversed(bands)]
        painter.setBrush(colour(theme.ember, tint))
        painter.drawPolygon(QPolygonF([_spot(view, *fan.start), *early, *late]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(theme.ember), theme.line, Qt.PenStyle.DotLine))
    likely = [_spot(view, step.likely, step.value) for step in fan.steps]
    painter.drawPolyline([_spot(view, *fan.start), *likely])
    painter.restore()


def _spot(view: View, time: float, value: float) -> QPointF:
    x = view.x(time) if time < float("inf") else view.area.right() + FAR
    return QPointF(min(x, view.area.right() + FAR), view.y(value))


def sentence(fan: TraceFan | None, zone: str | None, unit: str) -> str:
    """Return where a fan ends, in words that go on from a chart's; "" without one."""
    if fan is None:
        return ""
    last = fan.steps[-1]
    half, nine = (" to ".join(_clocks(band, zone)) for band in (last.half, last.nine))
    return (
        f" Ahead: {fan.label} at {number(last.value)} {unit} most likely "
        f"{clock(last.likely, zone)}, one in two {half}, nine in ten {nine}."
    )


def rows(fan: TraceFan | None, zone: str | None, unit: str) -> list[list[str]]:
    """Return a row a step: the value, when it is likely, and the bands."""
    if fan is None:
        return []
    return [
        [
            f"{fan.label} ahead, {number(step.value)} {unit}",
            clock(step.likely, zone),
            *_clocks(step.half, zone),
            *_clocks(step.nine, zone),
        ]
        for step in fan.steps
    ]


def _clocks(band: Sequence[float], zone: str | None) -> list[str]:
    return [clock(at, zone) if at < float("inf") else LATER for at in band]
