"""Only what is seen is restyled: a hidden page waits for its new colours until it is shown.

Qt restyles every widget there is when the application's style sheet changes, half a millisecond
each, and a window with all its pages has two thousand. So the application keeps the sheet that
it began with, and what stands between a window and its pages is given another one: the rail, the
panels, the page that is seen; and each other page when it is shown. A page of hundreds of fields
is restyled card by card: those in sight before it is painted, the others in turns of their own.
"""

from collections import deque
from collections.abc import Iterable, Iterator
from weakref import WeakSet, ref

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
from shiboken6 import isValid

STYLED = "styled"
"""The property of a part that has a sheet of its own."""

FEW = 400
"""So few widgets are all restyled at once."""

BETWEEN = 5
"""Between two parts out of sight, ms: what the cook does comes first."""


class Restyling:
    """Which style sheet each part of the windows has."""

    def __init__(self) -> None:
        self._pages: WeakSet[QWidget] = WeakSet()
        self._cards: WeakSet[QWidget] = WeakSet()
        self._later: deque[ref[QWidget]] = deque()
        self._all = self._now = ""
        self._apart = False

    def wait_with(self, page: QWidget) -> None:
        """Restyle this one only once it is shown: it says so with `catch_up`."""
        self._pages.add(page)

    def part_by_part(self, cards: Iterable[QWidget]) -> None:
        """Restyle each of these by itself: their page has too much in it for one turn.

        What is made after a change is dressed at once: what holds it has no sheet to give.
        """
        for card in cards:
            self._cards.add(card)
            self._dress(card)

    @property
    def waits(self) -> bool:
        """Whether parts out of sight are still to be restyled."""
        return bool(self._later)

    def restyle_all(self, application: QApplication, sheet: str) -> None:
        """Restyle every widget, seen or not."""
        self._all = self._now = sheet
        for part in application.allWidgets() if self._apart else ():
            self._dress(part)
        self._apart = False
        application.setStyleSheet(sheet)

    def restyle_seen(self, application: QApplication, sheet: str) -> None:
        """Restyle what is seen; pages that are hidden wait."""
        if not self._all or (not self._apart and len(application.allWidgets()) < FEW):
            self.restyle_all(application, sheet)
            return
        self._now = sheet
        self.catch_up_all()

    def catch_up_all(self) -> None:
        """Restyle all parts that are seen with the sheet of now."""
        self._catch_up(QApplication.topLevelWidgets())

    def catch_up(self, part: QWidget) -> None:
        """Restyle a part with the sheet of now; it and what is in it, but nothing around it."""
        self._catch_up([part])

    def _catch_up(self, tops: list[QWidget]) -> None:
        if not self._apart and not self._wanted():
            return  # the application's own sheet is that of all
        pages, cards = (
            {one for one in parts if isValid(one)} for parts in (self._pages, self._cards)
        )
        for part in list(_parts(tops, pages, _around(pages | cards))):
            if part not in cards or _in_sight(part):
                self._dress(part)
            elif self._is_behind(part):
                self._later.append(ref(part))
                if len(self._later) == 1:
                    QTimer.singleShot(BETWEEN, self._go_on)

    def _go_on(self) -> None:
        """Restyle one of the parts that wait."""
        part = self._later.popleft()() if self._later else None
        if part is not None and isValid(part):
            self._dress(part)
        if self._later:
            QTimer.singleShot(BETWEEN, self._go_on)

    def _wanted(self) -> str:
        return "" if self._now == self._all else self._now

    def _is_behind(self, part: QWidget) -> bool:
        return (part.property(STYLED) or "") != self._wanted()

    def _dress(self, part: QWidget) -> None:
        if self._is_behind(part):
            self._apart = True
            part.setProperty(STYLED, self._wanted())
            part.setStyleSheet(self._wanted())


def _around(parts: Iterable[QWidget]) -> set[QWidget]:
    """Return what holds these parts, up to their windows."""
    around: set[QWidget] = set()
    for part in parts:
        holder = part.parentWidget()
        while holder is not None and holder not in around:
            around.add(holder)
            holder = holder.parentWidget()
    return around


def _in_sight(part: QWidget) -> bool:
    """Whether some of a part lies within all that holds it."""
    shown = part.rect()
    below = part
    while (holder := below.parentWidget()) is not None and not below.isWindow():
        shown = shown.translated(below.pos()) & holder.rect()
        below = holder
    return not shown.isEmpty()


def _parts(tops: Iterable[QWidget], pages: set[QWidget], around: set[QWidget]) -> Iterator[QWidget]:
    """Yield the parts from these widgets down that are restyled each by itself.

    They are what hangs where pages and cards hang; a hidden page waits, with all that is in it.
    """
    left = list(tops)
    while left:
        part = left.pop()
        if part in pages and part not in tops and not part.isVisible():
            continue
        if part in around:
            left += [child for child in part.children() if isinstance(child, QWidget)]
        else:
            yield part
