"""Find words that do not fit: painted width against room, and words painted over each other.

Two sorts of words are looked at while a widget is painted into a picture: what our own paint
events write with `QPainter.drawText`, and what Qt's labels, buttons, boxes and tables write.
What holds words is looked at too: whether it reaches beyond what it lies in where nothing
scrolls, and whether it lies on another; and all words, whether they are large enough.

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
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QTableView,
    QWidget,
)

from pitjournal.ui.forms import Box
from pitjournal.ui.look.parts.fields import Field, TextField
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.whole_line import room_in
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import BODY, SMALL

SLACK = 1.0
"""Glyphs may reach out of their box by so much, px."""

TOUCH = 2.0
"""Words that share no more than so many px only touch."""

ENDLESS = 1e6
COMBO = 34
"""What a box needs beside its words, px."""

CELL = 8
"""The margins of a cell, px."""

ROWS = 40
"""So many rows of a table are looked at."""


class Sort(StrEnum):
    """What is wrong with some words."""

    CUT = "cut off"
    SHORT = "shortened"
    OVER = "painted over"
    BEYOND = "beyond what holds it"
    SMALL = "too small"


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
    """Words as they were painted on a widget: their box there, the room given, their size; px."""

    text: str
    box: QRectF
    needed: tuple[float, float]
    room: tuple[float, float]
    widget: QWidget
    size: float = BODY
    scale: float = 1.0


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
    found += [fault for one in painted for fault in _small(one.text, one.size, one.widget)]
    parts = [p for p in (widget, *widget.findChildren(QWidget)) if p.isVisibleTo(widget)]
    for part in parts:
        found += _of_part(part)
        if said_on(part):
            found += _small(said_on(part), part.fontInfo().pixelSize(), part)
    found += _held(widget, parts)
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
    seen = painter.combinedTransform()
    needed, size = (box.width(), tall), seen.m22() * painter.font().pixelSize()
    return Painted(text, seen.mapRect(box), needed, given, device, size, seen.m22())


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
    ink = _ink(one)
    over = max(-ink.top(), ink.bottom() - one.widget.height())
    seen = one.box.right() > 0 and one.box.left() < one.widget.width()
    seen &= ink.bottom() > 0 and ink.top() < one.widget.height()
    if seen and max(out, over) > SLACK and not _scrolls(one.widget):
        yield Fault(Sort.CUT, one.text, where, f"{max(out, over):.0f} px outside of it")
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


def _scrolls(widget: QWidget) -> bool:
    """Whether what is painted is the inside of a list, of which the end is scrolled to."""
    return isinstance(widget.parentWidget(), QAbstractItemView)


def _ink(one: Painted) -> QRectF:
    """Return the middle of some words' box, in which the letters themselves stand."""
    spare = max(one.box.height() - one.needed[1] * one.scale, 0) / 2
    return one.box.adjusted(0, spare, 0, -spare)


# what holds words


def said_on(part: QWidget) -> str:
    """Return the words that a widget itself shows, or nothing."""
    if isinstance(part, QComboBox):
        return part.currentText()
    if isinstance(part, QLineEdit):
        return part.text() or part.placeholderText()
    if isinstance(part, QLabel | QAbstractButton):
        return part.text()
    return ""


def _small(text: str, size: float, part: QWidget) -> Iterator[Fault]:
    least = look().sizes.scale * SMALL
    if size < least - 0.6:
        yield Fault(Sort.SMALL, text, _named(part), f"{size:.0f} px, not {least:.0f}")


def _held(root: QWidget, parts: Sequence[QWidget]) -> Iterator[Fault]:
    """Look whether what has words lies within what holds it, and on nothing else that has."""
    placed: list[tuple[QRect, QWidget]] = []
    for part in parts:
        if not said_on(part) or isinstance(part.parentWidget(), QComboBox):
            continue
        seen, out = _seen_of(root, part)
        if out > SLACK:
            yield Fault(Sort.BEYOND, said_on(part), _named(part), f"{out} px")
        if not seen.isEmpty():
            placed.append((seen, part))
    placed.sort(key=lambda pair: pair[0].left())
    for place, (box, part) in enumerate(placed):
        for other, beside in placed[place + 1 :]:
            if other.left() > box.right() - TOUCH:
                break
            shared = box.intersected(other)
            if min(shared.width(), shared.height()) > TOUCH and not _covers(part, beside):
                yield Fault(Sort.OVER, said_on(beside), _named(beside), f"by “{said_on(part)}”")


def _seen_of(root: QWidget, part: QWidget) -> tuple[QRect, int]:
    """Return where a widget is seen on another, and by how many px it is cut and not scrolled."""
    box, out, holder = part.geometry(), 0, part.parentWidget()
    while part is not root and holder is not None:
        area = holder.parentWidget()
        room = holder.rect()
        if isinstance(area, QAbstractScrollArea) and area.viewport() is holder:
            wide = area.horizontalScrollBar().maximum() == area.horizontalScrollBar().minimum()
            if wide and not box.intersected(room).isEmpty():
                out = max(out, box.right() - room.right(), room.left() - box.left())
            box = box.intersected(room)
        else:
            out = max(out, box.right() - room.right(), box.bottom() - room.bottom())
            out = max(out, room.left() - box.left(), room.top() - box.top())
        if box.isEmpty() or holder is root:
            break
        box = box.translated(holder.pos())
        holder = holder.parentWidget()
    return box, out


def _covers(one: QWidget, other: QWidget) -> bool:
    """Whether one lies on the other on purpose: in it, or over all as a bar or a panel does."""
    if one.isAncestorOf(other) or other.isAncestorOf(one):
        return True
    return any(_floats(part) for part in (one, other))


def _floats(part: QWidget) -> bool:
    holder: QWidget | None = part
    while holder is not None:
        if isinstance(holder, MessageBar | Overlay):
            return True
        holder = holder.parentWidget()
    return False


# what Qt paints


def _of_part(part: QWidget) -> Iterator[Fault]:
    if isinstance(part, QLabel):
        yield from _of_label(part)
    elif isinstance(part, QPushButton | QComboBox | QCheckBox):
        text = said_on(part)
        wide = part.sizeHint().width()
        if isinstance(part, QComboBox):  # its hint is for the longest of its choices
            wide = part.fontMetrics().horizontalAdvance(text) + COMBO
        if text and wide > part.width() + SLACK:
            sort = Sort.SHORT if isinstance(part, Box) else Sort.CUT
            yield Fault(sort, text, _named(part), f"{wide} px wide in {part.width()}")
        yield from _too_low(part, text)
    elif isinstance(part, QLineEdit):
        text = said_on(part)
        wide, room = part.fontMetrics().horizontalAdvance(text), room_in(part)
        if text and wide > room + SLACK and not _of_the_cook(part):
            sort = Sort.CUT if part.text() else Sort.SHORT  # Qt shortens a hint
            yield Fault(sort, text, _named(part), f"{wide} px wide in {room}")
        yield from _too_low(part, text)
    elif isinstance(part, QTableView):
        yield from _of_table(part)


def _too_low(part: QWidget, text: str) -> Iterator[Fault]:
    """Look whether the letters have the height they need; their box has some air above."""
    tall = part.fontMetrics().tightBoundingRect(f"{text}Ág").height()
    if text and tall > part.contentsRect().height():
        yield Fault(Sort.CUT, text, _named(part), f"{tall} px high in {part.height()}")


def _of_the_cook(line: QLineEdit) -> bool:
    """Whether a field holds free words of the cook, which may be longer than any field."""
    holder = line.parentWidget()
    return bool(line.text()) and (isinstance(holder, TextField) or not isinstance(holder, Field))


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
