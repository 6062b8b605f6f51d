"""What a screen reader is told: names, and what changed without the focus going there.

A name holds the words that are seen, so that who speaks to the computer says what he sees (W3C,
WCAG 2.1, 2.5.3 Label in Name).
"""

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget

CROSS, REMOVE = "×", "Remove"


def spoken(text: str, about: str = "", between: str = " ") -> str:
    """Return the name of a control that shows `text`, and is about something."""
    said = REMOVE if text == CROSS else text
    return between.join(part for part in (said, about) if part)


def tell_all_about(holder: QWidget, about: str) -> None:
    """Tell every control within a row which of the rows it stands in."""
    for part in holder.findChildren(QWidget):
        tell_one = getattr(part, "tell_about", None)
        if tell_one is not None:
            tell_one(about)


tell = QAccessible.updateAccessibility
"""Hands an event to whatever reads the screen; does nothing where nobody does."""


def announce(part: QWidget, text: str, *, urgent: bool = False) -> None:
    """Let a screen reader say something: after what it says now, or at once where urgent."""
    if not text:
        return
    event = QAccessibleAnnouncementEvent(part, text)
    polite = QAccessible.AnnouncementPoliteness
    event.setPoliteness(polite.Assertive if urgent else polite.Polite)
    tell(event)
