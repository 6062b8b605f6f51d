"""Every page and panel of the demonstration in turn, and what can be taken hold of in each."""

import time
from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTabBar,
    QWidget,
)

from pitjournal.ui.look.parts.overlay import top_panel
from pitjournal.ui.window import Window
from tests.screens.__main__ import states

FIELDS = (QLineEdit, QPlainTextEdit, QComboBox)
AT_LEAST, AT_MOST = 0.06, 20.0
"""A state is looked at after so many seconds, and once no work is under way any more."""


@dataclass(frozen=True)
class Control:
    """A button or a field as it is seen, and as a screen reader is told of it; px."""

    state: str
    kind: str
    text: str
    name: str
    role: QAccessible.Role
    wide: int
    high: int
    field: bool
    gloves: bool

    def __str__(self) -> str:
        return f"{self.state}: {self.kind} “{self.text}” named “{self.name}”, {self.high} px high"


def walk(window: Window) -> Iterator[str]:
    """Go to each state, and yield its name once it is there."""
    busy: list[object] = []

    def note(job: object) -> None:
        busy[:] = [] if job is None else [job]

    window.desk.bridge.working.connect(note)
    for name, go, _ in states(window):
        go()
        begun = time.monotonic()
        while time.monotonic() - begun < AT_LEAST or (busy and time.monotonic() - begun < AT_MOST):
            QApplication.processEvents()
            time.sleep(0.002)
        yield name


def controls(window: Window, state: str) -> list[Control]:
    """Return the controls that are in sight, on the panel where one is open."""
    root = top_panel(window) or window
    found = []
    for part in root.findChildren(QWidget):
        if not part.isVisibleTo(root) or part.objectName().startswith("qt_"):
            continue
        if isinstance(part, (QAbstractButton, *FIELDS)):
            found.append(_control(part, state))
        if isinstance(part, QTabBar):
            found += _tabs(part, state)
    return found


def _tabs(bar: QTabBar, state: str) -> Iterator[Control]:
    """Yield the tabs of a bar, which are no widgets of their own."""
    told = QAccessible.queryAccessibleInterface(bar)
    for place in range(bar.count()):
        tab, there = told.child(place), bar.tabRect(place)
        yield Control(
            state=state,
            kind="tab",
            text=bar.tabText(place),
            name=tab.text(QAccessible.Text.Name),
            role=tab.role(),
            wide=there.width(),
            high=there.height(),
            field=False,
            gloves=False,
        )


def _control(part: QWidget, state: str) -> Control:
    told = QAccessible.queryAccessibleInterface(part)
    shown = part.text().replace("&&", "&") if isinstance(part, QAbstractButton) else ""
    text = " ".join(shown.split())  # words in two lines are the same words
    holder: QWidget | None = part
    while holder is not None and not holder.property("gloves"):
        holder = holder.parentWidget()
    return Control(
        state=state,
        kind=type(part).__name__,
        text=text,
        name=told.text(
            # on Linux Qt gives what is chosen in a box for its name
            QAccessible.Text.Description if isinstance(part, QComboBox) else QAccessible.Text.Name
        ),
        role=told.role(),
        wide=part.width(),
        high=part.height(),
        field=isinstance(part, FIELDS),
        gloves=holder is not None,
    )
