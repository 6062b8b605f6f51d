"""A field that is never narrower than what it shows: a number that is cut is another number."""

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QLineEdit, QStyle, QStyleOptionFrame

from pitjournal.ui.look.theme import look, px

LEAST, MOST = 56, 220
"""The least width of a field, and the most that one takes for what it shows, px."""

MARGIN = 2
"""What a field keeps free at either side of its words, px."""


def room_in(line: QLineEdit) -> int:
    """Return the width that a field has for words, px."""
    option = QStyleOptionFrame()
    line.initStyleOption(option)
    inside = QStyle.SubElement.SE_LineEditContents
    return line.style().subElementRect(inside, option, line).width() - 2 * MARGIN


class _Whole(QObject):
    """Widens a field, its parent, whenever it shows something else; it dies with it."""

    def __init__(self, line: QLineEdit) -> None:
        super().__init__(line)
        line.textChanged.connect(self.widen)
        look().changed.connect(self.widen)
        self.widen()

    def widen(self) -> None:
        """Give the field its least width, unless the cook is typing into it."""
        line = self.parent()
        assert isinstance(line, QLineEdit)
        if line.isModified():
            return
        line.ensurePolished()
        words = line.fontMetrics().horizontalAdvance(line.text() or line.placeholderText())
        beside = line.width() - room_in(line)
        line.setMinimumWidth(max(px(LEAST), min(words + beside + 1, px(MOST))))


def hold_whole(line: QLineEdit) -> None:
    """Let a field be as wide as what it shows, from now on."""
    _Whole(line)
