"""What can be done everywhere, with its keys, and the box that finds it or a cook by name."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtWidgets import QWidget

from pitjournal.ui import choosing
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.window_panels import FindBox


def find_box(over: QWidget, desk: Desk, actions: Sequence[Action]) -> FindBox:
    """Return a box over a window that offers actions, each once, and goes to cooks."""

    def find(text: str) -> list[Action]:
        return [
            Action(f"Cook {line.number}: {line.title}", "", partial(desk.go, "cook", line.id))
            for line in desk.journal.cooks.page(text, 0, FindBox.MOST)
        ]

    unique = {action.text: action for action in actions}
    return FindBox(over, tuple(unique.values()), find)


def everywhere(
    desk: Desk,
    *,
    find: Callable[[], object],
    keys: Callable[[], object],
    running: Callable[[], object],
    tables: Callable[[], object],
) -> Sequence[Action]:
    """Return what can be done on every page; of what is the window's own it is handed the way."""

    def to(place: str) -> Callable[[], None]:
        return partial(desk.go, place)

    return (
        Action("Find and do", "Ctrl+K", find),
        Action("Keys of this page", "F1", keys),
        Action("Go to Cooks", "Ctrl+1", to("cooks")),
        Action("Go to Season", "Ctrl+2", to("season")),
        Action("Go to Trends", "Ctrl+3", to("trends")),
        Action("Go to Shelf", "Ctrl+4", to("shelf")),
        Action("Go to the running cook", "Ctrl+0", running),
        Action("New cook", "Ctrl+N", to("new cook")),
        Action("Undo", "Ctrl+Z", desk.bridge.undo),
        Action("Do again", "Ctrl+Shift+Z", desk.bridge.redo),
        Action("Next look: light, night, sun", "Ctrl+L", partial(choosing.next_look, desk)),
        Action("Larger text", "Ctrl++", partial(choosing.text_size, desk, 1)),
        Action("Smaller text", "Ctrl+-", partial(choosing.text_size, desk, -1)),
        Action("Other units", "Ctrl+U", partial(choosing.other_units, desk)),
        Action("Charts of this page as tables", "Ctrl+T", tables),
        Action("Settings", "Ctrl+,", to("settings")),
        Action("Open or make a journal", "Ctrl+O", to("journals")),
    )


def unnamed(desk: Desk) -> Sequence[Action]:
    """Return what has a key and no line among them: + without Shift, and the parts."""
    return (
        Action("", "Ctrl+=", partial(choosing.text_size, desk, 1)),
        Action("", "Ctrl+Shift+F12", partial(desk.go, "parts")),
    )
