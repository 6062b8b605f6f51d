"""The steps of a day as a list that is moved by typing times, or by keys."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta

from PySide6.QtCore import (
    QAbstractItemModel,
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLineEdit,
    QListView,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from pitjournal.domain.times.typed_times import parse_planned
from pitjournal.errors import JournalError
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import at_size, bold, font, look, px, sized, tabular
from pitjournal.ui.plan.schedule_model import StepLine

ROW = 32
DAY, CLOCK = 68, 52
"""Widths of the day and of the clock, px."""

MOST, FEWEST = 13, 6
"""So many steps are in sight where there is room, and at least; more scroll."""

NUDGE = timedelta(minutes=5)

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

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        """Return the height of a line."""
        return QSize(200, px(ROW))

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
        editor.setGeometry(rect.left(), rect.top() + 1, px(DAY + CLOCK + 46), px(ROW) - 2)

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
    """Paint a step into a rectangle; the one that is next stands on the tint of ember."""
    theme = look().theme
    ink = QColor(theme.quiet if line.done else theme.ink)
    if following and not chosen:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.ember_tint))
        painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 6, 6)
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
    clock = QRectF(rect.left() + DAY, rect.top(), CLOCK, rect.height())
    painter.drawText(clock, middle | Qt.AlignmentFlag.AlignRight, line.clock)
    left = clock.right() + 10
    _state(painter, QPointF(left + 6, rect.center().y()), line)
    left += 22
    right = _paint_pieces(painter, rect, line)
    painter.setFont(bold() if line.strong else font())
    painter.setPen(ink)
    room = QRectF(left, rect.top(), max(right - left - 8, 40), rect.height())
    cut = painter.fontMetrics().elidedText(
        line.text, Qt.TextElideMode.ElideRight, int(room.width())
    )
    painter.drawText(room, middle, cut)


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
    right -= width + 6
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


class StepList(QListView):
    """The steps; Enter or a digit types a time, Alt and the arrows move by five minutes.

    Signals
    -------
    chose(str)
        A step was chosen here: its id.

    Parameters
    ----------
    now
        Gives the time.
    move
        Takes a step's id and its new time; returns why not, or an empty text.
    lock, remove
        Take a step's id.
    say
        Shows what is wrong with a time, or nothing.
    """

    chose = Signal(str)

    def __init__(
        self,
        now: Callable[[], datetime],
        move: Callable[[str, datetime], str],
        lock: Callable[[str], object],
        remove: Callable[[str], object],
        say: Callable[[str], object],
    ) -> None:
        super().__init__()
        self.setAccessibleName("steps of the day")
        self._now, self._say = now, say
        self._move, self._lock, self._remove = move, lock, remove
        self.zone = "UTC"
        self.steps = StepsModel()
        self.setModel(self.steps)
        self._delegate = StepDelegate(self.type_time, self._type_again)
        self.setItemDelegate(self._delegate)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed)
        self._following: int | None = None
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setUniformItemSizes(True)
        look().changed.connect(self.viewport().update)
        look().resized.connect(self.scheduleDelayedItemsLayout)

    def show_lines(self, lines: Sequence[StepLine], zone: str) -> None:
        """Show the steps of a cook in its zone, all of them at once."""
        self.zone = zone
        self.steps.show_lines(lines)
        sized(
            self,
            least_height=ROW * min(len(lines), FEWEST) + 2,
            most_height=ROW * len(lines) + 2,
        )
        self.updateGeometry()
        following = self.steps.following
        if following != self._following:
            self._following = following
            self._show_next()
        said = "; ".join(line.spoken for line in lines)
        self.setAccessibleDescription(said or "Nothing is planned yet.")

    def sizeHint(self) -> QSize:
        """Ask for room for the steps of a usual day."""
        lines = min(max(len(self.steps.lines), FEWEST), MOST)
        return QSize(px(300), px(ROW * lines + 2))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the next step in sight."""
        super().resizeEvent(event)
        self._show_next()

    def _show_next(self) -> None:
        if self._following is not None:
            self.scrollTo(self.steps.index(self._following))

    def currentChanged(self, current: Index, previous: Index) -> None:
        """Tell which step is chosen."""
        super().currentChanged(current, previous)
        line = self.chosen
        if line is not None and self.hasFocus():
            self.chose.emit(line.step_id)

    def type_into(self, step_id: str, text: str) -> None:
        """Open the field of a step, with a text typed into it."""
        self.choose(step_id)
        self.edit_line(self.currentIndex().row(), text)

    def choose(self, step_id: str) -> None:
        """Choose a step, where another picture of the day has chosen it."""
        ids = [line.step_id for line in self.steps.lines]
        if step_id in ids:
            self.setCurrentIndex(self.steps.index(ids.index(step_id)))

    @property
    def chosen(self) -> StepLine | None:
        """The step that is chosen."""
        place = self.currentIndex().row()
        return self.steps.lines[place] if 0 <= place < len(self.steps.lines) else None

    # typing

    def type_time(self, place: int, text: str) -> str:
        """Move a step to what was typed, on the day it lies; return why not."""
        line = self.steps.lines[place]
        try:
            to = parse_planned(text, line.at, self._now(), self.zone).astimezone(UTC)
        except JournalError as error:
            self._say(str(error))
            return str(error)
        problem = self._move(line.step_id, to)
        self._say(problem)
        self.choose(line.step_id)
        return problem

    def _type_again(self, place: int, text: str) -> None:
        """Open the field again with what was typed, once Qt has closed it."""

        def reopen() -> None:
            self.edit_line(place, text)

        QTimer.singleShot(0, self, reopen)

    def edit_line(self, place: int, text: str = "") -> None:
        """Open a line's field, with a text typed into it."""
        index = self.steps.index(place)
        if not index.isValid() or self.steps.lines[place].done:
            return
        self.setCurrentIndex(index)
        self.edit(index)
        field = next(iter(self.viewport().findChildren(QLineEdit)), None)
        if field is not None and text:
            field.setText(text)
            field.setModified(True)

    # keys and clicks

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Type, move, lock or remove the chosen step."""
        line = self.chosen
        key, alt = event.key(), bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        steps = {Qt.Key.Key_Up: -NUDGE, Qt.Key.Key_Down: NUDGE}
        if line is None or self.state() is QAbstractItemView.State.EditingState:
            event.ignore()  # an open field hands Enter on to its list
        elif alt and key in steps:
            self._say(self._move(line.step_id, line.at + steps[Qt.Key(key)]))
            self.choose(line.step_id)
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.edit_line(self.currentIndex().row())
        elif event.text().isdigit():
            self.edit_line(self.currentIndex().row(), event.text())
        elif event.text().casefold() == "l":
            self._lock(line.step_id)
        elif key == Qt.Key.Key_Delete:
            self._remove(line.step_id)
        else:
            super().keyPressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Open the field where the clock is clicked, turn the lock where that is."""
        super().mouseReleaseEvent(event)
        index = self.indexAt(event.position().toPoint())
        x = event.position().x()
        if not index.isValid():
            return
        if x < px(DAY + CLOCK + 6):
            self.edit_line(index.row())
        elif x < px(DAY + CLOCK + 32):
            self._lock(self.steps.lines[index.row()].step_id)

    def viewportEvent(self, event: QEvent) -> bool:
        """Leave the wheel to the page, where there is nothing to scroll here."""
        if event.type() is QEvent.Type.Wheel and not self.verticalScrollBar().maximum():
            event.ignore()
            return False
        return super().viewportEvent(event)
