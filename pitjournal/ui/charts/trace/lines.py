"""What a chart of traces shows, and where a time and a value stand on it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRectF

from pitjournal.science.scale import is_known
from pitjournal.ui.charts.trace.min_max_pyramid import Pyramid

Array = NDArray[np.float64]
Sort = Literal["pit", "meat", "air", "other"]


@dataclass(frozen=True)
class Line:
    """One channel: its times (s since 1970) and its values in the unit shown.

    A `pyramid` that was made of them already saves making it again.
    """

    key: str
    label: str
    times: Array
    values: Array
    arm: int | None = None
    sort: Sort = "meat"
    pyramid: Pyramid | None = None


@dataclass(frozen=True)
class EventMark:
    """Something that happened, or was planned, at a time (s since 1970)."""

    time: float
    text: str
    planned: bool = False


@dataclass(frozen=True)
class ChartSpan:
    """A stretch with a word, such as wrapped time; an open one goes on until now."""

    start: float
    end: float
    text: str
    open: bool = False


@dataclass(frozen=True)
class Probed:
    """A temperature taken by hand, in the unit shown, at a time (s since 1970)."""

    time: float
    value: float
    label: str
    arm: int | None = None


@dataclass(frozen=True)
class Level:
    """A level across the chart, in the unit shown, with its words: a set point, a safety rule's."""

    value: float
    text: str
    sort: Literal["set", "safety"]


@dataclass(frozen=True)
class View:
    """A stretch of time and values on an area of the screen.

    Times stand on whole device pixels from an anchor, so that a picture moved sideways by whole
    pixels is the picture of a later view.

    Attributes
    ----------
    area
        Where it is, px.
    low, high
        The values at its foot and its top.
    ratio
        Device pixels in a px.
    anchor
        The time from which pixels count, s.
    scale
        Device pixels in a second.
    first
        The pixel at the left edge.
    """

    area: QRectF
    low: float
    high: float
    ratio: float
    anchor: float
    scale: float
    first: int

    @property
    def size(self) -> tuple[int, int]:
        """Width and height, device px."""
        return round(self.area.width() * self.ratio), round(self.area.height() * self.ratio)

    @property
    def start(self) -> float:
        """The time at the left edge."""
        return self.time_at(0)

    @property
    def end(self) -> float:
        """The time at the right edge."""
        return self.time_at(self.size[0])

    def time_at(self, pixel: float) -> float:
        """Return the time at a device pixel from the left edge."""
        return self.anchor + (self.first + pixel) / self.scale

    def x(self, time: float) -> float:
        """Return where a time stands, px of the widget."""
        return self.area.left() + ((time - self.anchor) * self.scale - self.first) / self.ratio

    def y(self, value: float) -> float:
        """Return where a value stands, px of the widget."""
        share = (self.high - value) / (self.high - self.low)
        return self.area.top() + share * self.area.height()


def view_of(
    area: QRectF,
    times: tuple[float, float],
    values: tuple[float, float],
    ratio: float = 1.0,
    before: View | None = None,
) -> View:
    """Return the view of a stretch; a mere pan keeps the anchor and scale of the one before."""
    start, end = times
    scale = max(area.width() * ratio, 1.0) / max(end - start, 1e-9)
    anchor = start
    if before is not None and abs(before.scale - scale) < 1e-6 * scale:
        anchor, scale = before.anchor, before.scale
    first = round((start - anchor) * scale)
    if abs(first) > 10_000_000:
        anchor, first = start, 0
    return View(area, *values, ratio, anchor, scale, first)


def room_of(values: Sequence[float], lanes: float) -> tuple[float, float]:
    """Return the values at the foot and the top of a plot that has room for all of these.

    Parameters
    ----------
    values
        What is shown; what is not known is left out.
    lanes
        The share of the height that the words of events take at the foot.
    """
    ends = [value for value in values if is_known(value)]
    low, high = min(ends, default=0.0), max(ends, default=1.0)
    room = max(high - low, 10.0)
    whole = (room * 1.06 + 0.02 * room) / (1 - lanes)
    return high + 0.06 * room - whole, high + 0.06 * room


def extent_of(lines: Sequence[Line], marks: Sequence[float]) -> tuple[float, float] | None:
    """Return the first and the last time of lines and marks, s since 1970; None of none.

    Parameters
    ----------
    lines
        Their times are in s since 1970, rising.
    marks
        What stands at one time, s since 1970.
    """
    ends = [(line.times[0], line.times[-1]) for line in lines if line.times.size]
    if not ends and not marks:
        return None
    low = min([start for start, _ in ends] + list(marks))
    high = max([end for _, end in ends] + list(marks))
    return float(low), float(high if high > low else low + 60)
