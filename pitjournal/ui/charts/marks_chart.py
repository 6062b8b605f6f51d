"""What charts of marks share: a tap or a key chooses a mark, a drag or Shift brushes several."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen

from pitjournal.ui.charts.canvas import Canvas
from pitjournal.ui.look.theme import colour, look

NEAR = 40
"""A tap within so many px of a mark is meant for it."""

DRAG = 8
"""A press that moves so many px is a brush, not a tap."""


class MarksChart(Canvas):
    """A chart whose marks are cooks. Subclasses paint in `paint_marks` and fill `spots`.

    Signals
    -------
    chosen(int)
        A mark was tapped: its number among those shown.
    brushed(object)
        Several marks were brushed: the tuple of their numbers.
    """

    chosen = Signal(int)
    brushed = Signal(object)

    def __init__(self, name: str, height: int) -> None:
        super().__init__(name, height)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.spots: Sequence[QPointF] = []
        self._at = -1
        self._from = -1
        self._pressed: QPointF | None = None
        self._band: QRectF | None = None

    def paint_marks(self, painter: QPainter) -> None:
        """Paint the chart, and put where each mark stands into `spots`."""
        raise NotImplementedError

    def begin(self) -> None:
        """Forget what was chosen: other marks are shown."""
        self._at = self._from = -1
        self._band = self._pressed = None
        self.show_anew()

    def draw(self, painter: QPainter) -> None:
        """Paint the chart, and what the hand is at."""
        self.paint_marks(painter)
        theme = look().theme
        for place in self._kept():
            painter.setPen(QPen(QColor(theme.ember), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            self.paint_chosen(painter, place)
        if self._band is not None:
            painter.fillRect(self._band, colour(theme.ember, 0.18))
        if self.hasFocus() and self._at < 0:
            self.paint_focus(painter)

    def paint_chosen(self, painter: QPainter, place: int) -> None:
        """Paint the ring about a chosen mark."""
        painter.drawEllipse(self.spots[place], 15, 15)

    def inside(self, band: QRectF) -> tuple[int, ...]:
        """Return the marks that a brush covers: those within its width."""
        return tuple(
            place
            for place, spot in enumerate(self.spots)
            if band.left() <= spot.x() <= band.right()
        )

    def at(self, place: QPointF) -> int:
        """Return the mark under a finger, or −1."""
        near = [
            (abs(spot.x() - place.x()) + abs(spot.y() - place.y()), number)
            for number, spot in enumerate(self.spots)
        ]
        return min(near)[1] if near and min(near)[0] < NEAR else -1

    def _order(self) -> list[int]:
        """Return the marks from left to right, for the arrows."""
        return sorted(range(len(self.spots)), key=lambda n: (self.spots[n].x(), self.spots[n].y()))

    def _kept(self) -> list[int]:
        """Return the marks that the keys hold."""
        if not 0 <= self._at < len(self.spots):
            return []
        order = self._order()
        here, there = order.index(self._at), order.index(max(self._from, 0))
        if self._from < 0:
            return [self._at]
        return order[min(here, there) : max(here, there) + 1]

    # hands

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a tap or a brush."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed = self.place(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Brush."""
        if self._pressed is None:
            return
        moved = self.place(event) - self._pressed
        if self._band is not None or max(abs(moved.x()), abs(moved.y())) > DRAG:
            self._band = QRectF(self._pressed, self.place(event)).normalized()
            self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose the mark under the finger, or those under the brush."""
        band, self._band, pressed, self._pressed = self._band, None, self._pressed, None
        if band is not None:
            found = self.inside(band)
            if found:
                self.brushed.emit(found)
        elif pressed is not None:
            self._from, self._at = -1, self.at(self.place(event))
            if self._at >= 0:
                self.chosen.emit(self._at)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk over the marks with the arrows, with Shift over several; Enter chooses."""
        key = Qt.Key(event.key())
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if key in steps and self.spots:
            shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self._from = (self._from if self._from >= 0 else self._at) if shift else -1
            order = self._order()
            place = order.index(self._at) + steps[key] if self._at >= 0 else 0
            self._at = order[min(max(place, 0), len(order) - 1)]
            self.update()
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and self._at >= 0:
            kept = self._kept()
            if len(kept) > 1:
                self.brushed.emit(tuple(kept))
            else:
                self.chosen.emit(self._at)
        else:
            super().keyPressEvent(event)


class BoxesChart(MarksChart):
    """A chart whose marks are boxes. Subclasses fill `boxes` with where each lies."""

    def __init__(self, name: str, height: int) -> None:
        super().__init__(name, height)
        self.boxes: list[QRectF] = []

    def at(self, place: QPointF) -> int:
        """Return the box under a finger, or −1."""
        return next((n for n, box in enumerate(self.boxes) if box.contains(place)), -1)
