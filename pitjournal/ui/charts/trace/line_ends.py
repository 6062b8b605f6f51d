"""What is said of the lines of a chart of traces: labels at their ends, values under the crosshair."""

from collections.abc import Mapping, Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.ui.charts.spread import spread
from pitjournal.ui.charts.trace.annotations import LABEL, MARK, number
from pitjournal.ui.charts.trace.lines import Line, View
from pitjournal.ui.charts.trace.min_max_pyramid import Pyramid
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold_letters, letters, look, px


def ends_of(
    view: View, lines: Sequence[Line], pyramids: Mapping[str, Pyramid]
) -> list[tuple[Line, float]]:
    """Return the lines in view with the value each has where it leaves; twins only once."""
    found: list[tuple[Line, float]] = []
    for line in lines:
        pyramid = pyramids[line.key]
        last = int(np.searchsorted(line.times, view.end, side="right"))
        if pyramid.last is None or not last or line.times[-1] < view.start:
            continue
        value = float(line.values[last - 1])
        if not np.isfinite(value):
            before = np.flatnonzero(np.isfinite(line.values[:last]))
            if not before.size:
                continue
            value = float(line.values[before[-1]])
        twin = line.sort != "meat" and any(
            other.sort == line.sort and other.label == line.label for other, _ in found
        )
        if not twin:
            found.append((line, value))
    return found


def end_text(line: Line, value: float) -> str:
    """Return the label at the end of a line."""
    return f"{line.label} {number(value)}°" if line.sort == "meat" else line.label


def paint_ends(
    painter: QPainter, view: View, ends: Sequence[tuple[Line, float]], room: float
) -> None:
    """Paint labels beside the ends of lines, pushed apart where they would cover each other."""
    theme, area = look().theme, view.area
    top, bottom = area.top() + px(LABEL) / 2, area.bottom() - px(LABEL) / 2
    most = max(int((bottom - top) // px(LABEL)) + 1, 1)
    left_out = len(ends) - most + 1 if len(ends) > most else 0
    shown = list(ends[: len(ends) - left_out])
    wanted = [min(max(view.y(value), top), bottom) for _, value in shown]
    if left_out:
        wanted.append(bottom)
    places = spread(wanted, px(LABEL), top, bottom)
    for (line, value), y in zip(shown, places, strict=False):
        meat = line.sort == "meat"
        painter.setFont(bold_letters(tokens.SMALL, tabular=True) if meat else letters(tokens.SMALL))
        painter.setPen(QColor(theme.arm(line.arm) if meat else theme.quiet))
        _label(painter, area.right() + 8, y, room, end_text(line, value))
    if left_out:
        painter.setFont(letters(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        _label(painter, area.right() + 8, places[-1], room, f"and {left_out} more")


def _label(painter: QPainter, left: float, middle: float, room: float, text: str) -> None:
    cut = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideMiddle, int(room))
    place = QRectF(left, middle - px(10), room + 4, px(20))
    painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, cut)


def paint_readout(
    painter: QPainter, view: View, x: float, rows: Sequence[tuple[Line | None, str]]
) -> None:
    """Paint the upright line of the crosshair with a small card of the values there."""
    theme, area = look().theme, view.area
    painter.setPen(QPen(QColor(theme.quiet), 1))
    painter.drawLine(QPointF(x, area.top()), QPointF(x, area.bottom()))
    most = max(int((area.height() - px(14)) // px(LABEL)), 1)
    shown = rows[:most]
    painter.setFont(letters(tokens.SMALL, tabular=True))
    metrics = painter.fontMetrics()
    width = max(metrics.horizontalAdvance(text) for _, text in shown) + px(36)
    height = px(LABEL) * len(shown) + 12
    left = x + 10 if x + 10 + width < area.right() else max(x - 10 - width, area.left())
    painter.setPen(QPen(QColor(theme.hairline), theme.edge))
    painter.setBrush(QColor(theme.card))
    painter.drawRoundedRect(QRectF(left, area.top() + 4, width, height), 8, 8)
    for place, (line, text) in enumerate(shown):
        foot = area.top() + px(22) + px(LABEL) * place
        if line is not None and line.sort == "meat":
            paint_mark(painter, left + 14, foot - px(5), line.arm, px(MARK))
        painter.setFont(letters(tokens.SMALL, tabular=True) if line else bold_letters(tokens.SMALL))
        painter.setPen(QColor(theme.ink))
        painter.drawText(QPointF(left + (px(26) if line else 10), foot), text)
