"""The box that finds a thing to do, or a cook, by a few letters of its name."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtWidgets import QWidget

from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.overlay import Action, FindBox


def find_box(over: QWidget, desk: Desk, actions: Sequence[Action]) -> FindBox:
    """Return a box over a window that offers actions, each once, and goes to cooks."""

    def find(text: str) -> list[Action]:
        return [
            Action(f"Cook {line.number}: {line.title}", "", partial(desk.go, "cook", line.id))
            for line in desk.journal.cooks.page(text, 0, FindBox.MOST)
        ]

    unique = {action.text: action for action in actions}
    return FindBox(over, tuple(unique.values()), find)
