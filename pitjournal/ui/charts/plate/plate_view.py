"""The verdict plate in the window: painted once, each arm's row to be read out and copied."""

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QGuiApplication,
    QHelpEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QToolTip, QWidget

from pitjournal.domain.plate import Plate
from pitjournal.files.summary.plate import lay_out_plate
from pitjournal.files.summary.plate_shapes import PlatePicture, PlateRoom
from pitjournal.ui.charts.canvas import Canvas
from pitjournal.ui.charts.plate.plate_paint import paint_plate
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.spoken import announce
from pitjournal.ui.look.theme import bold, font, look
from pitjournal.units.figures import trimmed

NARROW = 1000
"""Below this width verdicts are smaller, px."""

LARGE, SMALL, LITTLE = 30, 25, 20
ROUND = 12
NEAR = 9
NOTHING = "Nothing is known of this cook yet."


def measure(text: str, size: float, heavy: bool) -> float:
    """Return how wide a text is in the look's font, px at 100 %."""
    letters = bold(int(size), tabular=True) if heavy else font(int(size), tabular=True)
    return QFontMetricsF(letters).horizontalAdvance(text)


class PlateRowWords(QAbstractButton):
    """The words of an arm's row: reached by Tab, read out as a sentence, copied by Ctrl+C."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.clicked.connect(self.copy)

    def say(self, sentence: str) -> None:
        """Take another sentence."""
        self.setAccessibleName(sentence)
        self.setAccessibleDescription("Ctrl+C or Enter copies it")

    def copy(self) -> None:
        """Put the sentence on the clipboard."""
        QGuiApplication.clipboard().setText(self.accessibleName())
        announce(self, "copied")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy by the usual key, and by Enter."""
        if event.matches(QKeySequence.StandardKey.Copy) or event.key() in {
            Qt.Key.Key_Return,
            Qt.Key.Key_Enter,
        }:
            self.copy()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ring of the focus; the words are the plate's."""
        if not self.hasFocus():
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(look().theme.ember), 2))
        painter.drawRoundedRect(self.rect().adjusted(1, 1, -1, -1), 8, 8)
        painter.end()


class PlateView(Canvas):
    """The plate, on a card of its own."""

    def __init__(self) -> None:
        super().__init__("what this cook showed", 120)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.plate = Plate()
        self._picture = PlatePicture()
        self._laid: float | None = None
        self._rows: list[PlateRowWords] = []
        look().resized.connect(self._lay_anew)

    def show_plate(self, plate: Plate) -> None:
        """Show a cook's."""
        if plate == self.plate and self._laid is not None:
            return
        self.plate = plate
        self._lay_anew()
        self.show_anew()

    def picture(self) -> PlatePicture:
        """Return the plate laid out for the width there is."""
        if self._laid != self.wide:
            self._laid = self.wide
            large = LARGE if self.wide >= NARROW else SMALL
            small = SMALL if self.wide >= NARROW else LITTLE
            room = PlateRoom(self.wide, measure, float(tokens.XL), large, small)
            self._picture = lay_out_plate(self.plate, room)
        return self._picture

    def _lay_anew(self) -> None:
        self._laid = None
        self._fit()
        self.update()

    def _fit(self) -> None:
        """Take the height that the plate needs at this width, and put the rows where they lie."""
        scale = look().sizes.scale
        picture = self.picture()
        high = round(picture.height * scale)
        if self.minimumHeight() != high or self.maximumHeight() != high:
            self.setFixedHeight(max(high, 1))
        while len(self._rows) < len(picture.bands):
            self._rows.append(PlateRowWords(self))
        for row, band in zip(self._rows, picture.bands, strict=False):
            row.say(band.sentence)
            left, top = round((band.left - 8) * scale), round((band.top + 4) * scale)
            wide, tall = band.right - band.left + 16, band.bottom - band.top - 8
            row.setGeometry(QRect(left, top, round(wide * scale), round(tall * scale)))
            row.show()
        for row in self._rows[len(picture.bands) :]:
            row.hide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay it for the width there is."""
        super().resizeEvent(event)
        self._fit()

    def sizeHint(self) -> QSize:
        """Return the height it has."""
        return QSize(600, self.minimumHeight())

    def sentence(self) -> str:
        """Return the plate in words: each arm's answer, and all pieces."""
        plate = self.plate
        if not plate.rows:
            return " ".join(plate.lead) or NOTHING
        pieces = "; ".join(
            f"{row.name}: {', '.join(_told(p.label, p.pack, p.value) for p in row.points)}"
            for row in plate.rows
            if row.points
        )
        said = " ".join(row.sentence for row in plate.rows)
        return f"{said} {plate.measure}: {pieces or 'nothing is known of any piece'}."

    def table(self) -> list[list[str]]:
        """Return a row a piece, then a row a difference."""
        rows = [["arm", "what", "value", "95 % from", "to"]]
        for row in self.plate.rows:
            rows += [
                [row.name, point.label, trimmed(round(point.value, 2)), "", ""]
                for point in row.points
            ]
            for reach in (row.this, row.joined):
                if reach is not None and not row.control:
                    ends = (
                        "" if v is None else trimmed(round(v, 2)) for v in (reach.low, reach.high)
                    )
                    size = trimmed(round(reach.estimate, 2), signed=True)
                    rows.append([row.name, reach.words, size, *ends])
        return rows

    def draw(self, painter: QPainter) -> None:
        """Paint it, the card under it first."""
        theme = look().theme
        painter.setPen(QPen(QColor(theme.hairline), theme.edge))
        painter.setBrush(QColor(theme.card))
        inner = self.rect().toRectF()
        inner.setSize(inner.size() / look().sizes.scale)
        half = theme.edge / 2
        painter.drawRoundedRect(inner.adjusted(half, half, -half, -half), ROUND, ROUND)
        paint_plate(painter, self.picture())

    def event(self, event: QEvent) -> bool:
        """Say on hovering what a mark is."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            scale = look().sizes.scale
            x, y = event.pos().x() / scale, event.pos().y() / scale
            near = (
                mark.name
                for mark in self._picture.marks
                if abs(mark.x - x) < NEAR and abs(mark.y - y) < NEAR
            )
            QToolTip.showText(event.globalPos(), next(near, ""), self)
            return True
        return super().event(event)


def _told(label: str, pack: str, value: float) -> str:
    of = f" of {pack}" if pack else ""
    return f"{label}{of} {trimmed(round(value, 2))}"
