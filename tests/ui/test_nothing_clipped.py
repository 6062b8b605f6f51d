"""Nothing is clipped: every state of the demonstration, in each look, window and text size.

The selection here takes a walk a look; `python -m tests.ui.clipped_states` takes all of them.
"""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QScrollArea

from pitjournal.journal.preferences import Preferences
from pitjournal.ui.look.parts.overlay import Overlay, top_panel
from pitjournal.ui.look.parts.scroll import Sideways, has_more
from pitjournal.ui.start import Shell
from tests.screens.__main__ import SIZES
from tests.ui.clipped_states import Dress, looked_through

WIDE, SMALL = SIZES
DRESSES = (
    Dress("light", SMALL, "100"),
    Dress("night", WIDE, "150"),
    Dress("sun", SMALL, "150"),
)


@pytest.fixture
def shell(qapp: QApplication) -> Iterator[Shell]:
    """A program without a journal yet."""
    made = Shell(qapp, Preferences(theme="light"))
    yield made
    if made.window is not None:
        made.window.close()
        made.window.deleteLater()
    made.application.setQuitOnLastWindowClosed(True)


def scroll_twice(panel: Overlay | None) -> list[str]:
    """Return what scrolls up and down within what does so too: two bars stand side by side."""
    areas = [] if panel is None else panel.findChildren(QScrollArea)
    moving = [area for area in areas if area.isVisible() and has_more(area)]
    return [
        one.accessibleName()
        for one in moving
        if any(other is not one and other.isAncestorOf(one) for other in moving)
    ]


@pytest.mark.parametrize("dress", DRESSES, ids=str)
def test_that_no_words_are_clipped_in_any_state(
    shell: Shell, demonstration_folder: Path, tmp_path: Path, dress: Dress
) -> None:
    folder = tmp_path / "journal"
    shutil.copytree(demonstration_folder, folder)
    wide: list[str] = []
    twice: list[str] = []

    def look_at(state: str) -> bool:
        assert shell.window is not None
        areas = shell.window.place.findChildren(QScrollArea)
        wide.extend(
            f"{state}: {area.accessibleName()}"
            for area in areas
            if area.isVisible()
            and not isinstance(area, Sideways)
            and area.horizontalScrollBar().maximum() > 0
        )
        panel = top_panel(shell.window)
        twice.extend(f"{state}: {name}" for name in scroll_twice(panel))
        return True

    found = [f"{state}: {fault}" for state, fault in looked_through(shell, folder, dress, look_at)]
    assert not found, "\n".join(found)
    assert dress.text != "100" or not wide, "\n".join(wide)
    assert dress.text != "100" or not twice, "\n".join(twice)
