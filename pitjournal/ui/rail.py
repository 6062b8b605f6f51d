"""The rail at the left: the places, and the cook that is running."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QFrame,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.spoken import announce
from pitjournal.ui.look.theme import at_size, bold, colour, font, look, px, sized

PLACES = (("cooks", "Cooks"), ("season", "Season"), ("trends", "Trends"), ("shelf", "Shelf"))


RUNNING = "running:"
"""Before the id of a running cook that is not the newest."""


class RailButton(QAbstractButton):
    """A place: its picture over its name."""

    def __init__(self, picture: str, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._picture = picture
        self.setText(text)
        self.setAccessibleName(text)
        self.setCheckable(True)
        self.setAutoExclusive(True)  # one of several, to a screen reader
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Return a target for gloves."""
        return QSize(px(tokens.RAIL_WIDTH - 16), px(64))

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        theme = look().theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = QColor(theme.rail_bright if self.isChecked() else theme.rail_ink)
        whole = at_size(painter, self.rect())
        ground = whole.adjusted(1, 1, -1, -1)
        painter.setPen(QPen(ink, 2) if self.hasFocus() else Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.rail_chosen) if self.isChecked() else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(ground, tokens.CONTROL_RADIUS, tokens.CONTROL_RADIUS)
        painter.save()
        painter.translate(whole.width() / 2, 22)
        painter.setPen(QPen(ink, 2.2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.setBrush(ink)
        getattr(self, f"_draw_{self._picture}")(painter)
        painter.restore()
        painter.setPen(ink)
        painter.setFont(font(tokens.SMALL))
        painter.drawText(
            QRectF(0, 36, whole.width(), 22), Qt.AlignmentFlag.AlignCenter, self.text()
        )
        painter.end()

    @staticmethod
    def _draw_cooks(painter: QPainter) -> None:
        for y, right in ((-8, 9), (0, 4), (8, 9)):
            painter.drawLine(QLineF(-9, y, right, y))

    @staticmethod
    def _draw_season(painter: QPainter) -> None:
        for left, top in ((-3.0, -4.0), (-11.0, 1.0), (5.0, 4.0)):  # where the first three stand
            painter.drawRect(QRectF(left, top, 6.0, 9.0 - top))

    @staticmethod
    def _draw_trends(painter: QPainter) -> None:
        painter.drawLine(QLineF(-10, 9, 10, 9))
        for x, y in ((-6, 2), (0, -3), (6, -9)):
            painter.drawEllipse(QPointF(x, y), 1.8, 1.8)

    @staticmethod
    def _draw_shelf(painter: QPainter) -> None:
        for y, x in ((-1, -6), (9, 1)):
            painter.drawLine(QLineF(-10, y, 10, y))
            painter.drawRect(QRectF(x, y - 6, 5, 5))

    @staticmethod
    def _draw_settings(painter: QPainter) -> None:
        for y, x in ((-7, -4), (0, 4), (7, -1)):
            painter.drawLine(QLineF(-9, y, 9, y))
            painter.drawEllipse(QPointF(x, y), 2.4, 2.4)


class RunningButton(QAbstractButton):
    """The running cook: how long it has been on, and its number."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._clock = ""
        self._alarm = ""
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look().changed.connect(self.update)
        self.hide()

    def sizeHint(self) -> QSize:
        """Return a target for gloves."""
        return QSize(px(tokens.RAIL_WIDTH - 16), px(60))

    def show_cook(self, clock: str, text: str) -> None:
        """Show a running cook; an empty clock hides the button."""
        self._clock = clock
        self.setText(text)
        self._name_it()
        self.setVisible(bool(clock or self._alarm))
        self.update()

    def show_alarm(self, words: str) -> None:
        """Show that an alarm rings, whatever place is seen; no words end that."""
        if words != self._alarm:
            announce(self, f"Alarm: {words}" if words else "", urgent=True)
            self._alarm = words
            self._name_it()
            self.setVisible(bool(self._clock or words))
            self.update()

    def _name_it(self) -> None:
        name = f"{self.text()}, running, {self._clock}"
        self.setAccessibleName(f"alarm: {self._alarm}. {name}" if self._alarm else name)
        self.setToolTip(self._alarm)

    def paintEvent(self, _event: object) -> None:
        """Paint it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ember = colour(tokens.NIGHT.ember)
        painter.setPen(QPen(ember, 2) if self.hasFocus() else Qt.PenStyle.NoPen)
        painter.setBrush(ember if self._alarm else colour(tokens.NIGHT.ember_tint))
        ground = at_size(painter, self.rect()).adjusted(1, 1, -1, -1)
        painter.drawRoundedRect(ground, tokens.CONTROL_RADIUS, tokens.CONTROL_RADIUS)
        middle = Qt.AlignmentFlag.AlignCenter
        dark = colour(tokens.NIGHT.on_ember)
        painter.setPen(dark if self._alarm else ember)
        above = "Alarm" if self._alarm else self._clock
        for size in (tokens.LARGE, tokens.BODY, tokens.SMALL):
            painter.setFont(bold(size, tabular=True))
            if painter.fontMetrics().horizontalAdvance(above) <= ground.width():
                break
        painter.drawText(ground.adjusted(0, 4, 0, -26), middle, above)
        painter.setPen(dark if self._alarm else colour(tokens.NIGHT.ink))
        painter.setFont(bold(tokens.SMALL) if self._alarm else font(tokens.SMALL))
        room = ground.adjusted(4, 30, -4, -4)
        below = painter.fontMetrics().elidedText(
            self._alarm or self.text(), Qt.TextElideMode.ElideRight, int(room.width())
        )
        painter.drawText(room, middle, below)
        painter.end()


class Rail(QFrame):
    """The places.

    Signals
    -------
    chosen(str)
        A place, "settings", "running" for the newest running cook, or `RUNNING` and a cook's id.
    """

    chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("rail")
        self.setAccessibleName("places")
        sized(self, width=tokens.RAIL_WIDTH)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, tokens.L, 8, tokens.L)
        layout.setSpacing(tokens.XS)
        self._here = ""
        self.buttons: dict[str, RailButton] = {}
        for name, text in PLACES:
            self._add(layout, name, text)
        layout.addStretch(1)
        self._add(layout, "settings", "Settings")
        self._others: list[RunningButton] = []
        self._besides: list[str] = []
        self._foot = layout
        self.running = RunningButton()
        self.running.clicked.connect(lambda *_: self.chosen.emit("running"))
        layout.addWidget(self.running)

    def _add(self, layout: QVBoxLayout, name: str, text: str) -> None:
        made = RailButton(name, text)
        made.clicked.connect(lambda *_: self._take(name))
        self.buttons[name] = made
        layout.addWidget(made)

    def show_besides(self, cooks: Sequence[tuple[str, str, str]]) -> None:
        """Show the cooks that run besides the newest: id, how long each has been on, and its name.

        A tap on one says `RUNNING` and its id.
        """
        self._besides = [cook_id for cook_id, _, _ in cooks]
        while len(self._others) < len(cooks):
            made, place = RunningButton(), len(self._others)
            made.clicked.connect(self._taker(place))
            self._others.append(made)
            self._foot.insertWidget(self._foot.indexOf(self.running), made)
        for place, made in enumerate(self._others):
            clock, text = cooks[place][1:] if place < len(cooks) else ("", "")
            made.show_cook(clock, text)

    def _taker(self, place: int) -> Callable[..., None]:
        return lambda *_: self.chosen.emit(f"{RUNNING}{self._besides[place]}")

    def _take(self, name: str) -> None:
        self.choose(self._here)  # until it is gone to
        self.chosen.emit(name)

    def choose(self, name: str) -> None:
        """Show a place as the one where the cook is."""
        self._here = name
        for place, made in self.buttons.items():
            made.setAutoExclusive(False)  # also none may be
            made.setChecked(place == name)
            made.setAutoExclusive(True)
