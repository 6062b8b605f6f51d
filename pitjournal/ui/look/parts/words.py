"""Labels in the roles of the style sheet, and the layouts they stand in."""

from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLayout,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.spoken import announce
from pitjournal.ui.look.theme import tabular as with_columns


def words(text: str = "", role: str = "", *, wrap: bool = True, tabular: bool = False) -> QLabel:
    """Return a label; `role` is one of the style sheet's."""
    label = QLabel(text)
    label.setWordWrap(wrap)
    label.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        label.setProperty("role", role)
    return with_columns(label) if tabular else label


def unbroken(text: str) -> str:
    """Return a text whose degrees, and grams of a millilitre, stay on the line of their number."""
    for part in (" °", "1 mL = 1 g"):
        text = text.replace(part, part.replace(" ", "\N{NO-BREAK SPACE}"))
    return text


class Elided(QLabel):
    """A line that is cut short where there is no room, and then says all on hovering."""

    def __init__(self, text: str = "", role: str = "") -> None:
        super().__init__()
        self.setProperty("role", role)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._whole = ""
        self.show_text(text)

    def show_text(self, text: str) -> None:
        """Show another text."""
        self._whole = text
        self.setAccessibleName(text)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit it again."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        self.ensurePolished()
        cut = self.fontMetrics().elidedText(
            self._whole, Qt.TextElideMode.ElideRight, max(self.width(), 1)
        )
        self.setToolTip("" if cut == self._whole else self._whole)
        if cut != self.text():
            self.setText(cut)


class Problem(QLabel):
    """A line on what is wrong and what to do about it; out of sight while nothing is."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "error")
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.hide()

    def say(self, text: str) -> None:
        """Show what is wrong, or nothing."""
        if text != self.text():
            announce(self, text, urgent=True)
        self.setText(text)
        self.setVisible(bool(text))


L = TypeVar("L", QHBoxLayout, QVBoxLayout)


def rule() -> QFrame:
    """Return a hairline."""
    line = QFrame()
    line.setProperty("role", "rule")
    line.setFixedHeight(tokens.LIGHT.edge)
    return line


def row(*things: QWidget | QLayout | None, space: int = tokens.S) -> QHBoxLayout:
    """Lay things side by side; None is a stretch."""
    layout = QHBoxLayout()
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(space)
    return _fill(layout, things)


def column(*things: QWidget | QLayout | None, space: int = tokens.S) -> QVBoxLayout:
    """Lay things one under the other; None is a stretch."""
    layout = QVBoxLayout()
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(space)
    return _fill(layout, things)


def _fill(layout: L, things: tuple[QWidget | QLayout | None, ...]) -> L:
    for thing in things:
        if thing is None:
            layout.addStretch(1)
        elif isinstance(thing, QWidget):
            layout.addWidget(thing)
            if thing.property("top") and isinstance(layout, QHBoxLayout):
                layout.setAlignment(thing, Qt.AlignmentFlag.AlignTop)
        else:
            layout.addLayout(thing)
    return layout


def clear(layout: QLayout) -> None:
    """Take everything out of a layout."""
    while (item := layout.takeAt(0)) is not None:
        widget, inner = item.widget(), item.layout()
        if widget is not None:
            widget.hide()
            widget.setParent(None)
            widget.deleteLater()
        elif inner is not None:
            clear(inner)
            inner.deleteLater()
