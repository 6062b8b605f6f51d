"""Find words that do not fit: painted width against room, and words painted over each other.

Two sorts of words are looked at while a widget is painted into a picture: what our own paint
events write with `QPainter.drawText`, and what Qt's labels, buttons, boxes and tables write.

    found = faults_in(window)
    assert not found, "\\n".join(map(str, found))
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from PySide6.QtCore import QModelIndex, QPoint, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QTextOption
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QPushButton, QTableView, QWidget

SLACK = 1.0
"""Glyphs may reach out of their box by so much, px."""

TOUCH = 2.0
"""Words that share no more than so many px only touch."""

ENDLESS = 1e6
COMBO, FIELD = 34, 16
"""What a box and a field need beside their words, px."""

CELL = 8
"""The margins of a cell, px."""

ROWS = 40
"""So many rows of a table are looked at."""


class Sort(StrEnum):
    """What is wrong with some words."""

    CUT = "cut off"
    SHORT = "shortened"
    OVER = "painted over"


@dataclass(frozen=True)
class Fault:
    """Words that cannot be read in full.

    `where` is the widget; `needed` and `room` are px, for words painted over it is the other
    words that lie there.
    """

    sort: Sort
    text: str
    where: str
    detail: str

    def __str__(self) -> str:
        return f"“{self.text}” is {self.sort} in {self.where}: {self.detail}"


@dataclass(frozen=True, eq=False)
class Painted:
    """Words as they were painted on a widget: their box there, and the room given, px."""

    text: str
    box: QRectF
    needed: tuple[float, float]
    room: tuple[float, float]
    widget: QWidget


@contextmanager
def watched() -> Iterator[list[Painted]]:
    """Take down all that our own paint events write while this lasts."""
    painted: list[Painted] = []
    plain: Callable[..., Any] = QPainter.drawText

    def draw_text(painter: QPainter, *what: Any) -> Any:
        seen = _seen(painter, what)
        if seen is not None:
            painted.append(seen)
        return plain(painter, *what)

    QPainter.drawText = draw_text  # type: ignore[assignment]
    try:
        yield painted
    finally:
        QPainter.drawText = plain  # type: ignore[method-assign]


def faults_in(widget: QWidget, *, shortened: bool = True) -> list[Fault]:
    """Paint a widget and return the words in it that cannot be read in full.

    Parameters
    ----------
    shortened
        Whether words that end in "…" for want of room count as well.
    """
    with watched() as painted:
        widget.grab()
    found = [fault for one in painted for fault in _cut(one)]
    found += _over(painted)
    for part in (widget, *widget.findChildren(QWidget)):
        if part.isVisibleTo(widget):
            found += _of_part(part)
    if not shortened:
        found = [fault for fault in found if fault.sort is not Sort.SHORT]
    return list(dict.fromkeys(found))


# what we paint


def _seen(painter: QPainter, what: Sequence[Any]) -> Painted | None:
    device = painter.device()
    text = next((one for one in what if isinstance(one, str)), "")
    if not text.strip() or not isinstance(device, QWidget):
        return None
    metrics = QFontMetricsF(painter.font())
    first = what[0]
    if isinstance(first, QRectF | QRect):
        room, flags = QRectF(first), _flags_of(what)
        box = metrics.boundingRect(room, flags, text)
        free = bool(flags & int(Qt.TextFlag.TextDontClip))
        given = (ENDLESS, ENDLESS) if free else (room.width(), room.height())
    else:
        place = QPointF(first) if isinstance(first, QPointF | QPoint) else QPointF(first, what[1])
        box = QRectF(
            place.x(),
            place.y() - metrics.ascent(),
            metrics.horizontalAdvance(text),
            metrics.height(),
        )
        given = (ENDLESS, ENDLESS)
    lines = max(round(box.height() / metrics.lineSpacing()), 1)
    tall = metrics.tightBoundingRect(text).height() + (lines - 1) * metrics.lineSpacing()
    box = painter.combinedTransform().mapRect(box)
    return Painted(text, box, (box.width(), tall), given, device)


def _flags_of(what: Sequence[Any]) -> int:
    if isinstance(what[-1], QTextOption) or len(what) == 2:
        return int(Qt.TextFlag.TextWordWrap)
    return int(getattr(what[1], "value", what[1]))


def _cut(one: Painted) -> Iterator[Fault]:
    where = _named(one.widget)
    for needed, room, word in zip(one.needed, one.room, ("wide", "high"), strict=True):
        if needed > room + SLACK:
            yield Fault(Sort.CUT, one.text, where, f"{needed:.0f} px {word} in {room:.0f}")
            return
    out = max(-one.box.left(), one.box.right() - one.widget.width())
    seen = one.box.right() > 0 and one.box.left() < one.widget.width()
    if seen and out > SLACK:
        yield Fault(Sort.CUT, one.text, where, f"{out:.0f} px outside of it")
    whole = one.text == getattr(one.widget, "text", str)()
    if one.text.endswith("…") and not whole:  # "Other…" is the word itself
        yield Fault(Sort.SHORT, one.text, where, f"{one.room[0]:.0f} px of room")


def _over(painted: Sequence[Painted]) -> Iterator[Fault]:
    by_widget: dict[int, list[Painted]] = {}
    for one in painted:
        by_widget.setdefault(id(one.widget), []).append(one)
    for several in by_widget.values():
        inner = [(one, _ink(one)) for one in several]
        inner.sort(key=lambda pair: pair[1].left())
        for place, (one, box) in enumerate(inner):
            for other, beside in inner[place + 1 :]:
                if beside.left() > box.right() - TOUCH:
                    break
                shared = box.intersected(beside)
                if shared.width() > TOUCH and shared.height() > TOUCH:
                    yield Fault(Sort.OVER, other.text, _named(one.widget), f"by “{one.text}”")


def _ink(one: Painted) -> QRectF:
    """Return the middle of some words' box, in which the letters themselves stand."""
    spare = max(one.box.height() - one.needed[1], 0) / 2
    return one.box.adjusted(0, spare, 0, -spare)


# what Qt paints


def _of_part(part: QWidget) -> Iterator[Fault]:
    if isinstance(part, QLabel):
        yield from _of_label(part)
    elif isinstance(part, QPushButton | QComboBox):
        text = part.text() if isinstance(part, QPushButton) else part.currentText()
        wide = part.sizeHint().width()
        if isinstance(part, QComboBox):  # its hint is for the longest of its choices
            wide = part.fontMetrics().horizontalAdvance(text) + COMBO
        if text and wide > part.width() + SLACK:
            yield Fault(Sort.CUT, text, _named(part), f"{wide} px wide in {part.width()}")
    elif isinstance(part, QLineEdit) and not part.text():
        wide = part.fontMetrics().horizontalAdvance(part.placeholderText()) + FIELD
        if part.placeholderText() and wide > part.width() + SLACK:
            text = part.placeholderText()
            yield Fault(Sort.CUT, text, _named(part), f"{wide} px wide in {part.width()}")
    elif isinstance(part, QTableView):
        yield from _of_table(part)


def _of_label(label: QLabel) -> Iterator[Fault]:
    text = label.text()
    if not text or not label.pixmap().isNull():
        return
    room = label.contentsRect().size()
    needed = QSize(label.sizeHint().width(), label.minimumSizeHint().height())
    if label.wordWrap():
        needed = QSize(0, label.heightForWidth(label.width()))
    if needed.width() > label.width() + SLACK or needed.height() > label.height() + SLACK:
        detail = f"{needed.width()} × {needed.height()} px in {room.width()} × {room.height()}"
        yield Fault(Sort.CUT, text, _named(label), detail)
    elif text.endswith("…") and label.toolTip().startswith(text[:-1]):
        yield Fault(Sort.SHORT, text, _named(label), f"{label.width()} px of room")


def _of_table(table: QTableView) -> Iterator[Fault]:
    model = table.model()
    for column in range(model.columnCount()):
        if table.isColumnHidden(column):
            continue
        for row in range(min(model.rowCount(), ROWS)):
            index = model.index(row, column, QModelIndex())
            needed, room = table.sizeHintForIndex(index).width(), table.columnWidth(column)
            text = str(model.data(index) or "")
            if text and needed > room + SLACK and not _in_lines(table, text, row, room):
                yield Fault(Sort.CUT, text, _named(table), f"{needed} px wide in {room}")


def _in_lines(table: QTableView, text: str, row: int, room: int) -> bool:
    """Whether a cell's words fit in several lines."""
    wrapped = int(Qt.TextFlag.TextWordWrap)
    box = table.fontMetrics().boundingRect(0, 0, room - CELL, 9999, wrapped, text)
    fits = box.width() <= room - CELL and box.height() <= table.rowHeight(row)
    return table.wordWrap() and fits


def _named(part: QWidget) -> str:
    """Return what a widget is called, with what holds it."""
    name = part.accessibleName() or part.objectName()
    holder = part.parentWidget()
    while not name and holder is not None:
        name, holder = holder.accessibleName(), holder.parentWidget()
    return f"{type(part).__name__} ({name})" if name else type(part).__name__
