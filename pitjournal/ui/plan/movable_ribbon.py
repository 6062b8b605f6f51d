"""The ribbon of a plan: its steps are dragged, or walked and moved by keys."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from pitjournal.domain.day.ribbon import Mark, Ribbon
from pitjournal.domain.day.ribbon_axis import RibbonAxis
from pitjournal.files.summary.ribbon_shapes import Handle, Pill
from pitjournal.files.summary.ribbon_words import mark_words
from pitjournal.ui.charts.ribbon.ribbon_paint import paint_pill
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip
from pitjournal.ui.look.parts.spoken import announce
from pitjournal.ui.look.theme import look

NUDGE = timedelta(minutes=5)
FIVE = 300.0
REACH, SLIP = 12.0, 4.0
"""How near a mark is taken hold of, and how far a hand moves before it drags, px."""

Steps = Sequence[str]


class MovableRibbon(RibbonStrip):
    """A ribbon whose planned marks are moved.

    Parameters
    ----------
    move
        Takes the ids of steps and their new time.
    preview
        Returns the ribbon as such a move would make it.
    do
        Takes a key and the id of a step: "type" with what was typed, "lock", "remove".

    Signals
    -------
    chose(str)
        A mark was chosen: the id of its first step.
    """

    chose = Signal(str)

    def __init__(
        self,
        move: Callable[[Steps, datetime], object],
        preview: Callable[[Steps, datetime], Ribbon],
        do: Callable[[str, str, str], object],
    ) -> None:
        super().__init__()
        self._move, self._preview, self._do = move, preview, do
        self.chosen: int | None = None
        self._pressed: tuple[int, float] | None = None
        self._to: float | None = None
        self._axis: RibbonAxis | None = None
        self._before: Ribbon | None = None
        self.axis_from = lambda: self._axis
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setToolTip(
            "Drag a step, or walk with the arrows and move it with Alt and the arrows; a digit "
            "types its time, L locks it, Delete takes it away."
        )

    # choosing

    @property
    def mark(self) -> Mark | None:
        """The mark that is chosen."""
        marks = self.ribbon.marks
        return marks[self.chosen] if self.chosen is not None and self.chosen < len(marks) else None

    def show_ribbon(self, ribbon: Ribbon, zone: str) -> None:
        """Show a day; the step that is chosen stays so where it moved to."""
        kept = self.mark
        super().show_ribbon(ribbon, zone)
        if kept is not None:
            self.chosen = self._place_of(kept)

    def _place_of(self, kept: Mark) -> int | None:
        for place, mark in enumerate(self.ribbon.marks):
            if set(mark.steps) & set(kept.steps) or (mark.word, mark.at) == (kept.word, kept.at):
                return place
        return None

    def choose_step(self, step_id: str) -> None:
        """Choose the mark of a step, where another list has chosen it."""
        for place, mark in enumerate(self.ribbon.marks):
            if step_id in mark.steps:
                self.chosen = place
                self.update()
                return

    def _choose(self, place: int) -> None:
        self.chosen = place
        mark = self.ribbon.marks[place]
        state = "planned" if mark.planned else "done"
        locked = ", locked" if mark.locked else ""
        announce(self, f"{mark_words(mark, self.clock)}, {state}{locked}")
        if mark.steps:
            self.chose.emit(mark.steps[0])
        self.update()

    # the hand

    def _near(self, at: QPointF) -> Handle | None:
        handles = [
            one
            for one in self.picture().handles
            if abs(one.x - at.x()) <= REACH and one.top <= at.y() <= one.bottom
        ]
        marks = self.ribbon.marks
        return min(
            handles,
            key=lambda h: (not marks[h.mark].steps, abs(h.x - at.x())),
            default=None,
        )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the mark under the hand."""
        at = self.place(event)
        found = self._near(at)
        if found is None or event.button() is not Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
            return
        self.setFocus()
        self._choose(found.mark)
        mark = self.ribbon.marks[found.mark]
        if mark.steps and not mark.locked:
            self._pressed = (found.mark, at.x())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the mark that is held, and all that would move with it."""
        at = self.place(event)
        if self._pressed is None:
            found = self._near(at)
            movable = found is not None and self.ribbon.marks[found.mark].steps
            self.setCursor(Qt.CursorShape.SizeHorCursor if movable else Qt.CursorShape.ArrowCursor)
            return
        place, begun = self._pressed
        if self._before is None:
            if abs(at.x() - begun) < SLIP:
                return
            self._axis, self._before = self.axis(), self.ribbon
        assert self._axis is not None
        mark = self._before.marks[place]
        moved = self._axis.time(self._axis.at(mark.at) + at.x() - begun)
        self._to = FIVE * round(moved / FIVE)
        shown = self._preview(mark.steps, datetime.fromtimestamp(self._to, UTC))
        super().show_ribbon(shown, self.zone)
        self.chosen = self._place_of(mark)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Leave the mark where it is let go."""
        before, to, pressed = self._before, self._to, self._pressed
        self._let_go()
        if before is None or to is None or pressed is None:
            super().mouseReleaseEvent(event)
            return
        mark = before.marks[pressed[0]]
        super().show_ribbon(before, self.zone)
        if to != mark.at:
            self._move(mark.steps, datetime.fromtimestamp(to, UTC))

    def _let_go(self) -> None:
        self._pressed = self._before = self._to = self._axis = None
        self._forget()

    # the keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk, move, type, lock or take away."""
        if event.key() == Qt.Key.Key_Escape and self._before is not None:
            before = self._before
            self._let_go()
            super().show_ribbon(before, self.zone)
            return
        alt = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        step = {
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Up: -1,
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_Down: 1,
        }.get(Qt.Key(event.key()))
        if step is not None and self.ribbon.marks:
            if alt:
                self._nudge(step)
            else:
                self._walk(step)
        elif not self._passed_on(event):
            super().keyPressEvent(event)

    def _walk(self, step: int) -> None:
        last = len(self.ribbon.marks) - 1
        first = 0 if step > 0 else last
        self._choose(first if self.chosen is None else min(max(self.chosen + step, 0), last))

    def _nudge(self, step: int) -> None:
        mark = self.mark
        if mark is not None and mark.steps:
            self._move(mark.steps, datetime.fromtimestamp(mark.at, UTC) + step * NUDGE)

    def _passed_on(self, event: QKeyEvent) -> bool:
        """Hand on what is done to a step elsewhere; return whether it was."""
        mark = self.mark
        if mark is None or not mark.steps:
            return False
        key, text = event.key(), event.text()
        if key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} or text.isdigit():
            self._do("type", mark.steps[0], text.strip())
        elif text.casefold() == "l":
            self._do("lock", mark.steps[0], "")
        elif key == Qt.Key.Key_Delete:
            self._do("remove", mark.steps[0], "")
        else:
            return False
        return True

    # painting

    def draw(self, painter: QPainter) -> None:
        """Paint the ribbon, and over it what is chosen and where it would go."""
        super().draw(painter)
        theme, mark = look().theme, self.mark
        if mark is not None:
            picture = self.picture()
            x = self.axis().at(mark.at)
            bottom = self._above + picture.bar
            painter.setPen(QPen(QColor(theme.ember), 2))
            painter.setBrush(QColor(theme.card))
            painter.drawLine(QPointF(x, self._above - 5), QPointF(x, bottom + 3))
            painter.drawEllipse(QPointF(x, self._above - 5), 5, 5)
            if self._to is not None:
                self._paint_to(painter, x)
        if self.hasFocus():
            self.paint_focus(painter)

    def _paint_to(self, painter: QPainter, x: float) -> None:
        assert self._to is not None
        text = self.clock(self._to)
        wide = 14.0 + 8.0 * len(text)
        left = min(max(x - wide / 2, 0.0), self.wide - wide)
        paint_pill(painter, Pill(x, self._above - 14, self._above, text, left, wide))
