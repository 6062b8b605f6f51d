"""The steps of a day as a list that is moved by typing times, or by keys."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta

from PySide6.QtCore import (
    QEvent,
    QSize,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLineEdit,
    QListView,
    QSizePolicy,
)

from pitjournal.domain.times.typed_times import parse_planned
from pitjournal.errors import JournalError
from pitjournal.ui.look.theme import look, px, sized
from pitjournal.ui.plan.schedule_model import StepLine
from pitjournal.ui.plan.step_lines import (
    Index,
    StepDelegate,
    StepsModel,
    clock_wide,
    day_wide,
)

MOST, FEWEST = 13, 6
"""So many steps are in sight where there is room, and at least; more scroll."""

NUDGE = timedelta(minutes=5)


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
            least_height=self.steps.high * min(len(lines), FEWEST) + 2,
            most_height=self.steps.high * len(lines) + 2,
        )
        self.scheduleDelayedItemsLayout()
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
        return QSize(px(300), px(self.steps.high * lines + 2))

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
        if x < px(day_wide() + clock_wide() + 6):
            self.edit_line(index.row())
        elif x < px(day_wide() + clock_wide() + 32):
            self._lock(self.steps.lines[index.row()].step_id)

    def viewportEvent(self, event: QEvent) -> bool:
        """Leave the wheel to the page, where there is nothing to scroll here."""
        if event.type() is QEvent.Type.Wheel and not self.verticalScrollBar().maximum():
            event.ignore()
            return False
        return super().viewportEvent(event)
