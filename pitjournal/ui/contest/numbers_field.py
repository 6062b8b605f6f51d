"""A field of several numbers: the totals of all others, as they are read out."""

import re
from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.errors import JournalError
from pitjournal.ui.look.parts.words import Problem
from pitjournal.ui.look.parts.words_field import WordsField
from pitjournal.units.figures import trimmed

_APART = re.compile(r"[;\n]+|,\s+|\s+")
MOST = 1e4


def numbers_in(text: str) -> tuple[float, ...]:
    """Return the numbers of a text, the highest first.

    Raises
    ------
    JournalError
        If one of them is no total.
    """
    found = []
    for part in (part for part in _APART.split(text.strip()) if part):
        try:
            number = float(part.replace(",", "."))
        except ValueError:
            number = -1.0
        if not 0 <= number <= MOST:
            raise JournalError(f"“{part}” is no total.", "Such as: 171.25 168.9 165")
        found.append(number)
    return tuple(sorted(found, reverse=True))


class NumbersField(QWidget):
    """Numbers with blanks, lines, semicolons, or a comma and a blank between them."""

    def __init__(
        self, label: str, save: Callable[[tuple[float, ...]], str], *, hint: str = ""
    ) -> None:
        super().__init__()
        self._save = save
        self.words = WordsField(label, self._keep, hint=hint)
        self.error = Problem()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.words)
        layout.addWidget(self.error)
        self.setFocusProxy(self.words)

    def forget(self) -> None:
        """Leave what could not be read: from now on the field is of another record."""
        self.error.say("")

    def set_value(self, value: tuple[float, ...]) -> None:
        """Show numbers, unless the cook is typing here or has something to mend."""
        if not self.error.text():
            self.words.set_value("  ".join(trimmed(one, 8) for one in value))

    def _keep(self, _value: object, typed: str) -> str:
        try:
            problem = self._save(numbers_in(typed))
        except JournalError as error:
            problem = str(error)
        self.error.say(problem)
        return problem
