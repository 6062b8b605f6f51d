"""Fields: what is typed is understood, saved by itself, and refused beside the field."""

import math
import re
from collections.abc import Callable, Iterable

from PySide6.QtCore import QStringListModel, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QCompleter,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from pitjournal.domain.plausible import LOOK_AGAIN, WIDEST, Limits
from pitjournal.errors import JournalError
from pitjournal.files.places import readable
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.pauses import Pauses
from pitjournal.ui.look.parts.scroll import show_within_area
from pitjournal.ui.look.parts.spoken import announce, spoken
from pitjournal.ui.look.parts.through_list import ThroughList
from pitjournal.ui.look.parts.whole_line import LEAST, hold_whole
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.look.theme import sized, tabular
from pitjournal.units import (
    NOT_RECORDED,
    Dimension,
    UnitSystem,
    example,
    parse,
    says,
    show,
    unit_label,
)

Save = Callable[[object, str], str]
"""Keeps a value and the words that were typed; returns why not, or an empty text."""


class Field(QWidget):
    """A label, a line to type in, and a line for what is wrong with it.

    What was typed is saved when the cook pauses or leaves the field. It is only ever refused
    when he leaves it. Where `apart`, its card says what is wrong, not a line below it.

    Signals
    -------
    said()
        What is wrong with it has changed.
    """

    said = Signal()

    def __init__(self, label: str, save: Save, *, bare: bool = False, hint: str = "") -> None:
        super().__init__()
        self.apart = False
        self._label, self._save = label, save
        self._kept: object = None
        self._owner = ""
        self.setProperty("top", True)  # neighbours stay in line when an error shows
        self._pauses = Pauses(self, lambda: self._commit(leaving=False))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(tokens.XS // 2)
        self.line = QLineEdit()
        self.line.setAccessibleName(label)
        self.line.setPlaceholderText(hint)
        sized(self.line, least_width=LEAST)
        if bare:
            self.line.setProperty("role", "cell")
        else:
            caption = words(label, "heading", wrap=False)
            caption.setBuddy(self.line)
            layout.addWidget(caption)
        layout.addWidget(self.line)
        self._below = layout
        self._error: QLabel | None = None
        self.setFocusProxy(self.line)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self.line.textEdited.connect(self._pauses.typed)
        self.line.editingFinished.connect(lambda: self._commit(leaving=True))

    def tell_about(self, about: str) -> None:
        """Tell which of several alike it is."""
        self.line.setAccessibleName(spoken(self._label, about, ", "))

    @property
    def error(self) -> QLabel:
        """What is wrong, below the line: made when something first is, for most are never seen."""
        if self._error is None:
            self._error = words("", "error")
            self._error.hide()
            self._below.insertWidget(self._below.indexOf(self.line) + 1, self._error)
        return self._error

    @property
    def problem(self) -> str:
        """What is wrong with what stands here, or an empty text."""
        return "" if self._error is None else self._error.text()

    # what a kind of field says

    def read(self, text: str) -> object:
        """Return what was typed as it is kept; an empty text is None.

        Raises
        ------
        JournalError
            If it is not understood.
        """
        return text.strip() or None

    def shown(self, value: object) -> str:
        """Return a value as the field shows it."""
        return "" if value is None else str(value)

    # showing

    def set_value(self, value: object) -> None:
        """Show a value, unless the cook is typing here, or typed what could not be read."""
        self._kept = value
        if self.line.isModified() and (self.line.hasFocus() or self.is_wrong):
            return
        if self.line.text() != self.shown(value):  # else the cursor stays where it is
            self.line.setText(self.shown(value))
            self.line.setCursorPosition(0)
        self.line.setModified(False)
        self.say("")

    def belong_to(self, owner: str) -> None:
        """Say whose field it is from now on: what was typed for another is not kept with it."""
        if owner != self._owner:
            self._owner = owner
            self.forget()

    def forget(self) -> None:
        """Leave what was typed and could not be read."""
        self._pauses.stop()
        self.line.setModified(False)

    @property
    def value(self) -> object:
        """What the field holds and has saved."""
        return self._kept

    @property
    def is_wrong(self) -> bool:
        """Whether what stands here was refused."""
        return bool(self.line.property("wrong"))

    def say(self, problem: str) -> None:
        """Show what is wrong, or nothing."""
        changed = problem != self.problem
        if problem or self._error is not None:
            self.error.setText(problem)
            self.error.setVisible(bool(problem) and not self.apart)
        if changed:  # whoever hears it looks at all fields of a card
            self.said.emit()
        if problem and problem != self.line.accessibleDescription():
            announce(self.line, f"{self.line.accessibleName()}: {problem}", urgent=True)
        self.line.setAccessibleDescription(problem)
        if problem and not self.apart:
            QTimer.singleShot(0, self, lambda: show_within_area(self))  # once it has its place
        if self.is_wrong != bool(problem):
            self.line.setProperty("wrong", bool(problem))
            self.line.style().polish(self.line)

    # saving

    def _commit(self, *, leaving: bool) -> None:
        self._pauses.stop()
        if not self.line.isModified():
            return
        text = readable(self.line.text())
        try:
            value = self.read(text)
        except JournalError as error:
            if leaving:
                self.say(str(error))
            return
        if value == self._kept:
            problem = ""
        else:
            problem = self._save(value, text.strip())
            if problem and not leaving:
                return
        if problem:
            self.say(problem)
            return
        self._kept = value
        self.say("")
        if leaving:
            self.line.setModified(False)
            self.line.setText(self.shown(value))
            self.line.setCursorPosition(0)

    def commit(self) -> None:
        """Save what stands there now."""
        self._commit(leaving=True)


class TextField(Field):
    """Free words, kept as typed; with `used` it completes what was used before."""

    def __init__(
        self,
        label: str,
        save: Save,
        *,
        used: Iterable[str] = (),
        bare: bool = False,
        hint: str = "",
    ) -> None:
        super().__init__(label, save, bare=bare, hint=hint)
        self._used = list(used)
        self._known: QStringListModel | None = None
        self.line.textEdited.connect(self._complete)

    def offer(self, used: Iterable[str]) -> None:
        """Complete from these words."""
        self._used = list(used)
        if self._known is not None:
            self._known.setStringList(self._used)

    def _complete(self, *_: object) -> None:
        """Complete from the first key on: a list for each field of a page took half its making."""
        if self._known is not None:
            return
        self._known = QStringListModel(self._used, self)
        completer = QCompleter(self._known, self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        popup = completer.popup()
        if popup is not None:
            popup.setProperty("role", "popup")
            ThroughList(popup, self.line)
        completer.activated.connect(self._taken)
        self.line.setCompleter(completer)

    def _taken(self, *_: object) -> None:
        self.line.setModified(True)
        self._pauses.at_once()

    def read(self, text: str) -> object:
        """Return the words."""
        return text.strip()


class QuantityField(Field):
    """A quantity in any unit of its dimension; shown in the cook's own."""

    def __init__(
        self,
        label: str,
        dimension: Dimension,
        system: UnitSystem,
        save: Save,
        *,
        bare: bool = False,
        hint: str = "",
        within: Limits | None = None,
    ) -> None:
        super().__init__(label, save, bare=bare, hint=hint)
        self._dimension, self._system = dimension, system
        self.within = within or WIDEST[dimension]
        self.typed = ""
        self.line.setToolTip(f"For example {example(dimension, system)}")
        self.line.setPlaceholderText(hint or NOT_RECORDED)
        hold_whole(self.line)
        tabular(self.line)

    def read(self, text: str) -> object:
        """Return the quantity in its storage unit; one that cannot be is refused."""
        found = self.meant(text) if text.strip() else None
        if found is not None and (why := self.within.why_not(found)):
            raise JournalError(why, self._taken_as(text.strip(), found))
        self.typed = text.strip()
        return found

    def _taken_as(self, text: str, value: float) -> str:
        """Return what a number without a unit was taken for, as what to look at."""
        if text.strip("-+−.,0123456789 ") or not unit_label(self._dimension, self._system):
            return LOOK_AGAIN
        taken = show(value, self._dimension, self._system)
        return f"“{text}” was taken as {taken}: type the unit with it."

    def meant(self, text: str) -> float:
        """Return what words mean, in the storage unit.

        Raises
        ------
        JournalError
            If they are not understood.
        """
        return parse(text, self._dimension, self._system)

    def shown(self, value: object) -> str:
        """Return it as it was typed, if with a unit, else in the cook's units."""
        if not isinstance(value, int | float):
            return ""
        if self.is_typed(float(value)):
            return self.typed
        return show(float(value), self._dimension, self._system)

    def is_typed(self, value: float) -> bool:
        """Whether the words that were typed name their unit and mean this value."""
        return says(self.typed, value, self.meant)


class PitField(QuantityField):
    """A pit temperature; a range such as "250-275" is its middle, kept as typed."""

    RANGE = re.compile(r"^\s*(\d[\d.,]*)\s*(\D*?)\s*(?:-|–|to)\s*(\d[\d.,]*)\s*(\D*)$")

    def meant(self, text: str) -> float:
        """Return the temperature that words mean, or the middle of two."""
        found = self.RANGE.match(text)
        if found is None:
            return super().meant(text)
        low, first, high, unit = found.groups()
        return (super().meant(f"{low} {first or unit}") + super().meant(f"{high} {unit}")) / 2

    def is_typed(self, value: float) -> bool:
        """Whether the words that were typed, or the range, mean this value."""
        if self.RANGE.match(self.typed):
            return math.isclose(self.meant(self.typed), value, abs_tol=1e-6)
        return super().is_typed(value)
