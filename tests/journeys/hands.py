"""Two strangers at the window: one with keys alone, one with a mouse. Both only see it.

They know a control by the name that is on it or that a screen reader says. The mouse clicks
where the control is and fails where something else lies there; the keys go by Tab. Neither
calls anything of the program.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QFileDialog,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QScrollArea,
    QWidget,
)
from pytestqt.qtbot import QtBot

from pitjournal.ui.look.parts.overlay import top_panel
from pitjournal.ui.look.parts.tabs import Tabs
from pitjournal.ui.window import Window

Key, Mod = Qt.Key, Qt.KeyboardModifier
PAGES = {"Plan": Key.Key_1, "Bench": Key.Key_2, "Tasting": Key.Key_3, "Findings": Key.Key_4}
TAPS = ("Feel", "On", "Lid", "Flip", "Spritz", "Wrap", "Lit", "Weigh", "Photo", "Other…")
"""The taps of the bench in the order of their digits."""

MOST_TABS = 400


class Hand(ABC):
    """What a stranger does, whichever way."""

    def __init__(self, qtbot: QtBot, window: Window, now: datetime) -> None:
        self.qtbot, self.window = qtbot, window
        self.now = now
        window.desk.clock = lambda: self.now

    # time

    def wait(self, **span: float) -> None:
        """Let time pass at the cooker."""
        self.now += timedelta(**span)
        self.window.desk.watch.look()
        QApplication.processEvents()

    # seeing

    @property
    def seen_in(self) -> QWidget:
        """What can be reached: the uppermost panel, else the window."""
        return top_panel(self.window) or self.window

    def words(self) -> Iterator[str]:
        """Yield every text that is in sight on the window."""
        for widget in self.window.findChildren(QWidget):
            if not widget.isVisible():
                continue
            if isinstance(widget, QLabel | QAbstractButton | QLineEdit):
                yield widget.text()
            elif isinstance(widget, QPlainTextEdit):
                yield widget.toPlainText()
            yield widget.accessibleName()
            yield widget.accessibleDescription()

    def sees(self, text: str) -> bool:
        """Whether a text is on the window."""
        return any(text in words.replace("\N{NO-BREAK SPACE}", " ") for words in self.words())

    def must_see(self, *texts: str) -> None:
        """Fail unless each of these is seen, now or once what is worked out is there."""
        for text in texts:
            if not self.sees(text):
                try:
                    self.qtbot.waitUntil(partial(self.sees, text), timeout=30_000)
                except self.qtbot.TimeoutError as late:
                    seen = sorted(set(filter(None, self.words())))
                    raise AssertionError(f"no “{text}” in sight; there is {seen}") from late

    def must_not_see(self, *texts: str) -> None:
        """Fail where one of these is seen."""
        for text in texts:
            assert not self.sees(text), text

    def sees_what_is_due(self) -> bool:
        """Whether the bench names something to do now."""
        return any(_is_due(widget) for widget in self.window.findChildren(QAbstractButton))

    def do_what_is_due(self) -> None:
        """Press what the bench says is to be done now."""
        due = [w for w in self.window.findChildren(QAbstractButton) if _is_due(w)]
        self.press(due[0].accessibleName())

    def find(self, name: str, within: str = "") -> QWidget:
        """Return the control with this name, the last of several."""
        root: QWidget = self.seen_in
        if within:
            root = next(
                w
                for w in root.findChildren(QWidget)
                if w.accessibleName() == within and w.isVisible()
            )
        found = [w for w in root.findChildren(QWidget) if w.isVisible() and _called(w, name)]
        assert found, f"no “{name}” in sight; there is {sorted(set(filter(None, self.words())))}"
        return found[-1]

    # doing

    def choose(self, path: Path, open_it: Callable[[], object]) -> None:
        """Name a file in the dialog that something opens."""

        def fill() -> None:
            dialog = QApplication.activeModalWidget()
            if not isinstance(dialog, QFileDialog):
                QTimer.singleShot(20, fill)
                return
            (line,) = dialog.findChildren(QLineEdit)
            line.setText(str(path))
            taps = [tap for tap in dialog.findChildren(QPushButton) if tap.isVisible()]
            QTest.mouseClick(taps[0], Qt.MouseButton.LeftButton)

        QTimer.singleShot(0, fill)
        open_it()
        self.window.activateWindow()  # which a window manager does
        self.qtbot.waitUntil(self.window.isActiveWindow)

    @abstractmethod
    def reach(self, widget: QWidget) -> None:
        """Put the focus on a control."""

    @abstractmethod
    def press(self, name: str, within: str = "") -> None:
        """Press a button or a chip."""

    @abstractmethod
    def turn(self, page: str) -> None:
        """Turn to a page of the cook."""

    @abstractmethod
    def tap(self, name: str) -> None:
        """Tap at the bench."""

    @abstractmethod
    def close(self) -> None:
        """Close the panel that is open."""

    @abstractmethod
    def new_cook(self) -> None:
        """Begin a new cook."""

    @abstractmethod
    def undo(self) -> None:
        """Take the last step back."""

    def key(self, key: Qt.Key, mod: Qt.KeyboardModifier = Mod.NoModifier) -> None:
        """Press a key on the window."""
        QTest.keyClick(self.window.windowHandle(), key, mod)

    def type(self, text: str) -> None:
        """Type where the focus is."""
        for letter in text:
            QTest.keyClick(self.window.windowHandle(), letter)  # type: ignore[call-overload]

    def write(self, name: str, text: str, within: str = "") -> None:
        """Write into a field in the place of what stands there, and leave it by Enter."""
        field = self.find(name, within)
        self.reach(field)
        self.key(Key.Key_A, Mod.ControlModifier)
        self.type(text)
        self.key(Key.Key_Return)

    def feel(self, temperature: str, score: int) -> None:
        """Give a temperature and a feel to the piece that is asked for."""
        self.write("Internal temperature", temperature)
        self._give_feel(score)

    @abstractmethod
    def _give_feel(self, score: int) -> None:
        """Give the feel."""


class Keys(Hand):
    """Keys alone."""

    def reach(self, widget: QWidget) -> None:
        """Go to a control by Tab, or back where it stands above."""
        now = QApplication.focusWidget()
        back = now is not None and _above(widget, now)
        for _ in range(MOST_TABS):
            if QApplication.focusWidget() is widget:
                return
            if back:
                self.key(Key.Key_Backtab, Mod.ShiftModifier)
            else:
                self.key(Key.Key_Tab)
        raise AssertionError(f"Tab never comes to “{widget.accessibleName()}”")

    def press(self, name: str, within: str = "") -> None:
        """Go there and press Enter."""
        self.reach(self.find(name, within))
        self.key(Key.Key_Return)
        QApplication.processEvents()

    def turn(self, page: str) -> None:
        """Turn by Alt and the page's digit."""
        self.key(PAGES[page], Mod.AltModifier)
        QApplication.processEvents()

    def tap(self, name: str) -> None:
        """Tap by the digit."""
        self.type(str((TAPS.index(name) + 1) % 10))
        QApplication.processEvents()

    def close(self) -> None:
        """Press Escape."""
        self.key(Key.Key_Escape)
        QApplication.processEvents()

    def new_cook(self) -> None:
        """Press Ctrl+N."""
        self.key(Key.Key_N, Mod.ControlModifier)

    def undo(self) -> None:
        """Press Ctrl+Z."""
        self.key(Key.Key_Z, Mod.ControlModifier)

    def _give_feel(self, score: int) -> None:
        self.type(str(score))


class Mouse(Hand):
    """A mouse, and keys only to write."""

    def reach(self, widget: QWidget) -> None:
        """Click it."""
        self.click(widget)

    def click(self, widget: QWidget) -> None:
        """Scroll a control into sight and click its middle, which must be its own."""
        for _ in range(5):  # what lies above may still find its lines
            parent = widget.parentWidget()
            while parent is not None:
                if isinstance(parent, QScrollArea):
                    parent.ensureWidgetVisible(widget)
                parent = parent.parentWidget()
            QApplication.processEvents()
            middle = QPoint(min(widget.width() // 2, widget.width() - 1), widget.height() // 2)
            at = widget.mapTo(self.window, middle)
            under = self.window.childAt(at)
            if under is widget or (under is not None and widget.isAncestorOf(under)):
                break
            QTest.qWait(50)
        name = widget.accessibleName()
        assert under is not None, f"“{name}” is out of sight"
        mine = under is widget or widget.isAncestorOf(under)
        assert mine, f"“{name}” lies under {under!r} {under.accessibleName()}"
        QTest.mouseClick(self.window.windowHandle(), Qt.MouseButton.LeftButton, Mod.NoModifier, at)
        QApplication.processEvents()

    def press(self, name: str, within: str = "") -> None:
        """Click it."""
        self.click(self.find(name, within))

    def turn(self, page: str) -> None:
        """Click the tab."""
        (tabs,) = self.window.place.findChildren(Tabs)
        there = next(n for n in range(tabs.count()) if tabs.tabText(n) == page)
        QTest.mouseClick(tabs, Qt.MouseButton.LeftButton, pos=tabs.tabRect(there).center())
        QApplication.processEvents()

    def tap(self, name: str) -> None:
        """Click the tap; what it says may have changed with the cook."""
        now = {"On": ("On", "Off"), "Lit": ("Lit", "Fuel")}.get(name, (name,))
        found = [
            b
            for b in self.window.findChildren(QAbstractButton)
            if b.isVisible() and b.text() in now
        ]
        self.click(max(found, key=lambda b: b.mapTo(self.window, QPoint()).y()))

    def close(self) -> None:
        """Click Close."""
        panel = top_panel(self.window)
        assert panel is not None
        self.click(next(b for b in panel.findChildren(QAbstractButton) if b.text() == "Close"))

    def new_cook(self) -> None:
        """Click New cook on the list of cooks."""
        self.press("Cooks")
        self.press("New cook")

    def undo(self) -> None:
        """Click Undo."""
        self.press("Undo")

    def _give_feel(self, score: int) -> None:
        self.press(str(score))


def _above(one: QWidget, other: QWidget) -> bool:
    corners = [widget.mapTo(widget.window(), QPoint()) for widget in (one, other)]
    return corners[0].y() < corners[1].y()


def _is_due(widget: QAbstractButton) -> bool:
    return widget.isVisible() and widget.accessibleName() == f"{widget.text()} now"


def _called(widget: QWidget, name: str) -> bool:
    if isinstance(widget, QAbstractButton) and widget.text() == name:
        return True
    if not isinstance(widget, QAbstractButton | QLineEdit | QPlainTextEdit):
        return False
    spoken = widget.accessibleName()  # of a row's field with the row behind it: "Cut, A1"
    return spoken == name or spoken.startswith(f"{name}, ")
