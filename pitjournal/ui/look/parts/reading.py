"""Keys go as eyes do: Tab by the order of reading, arrows and pages scroll, Enter presses.

Qt's own order is that in which widgets were made, and a row that was added later comes last in
it. Here the order is worked out from where things stand.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Generic, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QAbstractSpinBox,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QScrollArea,
    QTextEdit,
    QWidget,
)

from pitjournal.ui.look.parts.scroll import show_within_area
from pitjournal.ui.look.parts.tiles import TileList

T = TypeVar("T")

FIELDS = (QLineEdit, QPlainTextEdit, QTextEdit, QAbstractSpinBox, QComboBox, QAbstractItemView)
"""What takes letters and digits itself: fields, and lists that find by them."""

_WHOLE = (*FIELDS, QAbstractButton)
"""What is one stop, whatever is inside."""

TOUCHING = 2
"""So many px may two lines of a page overlap and still be two."""

LINE = 60
"""What an arrow scrolls, px."""


def takes_letters(widget: QWidget | None) -> bool:
    """Whether a letter or a digit typed here is meant for this widget."""
    return isinstance(widget, FIELDS) and not isinstance(widget, TileList)


# the order of reading


@dataclass(frozen=True)
class Placed(Generic[T]):
    """A thing and where it stands, px."""

    left: int
    top: int
    right: int
    bottom: int
    thing: T


def in_reading_order(placed: Sequence[Placed[T]]) -> list[T]:
    """Return things in the order in which they are read, from where each stands.

    What one line across parts into above and below is read so; else what a line down parts
    into left and right; and what no line parts, by its top left corner.
    """
    if len(placed) < 2:
        return [one.thing for one in placed]
    for begin, end in (_ACROSS, _DOWN):
        parts = _parted(placed, begin, end)
        if len(parts) > 1:
            return [thing for part in parts for thing in in_reading_order(part)]
    return [one.thing for one in sorted(placed, key=lambda one: (one.top, one.left))]


_ACROSS = (attrgetter("top"), attrgetter("bottom"))
_DOWN = (attrgetter("left"), attrgetter("right"))


def _parted(
    placed: Sequence[Placed[T]], begin: "attrgetter[int]", end: "attrgetter[int]"
) -> list[list[Placed[T]]]:
    found: list[list[Placed[T]]] = []
    reach = 0
    for one in sorted(placed, key=begin):
        if not found or begin(one) >= reach - TOUCHING:
            found.append([one])
            reach = end(one)
        else:
            found[-1].append(one)
            reach = max(reach, end(one))
    return found


def stops(root: QWidget) -> list[QWidget]:
    """Return what Tab stops at within a widget, in the order of reading."""
    if isinstance(root, QAbstractScrollArea) and not isinstance(root, QScrollArea):
        return []
    placed = []
    for child in root.children():
        if not isinstance(child, QWidget) or child.isHidden() or child.isWindow():
            continue
        inside = _stops_of(child)
        if inside:
            x, y = child.x(), child.y()
            placed.append(Placed(x, y, x + child.width(), y + child.height(), inside))
    return [stop for inside in in_reading_order(placed) for stop in inside]


def _stops_of(widget: QWidget) -> list[QWidget]:
    mine = [widget] if _is_stop(widget) else []
    return mine if isinstance(widget, _WHOLE) else mine + stops(widget)


def _is_stop(widget: QWidget) -> bool:
    if not widget.isEnabled() or widget.focusProxy() is not None:
        return False
    group = widget.group() if isinstance(widget, QAbstractButton) else None
    chosen = group.checkedButton() if group is not None and group.exclusive() else None
    if chosen is not None:  # of tabs the one that is open is the stop; Qt keeps it elsewhere
        return chosen is widget
    return bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)


def move_on(order: Sequence[QWidget], now: QWidget | None, *, forward: bool) -> bool:
    """Give the focus to the next stop, or the one before; from the last it begins anew."""
    if not order:
        return False
    step = 1 if forward else -1
    if now in order:
        to = order[(order.index(now) + step) % len(order)]
    else:
        to = order[0 if forward else -1]
    reason = Qt.FocusReason.TabFocusReason if forward else Qt.FocusReason.BacktabFocusReason
    to.setFocus(reason)
    show_within_area(to)
    return True


# other keys

_STEPS = {
    Qt.Key.Key_Down: (LINE, 0.0),
    Qt.Key.Key_Up: (-LINE, 0.0),
    Qt.Key.Key_PageDown: (0, 0.9),
    Qt.Key.Key_PageUp: (0, -0.9),
}


def scroll_by_key(root: QWidget, event: QKeyEvent) -> bool:
    """Scroll what scrolls within a widget by arrows, pages, Home and End; tell whether it did."""
    area = _scrolling(root)
    if area is None or event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
        return False
    bar = area.verticalScrollBar()
    key = Qt.Key(event.key())
    if key in {Qt.Key.Key_Home, Qt.Key.Key_End}:
        bar.setValue(bar.minimum() if key == Qt.Key.Key_Home else bar.maximum())
        return True
    if key not in _STEPS:
        return False
    lines, pages = _STEPS[key]
    bar.setValue(bar.value() + lines + round(pages * bar.pageStep()))
    return True


def _scrolling(root: QWidget) -> QAbstractScrollArea | None:
    """Return what scrolls: around what has the focus, else the largest that is seen."""
    widget: QWidget | None = root.window().focusWidget()
    while widget is not None and root.isAncestorOf(widget):
        if isinstance(widget, QAbstractScrollArea) and widget.verticalScrollBar().maximum() > 0:
            return widget
        widget = widget.parentWidget()
    areas = [
        area
        for area in root.findChildren(QAbstractScrollArea)
        if area.isVisible() and area.verticalScrollBar().maximum() > 0
    ]
    return max(areas, key=lambda area: area.width() * area.height(), default=None)


ENTERS = frozenset({Qt.Key.Key_Return, Qt.Key.Key_Enter})


def press(widget: QWidget | None, event: QKeyEvent) -> bool:
    """Press the button that has the focus by Enter, once; tell whether there was one."""
    if event.key() not in ENTERS:
        return False
    if not isinstance(widget, QAbstractButton) or not widget.isEnabled():
        return False
    if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
        return False
    if not event.isAutoRepeat():
        widget.click()
    return True
