"""Paint one line of the list of cooks."""

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from pitjournal.analysis.findings.sparks import Sparks
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.times.moments import show_date
from pitjournal.journal.queries.headlines import Showed
from pitjournal.store.cook_list import CookLine
from pitjournal.ui.cooks.model import LINE, life, meat
from pitjournal.ui.cooks.sparks import claims, paint_beside_zero, paint_sparks, paint_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import at_size, bold, font, look, px

HEIGHT = 56
AGAINST = "against the control"
WIDE = (
    ("date", 98),
    ("cook", 0),
    ("cooker", 136),
    ("arms", 116),
    (AGAINST, 204),
    ("what it showed", 226),
)
LARGE_WORDS = (("cook", 0), (AGAINST, 128), ("what it showed", 168))
NARROW = (("date", 98), ("cook", 0), ("arms", 96), (AGAINST, 164), ("what it showed", 196))
"""The columns and their widths, px; the cook has what is left."""

BREAK = 1000
"""In less width the cooker stands in the line under the title, px."""

SMALLEST = 760
"""In less the arms have no column: the picture shows them, px."""

MOST_MARKS = 6
STEP = 24


def columns(width: int) -> list[tuple[str, int, int]]:
    """Return heading, left edge and width of each column, px."""
    wanted = WIDE if width >= BREAK else NARROW if width >= SMALLEST else LARGE_WORDS
    rest = width - 2 * tokens.M - sum(size for _, size in wanted)
    left, found = tokens.M, []
    for name, fixed in wanted:
        size = fixed or max(rest, 120)
        found.append((name, left, size - tokens.M))
        left += size
    return found


@dataclass(frozen=True)
class _Row:
    """A line being painted: where it lies, and where its columns are."""

    painter: QPainter
    area: QRect
    places: Mapping[str, tuple[int, int]]

    def room(self, name: str) -> QRectF:
        """Return where a column is in this line."""
        left, width = self.places[name]
        return QRectF(self.area.left() + left, self.area.top(), width, HEIGHT)

    def write(
        self, name: str, text: str, ink: str, face: QFont, rows: tuple[int, int] = (0, HEIGHT)
    ) -> None:
        """Write words in a column, from a row of dots on and so many high, cut to its width."""
        room = self.room(name).toRect()
        room.setTop(room.top() + rows[0])
        room.setHeight(rows[1])
        self.painter.setFont(face)
        self.painter.setPen(QColor(ink))
        cut = Qt.TextElideMode.ElideRight
        short = self.painter.fontMetrics().elidedText(text, cut, room.width())
        self.painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, short)


def _paint_ground(
    painter: QPainter, area: QRect, state: QStyle.StateFlag, *, running: bool
) -> None:
    theme = look().theme
    if running or state & QStyle.StateFlag.State_Selected:
        painter.fillRect(area, QColor(theme.ember_tint))
    painter.setPen(QPen(QColor(theme.grid), 1))
    painter.drawLine(area.bottomLeft(), area.bottomRight())


def _paint_frame(painter: QPainter, area: QRect) -> None:
    painter.setPen(QPen(QColor(look().theme.ember), 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(area.adjusted(1, 1, -2, -2))


class CookLines(QStyledItemDelegate):
    """Paints a cook: date, title over meat, cooker, arms, and what it showed."""

    def __init__(self, desk: Desk, showed: Mapping[str, Showed], parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._showed = desk, showed

    def sizeHint(self, _option: object, _index: object) -> QSize:
        """Return the height of a line."""
        return QSize(400, px(HEIGHT))

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Paint a line."""
        line = index.data(LINE)
        if not isinstance(line, CookLine):
            return
        painter.save()
        area = at_size(painter, option.rect).toRect()
        running = line.status is CookStatus.RUNNING
        _paint_ground(painter, area, option.state, running=running)
        places = {name: (left, width) for name, left, width in columns(area.width())}
        row = _Row(painter, area, places)
        self._write(row, line)
        if "arms" in places:
            self._arms(painter, line, area, places["arms"][0])
        self._showed_of(row, line, running=running)
        if option.state & QStyle.StateFlag.State_Selected:
            _paint_frame(painter, area)  # over the lines of the axis
        painter.restore()

    @staticmethod
    def _write(row: "_Row", line: CookLine) -> None:
        """Write the day, the title over the meat, and the cooker."""
        theme = look().theme
        day = show_date(line.starts_at, line.zone)
        below = meat(line)
        if "date" in row.places:
            row.write("date", day, theme.quiet, font(tokens.SMALL, tabular=True))
        else:
            below = f"{day} · {below}"
        row.write("cook", line.title, theme.ink, bold(), (8, 22))
        if "cooker" in row.places:
            row.write("cooker", line.cooker or "–", theme.ink, font(tokens.SMALL + 1))
        elif line.cooker:
            below = f"{below} · {line.cooker}"
        row.write("cook", below, theme.quiet, font(tokens.SMALL), (29, 20))

    def _showed_of(self, row: "_Row", line: CookLine, *, running: bool) -> None:
        """Paint what a cook showed, alone as a picture and in words; else where its life is."""
        known = self._showed.get(line.id)
        words = "what it showed"
        if line.status is CookStatus.DONE:
            if known is not None:
                paint_sparks(row.painter, row.room(AGAINST), known.sparks)
                claim = claims(known.words)
                paint_words(row.painter, row.room(words), known.words, tells=claim)
            return
        theme = look().theme
        if line.has_control:
            paint_sparks(row.painter, row.room(AGAINST), Sparks())
            paint_beside_zero(row.painter, row.room(AGAINST), "not tasted" * running)
        on = self._desk.time_on(line.id) if running else None
        ink, face = (theme.ember, bold()) if running else (theme.ink, font(tokens.SMALL + 1))
        row.write(words, life(line, self._desk.now(), on), ink, face)

    @staticmethod
    def _arms(painter: QPainter, line: CookLine, area: QRect, left: int) -> None:
        middle = area.top() + HEIGHT / 2
        if len(line.arms) < 2:
            painter.setPen(QColor(look().theme.quiet))
            painter.drawText(
                QRect(area.left() + left, area.top(), 40, HEIGHT),
                Qt.AlignmentFlag.AlignVCenter,
                "–",
            )
            return
        for place in range(min(len(line.arms), MOST_MARKS)):
            mark = place if line.has_control else place + 1
            paint_mark(painter, area.left() + left + 8 + STEP * place, middle, mark)
