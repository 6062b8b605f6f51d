"""Draw a summary's charts as SVG: raw points, differences with intervals, temperatures."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from pitjournal.files.summary.content import Curve, CurveChart, IntervalChart, PointChart, Points
from pitjournal.files.summary.svg import Drawing
from pitjournal.science.scale import is_known, multiple, round_step, same, span_about
from pitjournal.units.figures import figure, trimmed

WIDTH = 680.0
_LEFT, _RIGHT = 54.0, 14.0

Scale = Callable[[float], float]


def nice_ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Return round values that cover ``[low, high]``, at 1, 2 or 5 times a power of ten."""
    if same(low, high):
        low, high = span_about([low, high])
    step = round_step(high - low, most - 1, (1.0, 2.0, 5.0))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [multiple(tick, step) for tick in range(first, max(last, first + 1) + 1)]


def _number(value: float, *, signed: bool = False) -> str:
    return trimmed(value, signed=signed)


def _scale(low: float, high: float, start: float, end: float) -> Scale:
    return lambda value: start + (value - low) / (high - low) * (end - start)


def _axis(drawing: Drawing, ticks: Sequence[float], place: Scale, right: float) -> None:
    for tick in ticks:
        drawing.line((_LEFT, place(tick)), (right, place(tick)))
        drawing.text((_LEFT - 8, place(tick) + 4), _number(tick), anchor="end", quiet=True)


def point_chart(chart: PointChart) -> str:
    """Return raw outcomes by arm: a mark a piece, pieces of a block joined, means as bars."""
    arms = [_known_only(arm) for arm in chart.arms]
    arms = [arm for arm in arms if arm.points]
    values = [value for arm in arms for _, _, value in arm.points]
    if not values:
        return ""
    ticks = nice_ticks(min(values), max(values), 5)
    height = 230.0
    said = "; ".join(
        f"{arm.name}: {', '.join(_number(round(value, 2)) for _, _, value in arm.points)}"
        for arm in arms
    )
    drawing = Drawing(WIDTH, height, chart.title, f"{chart.unit}. {said}".strip(". "))
    place = _scale(ticks[0], ticks[-1], height - 42, 16)
    _axis(drawing, ticks, place, WIDTH - _RIGHT)
    step = (WIDTH - _LEFT - _RIGHT) / len(arms)
    spots: dict[str, list[tuple[float, float]]] = {}
    placed = []
    for number, arm in enumerate(arms):
        middle = _LEFT + step * (number + 0.5)
        gap = min(26.0, 0.7 * step / max(len(arm.points), 1))
        for piece, (label, block, value) in enumerate(arm.points):
            spot = (middle + gap * (piece - (len(arm.points) - 1) / 2), place(value))
            placed.append((spot, arm.look, f"{label}: {_number(round(value, 2))} {chart.unit}"))
            if block:
                spots.setdefault(block, []).append(spot)
    for joined in spots.values():
        for start, end in pairwise(joined):
            drawing.line(start, end)
    for number, arm in enumerate(arms):
        middle = _LEFT + step * (number + 0.5)
        if arm.mean is not None:
            y = place(arm.mean)
            drawing.line((middle - 34, y), (middle + 34, y), look=arm.look, strong=True)
        drawing.text((middle, height - 14), arm.name, anchor="middle", bold=True)
    for spot, look, name in placed:
        drawing.mark(spot, look, name=name)
    return drawing.svg()


def _known_only(arm: Points) -> Points:
    points = tuple(point for point in arm.points if is_known(point[2]))
    return replace(arm, points=points, mean=arm.mean if is_known(arm.mean) else None)


def interval_chart(chart: IntervalChart) -> str:
    """Return each arm's difference from the control on one line, with its interval."""
    if not chart.intervals:
        return ""
    edges = [0.0]
    for arm in chart.intervals:
        edges += [edge for edge in (arm.estimate, arm.low, arm.high) if edge is not None]
    known = [edge for edge in edges if is_known(edge)]
    ticks = nice_ticks(min(known), max(known))
    height = 66.0 + 44 * len(chart.intervals)
    said = "; ".join(f"{arm.name}: {arm.words}" for arm in chart.intervals)
    drawing = Drawing(WIDTH, height, chart.title, f"{chart.unit}. {said}".strip(". "))
    place = _scale(ticks[0], ticks[-1], 190, WIDTH - 40)
    bottom = height - 40
    drawing.text((place(0), 14), "no difference", anchor="middle", quiet=True, size=12)
    drawing.line((place(0), 20), (place(0), bottom), strong=True, dashed=True)
    for number, arm in enumerate(chart.intervals):
        y = 44.0 + 44 * number
        drawing.text((8, y + 4), arm.name, bold=True)
        if not is_known(arm.estimate):
            continue
        if arm.low is not None and arm.high is not None and is_known(arm.high - arm.low):
            drawing.line((place(arm.low), y), (place(arm.high), y), look=arm.look, strong=True)
        drawing.mark((place(arm.estimate), y), arm.look)
        drawing.text((place(arm.estimate), y - 11), arm.words, anchor="middle", bold=True, size=12)
    for tick in ticks:
        words = _number(tick, signed=True)
        drawing.text((place(tick), height - 22), words, anchor="middle", quiet=True, size=12)
    drawing.text((WIDTH - 14, height - 5), chart.unit, anchor="end", quiet=True, size=12)
    return drawing.svg()


def curve_chart(chart: CurveChart) -> str:
    """Return temperatures over the hours since the first piece went on."""
    curves = [curve for curve in map(_where_known, chart.curves) if curve.hours]
    if not curves:
        return ""
    values = [value for curve in curves for value in curve.values]
    hours = [hour for curve in curves for hour in curve.hours]
    ticks = nice_ticks(min(values), max(values))
    times = nice_ticks(min(hours), max(hours), 8)
    height, right = 290.0, WIDTH - 110
    said = "; ".join(
        f"{curve.name}: from {figure(curve.values[0])} to {figure(curve.values[-1])}"
        for curve in curves
    )
    drawing = Drawing(WIDTH, height, chart.title, f"{chart.unit}. {said}")
    y = _scale(ticks[0], ticks[-1], height - 44, 34)
    x = _scale(times[0], times[-1], _LEFT, right)
    _axis(drawing, ticks, y, right)
    for hour in times:
        words = _number(hour)
        drawing.text((x(hour), height - 24), words, anchor="middle", quiet=True, size=12)
    foot = f"{chart.unit}, over the hours since the first piece went on"
    drawing.text((right, height - 6), foot, anchor="end", quiet=True, size=12)
    _happened(drawing, chart.marks, x, (times[0], times[-1]), height - 44)
    for curve in curves:
        points = zip(map(x, curve.hours), map(y, curve.values), strict=True)
        drawing.curve(points, look=curve.look, name=curve.name)
    _end_labels(drawing, curves, y, right)
    return drawing.svg()


def _where_known(curve: Curve) -> Curve:
    known = [
        (hour, value)
        for hour, value in zip(curve.hours, curve.values, strict=True)
        if is_known(hour) and is_known(value)
    ]
    hours, values = tuple(hour for hour, _ in known), tuple(value for _, value in known)
    return replace(curve, hours=hours, values=values)


def _happened(
    drawing: Drawing,
    marks: Sequence[tuple[float, str]],
    x: Scale,
    edges: tuple[float, float],
    bottom: float,
) -> None:
    """Mark what happened when along the top; words that would touch are left to the table."""
    free = -math.inf
    for hour, words in sorted(marks):
        if not edges[0] <= hour <= edges[1]:
            continue
        drawing.line((x(hour), 24), (x(hour), bottom), dashed=True)
        if x(hour) - 3.2 * len(words) > free:
            drawing.text((x(hour), 18), words, anchor="middle", quiet=True, size=12)
            free = x(hour) + 3.2 * len(words) + 4


def _end_labels(drawing: Drawing, curves: Sequence[Curve], y: Scale, right: float) -> None:
    """Name each line at its end, moved apart where ends meet."""
    ends = sorted(
        ((y(curve.values[-1]), curve) for curve in curves),
        key=lambda end: end[0],
    )
    free = -math.inf
    for wanted, curve in ends:
        at = max(wanted + 4, free)
        free = at + 15
        if curve.look is not None:
            drawing.mark((right + 10, at - 4), curve.look, size=4.5)
        drawing.text((right + 20, at), curve.name, size=12, quiet=curve.look is None)
