"""Words 40 % longer, as in another language: the same letters, that much wider."""

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from pitjournal.ui.look.theme import font, look

LONGER = 140
"""Per cent of a letter's own width."""


def _stretch(percent: int) -> None:
    """Let all fonts of the window have letters of a width; they come from the application's."""
    face = QFont(QApplication.font())
    face.setStretch(percent)
    QApplication.setFont(face)
    font.cache_clear()
    look().restyle(anew=True)


@contextmanager
def longer_words() -> Iterator[None]:
    """Let words be longer for a while."""
    _stretch(LONGER)
    try:
        yield
    finally:
        _stretch(QFont.Stretch.Unstretched.value)
