"""Paint what a cook showed in a line of the list: a picture on one axis, and a few words."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from pitjournal.analysis.findings.sparks import POINTS, Spark, Sparks
from pitjournal.science.scale import is_known
from pitjournal.ui.charts.axis import Axis
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import bold, font, look
from pitjournal.units.figures import trimmed

LOW, HIGH = -2.0, 2.0
"""From where to where the one axis of all lines goes, points; what lies beyond has an arrow."""

TICKS = (-2.0, -1.0, 0.0, 1.0, 2.0)
APART, MARK = 20.0, 6.0
THICK, THIN = 5.0, 2.0
EDGE = 10.0
NO_CLAIM = (
    "not enough",
    "no ",
    "yield",
    "the cooks contradict",
    "planned",
    "done",
    "cooks disagree",
)


def axis_in(room: QRectF) -> Axis:
    """Return the axis of a room, px."""
    return Axis(LOW, HIGH, room.left() + EDGE, room.right() - EDGE)


def claims(words: str) -> bool:
    """Whether words say a difference, which is written bold."""
    return bool(words) and not words.casefold().startswith(NO_CLAIM)


def paint_axis(painter: QPainter, room: QRectF) -> None:
    """Paint the numbers of the axis, over the first line."""
    theme, axis = look().theme, axis_in(room)
    painter.setFont(font(tokens.SMALL, tabular=True))
    painter.setPen(QColor(theme.quiet))
    middle = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter
    for value in TICKS:
        x = axis.at(value)
        text = trimmed(value, signed=True)
        painter.drawText(QRectF(x - 20, room.top(), 40, room.height()), middle, text)


def paint_sparks(painter: QPainter, room: QRectF, sparks: Sparks) -> None:
    """Paint the arms of a cook against its control: an interval and a mark each."""
    theme, axis = look().theme, axis_in(room)
    if sparks.unit and sparks.unit != POINTS:
        painter.setFont(font(tokens.SMALL))
        painter.setPen(QColor(theme.quiet))
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, f"in {sparks.unit}")
        return
    for value in TICKS:
        x = axis.at(value)
        painter.setPen(QPen(QColor(theme.ink if not value else theme.grid), 1))
        if not value:
            painter.setPen(QPen(QColor(theme.quiet), 1.4, Qt.PenStyle.DotLine))
        painter.drawLine(QLineF(x, room.top(), x, room.bottom()))
    count = len(sparks.arms)
    apart = min(APART, (room.height() - 12) / max(count - 1, 1))
    for place, arm in enumerate(sparks.arms):
        y = room.center().y() + apart * (place - (count - 1) / 2)
        _paint_arm(painter, axis, arm, y)


def paint_beside_zero(painter: QPainter, room: QRectF, words: str) -> None:
    """Say behind the line of no difference why nothing is drawn."""
    painter.setFont(font(tokens.SMALL))
    painter.setPen(QColor(look().theme.quiet))
    left = axis_in(room).at(0.0) + 6
    behind = QRectF(left, room.top(), room.right() - left + EDGE, room.height())
    cut = Qt.TextElideMode.ElideRight
    shown = painter.fontMetrics().elidedText(words, cut, int(behind.width()))
    painter.drawText(behind, Qt.AlignmentFlag.AlignVCenter, shown)


def _paint_arm(painter: QPainter, axis: Axis, arm: Spark, y: float) -> None:
    shade = QColor(look().theme.arm(arm.look))
    if is_known(arm.low) and is_known(arm.high):
        assert arm.low is not None
        assert arm.high is not None
        pen = QPen(shade, THICK if arm.tells else THIN)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        ends = [min(max(axis.at(v), axis.start - 4), axis.end + 4) for v in (arm.low, arm.high)]
        painter.drawLine(QLineF(ends[0], y, ends[1], y))
        painter.setPen(QPen(shade, 1.6))
        for value, end, way in ((arm.low, ends[0], -1), (arm.high, ends[1], 1)):
            if LOW <= value <= HIGH:
                continue
            for side in (-4, 4):
                painter.drawLine(QLineF(end - 4 * way, y + side, end, y))
    if not is_known(arm.estimate):
        return
    x = min(max(axis.at(arm.estimate), axis.start), axis.end)
    paint_mark(painter, x, y, arm.look, MARK if arm.tells else MARK - 1)


def paint_words(painter: QPainter, room: QRectF, words: str, *, tells: bool) -> None:
    """Write what a cook showed: bold where it claims a difference, in two lines at most."""
    from pitjournal.files.summary.plate_text import wrapped  # noqa: PLC0415 - once it is known
    from pitjournal.ui.charts.plate.plate_view import measure  # noqa: PLC0415 - likewise

    theme = look().theme
    size = tokens.SMALL + 1
    lines = wrapped(words, room.width(), size, measure, bold=tells)
    if len(lines) > 2:
        size = tokens.SMALL
        lines = wrapped(words, room.width(), size, measure)
        tells = False
    painter.setFont(bold(size) if tells else font(size))
    painter.setPen(QColor(theme.ink))
    shown = lines[:2]
    if len(lines) > 2:
        cut = Qt.TextElideMode.ElideRight
        rest = " ".join(lines[1:])
        shown[1] = painter.fontMetrics().elidedText(rest, cut, int(room.width()))
    top = room.center().y() - 9.5 * len(shown)
    for place, line in enumerate(shown):
        painter.drawText(QPointF(room.left(), top + 19 * place + 14), line)
