"""A cook's day on one strip: what happened when, and how long it was wrapped."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import font, look

LANE = 18
LANES = 3


@dataclass(frozen=True)
class Moment:
    """Something on the strip: when (s since 1970), its word, its clock time, and if planned."""

    time: float
    text: str
    clock: str
    planned: bool = False


class TimelineStrip(QWidget):
    """Moments from the first to the last, with their words in lanes."""

    def __init__(self) -> None:
        super().__init__()
        self._moments: tuple[Moment, ...] = ()
        self._spans: tuple[tuple[float, float, str], ...] = ()
        self.setAccessibleName("the day")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return the height of all lanes."""
        return QSize(400, LANE * LANES + 44)

    def show_moments(
        self, moments: Sequence[Moment], spans: Sequence[tuple[float, float, str]] = ()
    ) -> None:
        """Show moments in any order, and spans with a word, such as wrapped time."""
        self._moments = tuple(sorted(moments, key=lambda moment: moment.time))
        self._spans = tuple(spans)
        said = ", ".join(f"{moment.clock} {moment.text}" for moment in self._moments)
        self.setAccessibleDescription(said or "Nothing is logged yet.")
        self.update()

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        if not self._moments:
            left = Qt.AlignmentFlag.AlignVCenter
            painter.drawText(QRectF(self.rect()), left, "Nothing is logged yet.")
            painter.end()
            return
        low, high = self._moments[0].time, max(self._moments[-1].time, self._moments[0].time + 60)
        inner = QRectF(30, 0, self.width() - 60, self.height() - 24)

        def x(time: float) -> float:
            return inner.left() + (time - low) / (high - low) * inner.width()

        foot = inner.bottom()
        for start, end, text in self._spans:
            tint = QColor(theme.look)
            tint.setAlphaF(0.12)
            painter.fillRect(QRectF(x(start), 0, x(end) - x(start), foot), tint)
            painter.drawText(QPointF(x(start) + 6, 13), text)
        painter.setPen(QPen(QColor(theme.hairline), 2))
        painter.drawLine(QPointF(inner.left(), foot), QPointF(inner.right(), foot))
        self._words(painter, x, foot)
        painter.end()

    def _words(self, painter: QPainter, x: object, foot: float) -> None:
        assert callable(x)
        theme = look().theme
        metrics = painter.fontMetrics()
        ends, clock_end = [-1e9] * LANES, -1e9
        for moment in self._moments:
            style = Qt.PenStyle.DotLine if moment.planned else Qt.PenStyle.SolidLine
            painter.setPen(QPen(QColor(theme.ink), 1.6, style))
            at = x(moment.time)
            painter.drawLine(QPointF(at, foot - 8), QPointF(at, foot))
            width = metrics.horizontalAdvance(moment.text)
            left = min(max(at - width / 2, 0.0), self.width() - width)
            lane = next((n for n in range(LANES) if left > ends[n] + 6), None)
            painter.setPen(QColor(theme.quiet))
            if lane is not None:
                ends[lane] = left + width
                painter.drawText(QPointF(left, foot - 12 - LANE * lane), moment.text)
            clock = metrics.horizontalAdvance(moment.clock)
            begin = min(max(at - clock / 2, 0.0), self.width() - clock)
            if begin > clock_end + 8:
                clock_end = begin + clock
                painter.drawText(QPointF(begin, foot + 18), moment.clock)
