"""A line of a day’s steps: what it says, how it is painted, and the field its time is typed in."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import (
    QAbstractItemModel,
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import (
    QLineEdit,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import at_size, bold, font, look, px, tabular
from pitjournal.ui.plan.schedule_model import StepLine

ROW, TWO = 32, 50
DAY, CLOCK = 68, 52
"""The least widths of the day and of the clock, px; wider letters get more."""


def day_wide() -> float:
    """Return what the day takes, px at 100 %."""
    return max(DAY, QFontMetricsF(font(tokens.SMALL)).horizontalAdvance("Wed 30 Nov ") + 6)


def clock_wide() -> float:
    """Return what the clock takes, px at 100 %."""
    return max(CLOCK, QFontMetricsF(bold(tabular=True)).horizontalAdvance("00:00 "))


Index = QModelIndex | QPersistentModelIndex


class StepsModel(QAbstractListModel):
    """The lines; the text of an index is the whole line in words."""

    def __init__(self) -> None:
        super().__init__()
        self.lines: tuple[StepLine, ...] = ()

    def show_lines(self, lines: Sequence[StepLine]) -> None:
        """Show lines; where only words or times changed the choice of a line stays."""
        same = [line.step_id for line in lines] == [line.step_id for line in self.lines]
        if same:
            self.lines = tuple(lines)
            if lines:
                self.dataChanged.emit(self.index(0), self.index(len(lines) - 1))
            return
        self.beginResetModel()
        self.lines = tuple(lines)
        self.endResetModel()

    @property
    def high(self) -> int:
        """How high a line is, px: two lines where steps have hands, which want the room."""
        return TWO if any(line.by for line in self.lines) else ROW

    @property
    def following(self) -> int | None:
        """The line of the next step that is to be done."""
        return next((n for n, line in enumerate(self.lines) if not line.done), None)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        """Return how many lines there are."""
        return 0 if parent.isValid() else len(self.lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a line in words."""
        line = self.lines[index.row()]
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            return line.spoken
        return line.clock if role == Qt.ItemDataRole.EditRole else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Let every line be chosen, and every open one be typed into."""
        found = super().flags(index)
        done = index.isValid() and self.lines[index.row()].done
        return found if done else found | Qt.ItemFlag.ItemIsEditable


class StepDelegate(QStyledItemDelegate):
    """Paints a step: day, clock, words, whom; a time is typed where the clock stands."""

    def __init__(self, keep: Callable[[int, str], str], again: Callable[[int, str], None]) -> None:
        super().__init__()
        self._keep, self._again = keep, again

    def sizeHint(self, _option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the height of a line."""
        model = index.model()
        return QSize(200, px(model.high if isinstance(model, StepsModel) else ROW))

    def createEditor(self, parent: QWidget, _option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return a field for a time."""
        field = QLineEdit(parent)
        field.setProperty("role", "cell")
        field.setAccessibleName(f"time of {index.data()}")
        tabular(field)
        return field

    def updateEditorGeometry(
        self, editor: QWidget, option: QStyleOptionViewItem, _index: Index
    ) -> None:
        """Put the field over day and clock."""
        rect: QRect = option.rect
        editor.setGeometry(
            rect.left(), rect.top() + 1, px(day_wide() + clock_wide() + 46), rect.height() - 2
        )

    def setModelData(self, editor: QWidget, _model: QAbstractItemModel, index: Index) -> None:
        """Move the step; a time that is not understood stays in the field."""
        assert isinstance(editor, QLineEdit)
        if not editor.isModified():
            return
        problem = self._keep(index.row(), editor.text())
        if problem:
            self._again(index.row(), editor.text())

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint a line."""
        model = index.model()
        assert isinstance(model, StepsModel)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        focused = chosen and bool(option.state & QStyle.StateFlag.State_HasFocus)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = at_size(painter, option.rect)
        line = model.lines[index.row()]
        following = model.following == index.row()
        paint_line(painter, rect, line, chosen=chosen, focused=focused, following=following)
        painter.restore()


def paint_line(
    painter: QPainter,
    rect: QRectF,
    line: StepLine,
    *,
    chosen: bool,
    focused: bool,
    following: bool,
) -> None:
    """Paint a step into a rectangle; the one that is next stands on a tint, with a bar before it."""
    theme = look().theme
    ink = QColor(theme.quiet if line.done else theme.ink)
    if following and not chosen:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.ember_tint))
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 6, 6)
        bar = QRectF(rect.left(), rect.top() + 6, 3, rect.height() - 12)
        painter.fillRect(bar, QColor(theme.ember))
    if chosen:
        painter.setPen(QPen(QColor(theme.ember), 2 if focused else theme.edge))
        painter.setBrush(QColor(theme.ember_tint))
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 6, 6)
    painter.setPen(QPen(QColor(theme.hairline), theme.edge))
    painter.drawLine(rect.bottomLeft(), rect.bottomRight())
    middle = Qt.AlignmentFlag.AlignVCenter
    painter.setFont(font(tokens.SMALL))
    painter.setPen(QColor(theme.quiet))
    painter.drawText(rect.adjusted(6, 0, 0, 0), middle, line.day)
    painter.setFont(bold(tabular=True) if line.strong else font(tabular=True))
    painter.setPen(ink)
    clock = QRectF(rect.left() + day_wide(), rect.top(), clock_wide(), rect.height())
    painter.drawText(clock, middle | Qt.AlignmentFlag.AlignRight, line.clock)
    left = clock.right() + 10
    _state(painter, QPointF(left + 6, rect.center().y()), line)
    left += 22
    if rect.height() > ROW + 4:
        _paint_two(painter, rect, line, left, ink)
        return
    right = _paint_pieces(painter, rect, line)
    painter.setFont(bold() if line.strong else font())
    painter.setPen(ink)
    room = QRectF(left, rect.top(), max(right - left - 8, 40), rect.height())
    _paint_short(painter, room, line.text)


def _paint_two(painter: QPainter, rect: QRectF, line: StepLine, left: float, ink: QColor) -> None:
    """Paint what is done, and below it whose it is and for whom."""
    what, _, more = line.text.partition(", ")
    below = " · ".join(part for part in (line.by, more, line.who) if part)
    right = _paint_marks(painter, rect, line, rect.right() - 6)
    half = rect.height() / 2
    wide = max(right - left - 8, 40)
    painter.setFont(bold() if line.strong else font())
    painter.setPen(ink)
    _paint_short(painter, QRectF(left, rect.top() + 2, wide, half), what)
    painter.setFont(font(tokens.SMALL))
    painter.setPen(QColor(look().theme.quiet))
    _paint_short(painter, QRectF(left, rect.top() + half - 2, wide, half), below)


def _paint_short(painter: QPainter, room: QRectF, text: str) -> None:
    """Paint words in the middle of a room, shortened where they are too long for it."""
    metrics = painter.fontMetrics()
    said = metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
    painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, said)


def _paint_pieces(painter: QPainter, rect: QRectF, line: StepLine) -> float:
    """Paint whom a step is for at the right, and return where that begins."""
    theme = look().theme
    painter.setFont(font(tokens.SMALL))
    painter.setPen(QColor(theme.quiet))
    metrics = painter.fontMetrics()
    text = metrics.elidedText(line.who, Qt.TextElideMode.ElideRight, int(rect.width() * 0.3))
    width = metrics.horizontalAdvance(text)
    right = rect.right() - 6
    painter.drawText(
        QRectF(right - width - 2, rect.top(), width + 2, rect.height()),
        Qt.AlignmentFlag.AlignVCenter,
        text,
    )
    return _paint_marks(painter, rect, line, right - width - 6)


def _paint_marks(painter: QPainter, rect: QRectF, line: StepLine, right: float) -> float:
    """Paint the marks of a step's arms leftward from a place, and return where they begin."""
    for arm in reversed(line.looks):
        paint_mark(painter, right - 8, rect.center().y(), arm, 5.5)
        right -= 18
    return right


def _state(painter: QPainter, at: QPointF, line: StepLine) -> None:
    """Paint a small lock, or a tick for what is done."""
    theme = look().theme
    if line.done:
        painter.setPen(QPen(QColor(theme.right), 2))
        painter.drawPolyline(
            [QPointF(at.x() - 5, at.y()), QPointF(at.x() - 1, at.y() + 4), at + QPointF(5, -5)]
        )
    elif line.locked:
        painter.setPen(QPen(QColor(theme.quiet), 1.6))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawArc(QRectF(at.x() - 3, at.y() - 7, 6, 9), 0, 180 * 16)
        painter.setBrush(QColor(theme.quiet))
        painter.drawRoundedRect(QRectF(at.x() - 5, at.y() - 2, 10, 7), 1.5, 1.5)
