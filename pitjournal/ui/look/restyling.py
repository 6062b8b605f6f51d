"""Only what is seen is restyled: a hidden page waits for its new colours until it is shown.

Qt restyles every widget there is when the application's style sheet changes, half a millisecond
each, and a window with all its pages has two thousand. So the application keeps the sheet that
it began with, and what stands between a window and its pages is given another one: the rail, the
panels, the page that is seen; and each other page when it is shown.
"""

from collections.abc import Iterator
from weakref import WeakSet

from PySide6.QtWidgets import QApplication, QWidget
from shiboken6 import isValid

STYLED = "styled"
"""The property of a part that has a sheet of its own."""

FEW = 400
"""So few widgets are all restyled at once."""


class Restyling:
    """Which style sheet each part of the windows has."""

    def __init__(self) -> None:
        self._pages: WeakSet[QWidget] = WeakSet()
        self._all = self._now = ""
        self._apart = False

    def wait_with(self, page: QWidget) -> None:
        """Restyle this one only once it is shown: it says so with `catch_up`."""
        self._pages.add(page)

    def restyle_all(self, application: QApplication, sheet: str) -> None:
        """Restyle every widget, seen or not."""
        self._all = self._now = sheet
        for part in application.allWidgets() if self._apart else ():
            self.catch_up(part)
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
        pages = {page for page in self._pages if isValid(page)}
        for part in list(_parts(pages)):
            if part not in pages or part.isVisible():
                self.catch_up(part)

    def catch_up(self, part: QWidget) -> None:
        """Restyle a part with the sheet of now; it and what is in it, but nothing around it."""
        wanted = "" if self._now == self._all else self._now
        if (part.property(STYLED) or "") != wanted:
            self._apart = True
            part.setProperty(STYLED, wanted)
            part.setStyleSheet(wanted)


def _parts(pages: set[QWidget]) -> Iterator[QWidget]:
    """Yield pages, and what else hangs where they hang: from their windows down."""
    around: set[QWidget] = set()
    for page in pages:
        holder = page.parentWidget()
        while holder is not None and holder not in around:
            around.add(holder)
            holder = holder.parentWidget()
    left = list(QApplication.topLevelWidgets())
    while left:
        part = left.pop()
        if part in around:
            left += [child for child in part.children() if isinstance(child, QWidget)]
        else:
            yield part
