"""Paint one line of the list of cooks."""

from collections.abc import Mapping

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.times.moments import show_date
from pitjournal.store.cook_list import CookLine
from pitjournal.ui.cooks.model import LINE, life, meat
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import paint_mark
from pitjournal.ui.look.theme import at_size, bold, font, look, px

HEIGHT = 56
COLUMNS = (
    ("date", 0.0),
    ("cook", 0.085),
    ("cooker", 0.46),
    ("arms", 0.63),
    ("what it showed", 0.74),
)
"""Where each column begins, as a share of the width."""

MOST_MARKS = 6


def columns(width: int) -> list[tuple[str, int, int]]:
    """Return heading, left edge and width of each column, px."""
    inner = width - 2 * tokens.M
    lefts = [tokens.M + round(share * inner) for _, share in COLUMNS]
    lefts[1] = max(lefts[1], tokens.M + 104)
    ends = [*lefts[1:], width - tokens.M]
    names = [name for name, _ in COLUMNS]
    return [
        (name, left, end - left - tokens.M)
        for name, left, end in zip(names, lefts, ends, strict=True)
    ]


class CookLines(QStyledItemDelegate):
    """Paints a cook: date, title over meat, cooker, arms, and what it showed."""

    def __init__(self, desk: Desk, showed: Mapping[str, str], parent: QObject) -> None:
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
        theme = look().theme
        state: QStyle.StateFlag = option.state
        painter.save()
        area = at_size(painter, option.rect).toRect()
        running = line.status is CookStatus.RUNNING
        if state & QStyle.StateFlag.State_Selected:
            painter.fillRect(area, QColor(theme.ember_tint))
            painter.setPen(QPen(QColor(theme.ember), 2))
            painter.drawRect(area.adjusted(1, 1, -2, -2))
        elif running:
            painter.fillRect(area, QColor(theme.ember_tint))
        painter.setPen(QPen(QColor(theme.grid), 1))
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        places = {name: (left, width) for name, left, width in columns(area.width())}

        def write(name: str, text: str, ink: str, face: QFont, rows: tuple[int, int]) -> None:
            left, width = places[name]
            room = QRect(area.left() + left, area.top() + rows[0], width, rows[1])
            painter.setFont(face)
            painter.setPen(QColor(ink))
            cut = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, width)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, cut)

        day = show_date(line.starts_at, line.zone)
        write("date", day, theme.quiet, font(tokens.SMALL, tabular=True), (0, HEIGHT))
        write("cook", line.title, theme.ink, bold(), (8, 22))
        write("cook", meat(line), theme.quiet, font(tokens.SMALL), (29, 20))
        write("cooker", line.cooker or "–", theme.ink, font(tokens.SMALL + 1), (0, HEIGHT))
        self._arms(painter, line, area, places["arms"][0])
        on = self._desk.time_on(line.id) if running else None
        showed = life(line, self._desk.now(), on)
        if line.status is CookStatus.DONE:
            showed = self._showed.get(line.id, "")
        ink, face = (theme.ember, bold()) if running else (theme.ink, font(tokens.SMALL + 1))
        write("what it showed", showed, ink, face, (0, HEIGHT))
        painter.restore()

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
            paint_mark(painter, area.left() + left + 8 + 21 * place, middle, mark)
