"""A bundle goes out of one journal and into another through the window."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from pitjournal.domain.cook import Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfItem
from pitjournal.files.bundle import SUFFIX, read_bundle
from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import Change
from pitjournal.ui.findings.share_panel import SharePanel
from pitjournal.ui.old_cooks.bundle_panel import THEIRS, BundlePanel
from pitjournal.ui.old_cooks.page import BringPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.ui.conftest import Opener


@pytest.fixture
def bundle(tmp_path: Path, qtbot: QtBot, open_window: Opener) -> Iterator[Path]:
    """Return a bundle that the share panel wrote, of a cook that is in the journal no more."""
    window = open_window()
    journal = window.desk.journal
    journal.do(add_comparison("Does injecting change the bite?"))
    (cook,) = journal.find(Cook)
    panel = SharePanel(window.desk, window, cook.id)
    panel.open_panel()
    panel.form.choose(SUFFIX)
    panel._rename()
    target = tmp_path / "bite.eln"
    panel.target.setText(str(target))
    qtbot.mouseClick(panel.write, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(target.exists, timeout=20_000)
    journal.undo()
    assert journal.find(Cook) == []
    yield target
    assert read_bundle(str(target)).title == "Does injecting change the bite?"


@pytest.fixture
def window(bundle: Path, qtbot: QtBot) -> Window:
    """Return the window the bundle came from."""
    del bundle
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415 - where it is asked

    found = [one for one in QApplication.topLevelWidgets() if isinstance(one, Window)]
    del qtbot
    return found[-1]


def looked_at(window: Window, qtbot: QtBot, bundle: Path) -> BundlePanel:
    window.go("old cooks")
    page = window.place
    assert isinstance(page, BringPage)
    page.open_file(bundle)

    def there() -> bool:
        return any(not panel.isHidden() for panel in window.findChildren(BundlePanel))

    qtbot.waitUntil(there, timeout=20_000)
    return next(panel for panel in window.findChildren(BundlePanel) if not panel.isHidden())


def test_that_it_is_shown_and_nothing_is_kept_yet(
    window: Window, qtbot: QtBot, bundle: Path
) -> None:
    panel = looked_at(window, qtbot, bundle)
    assert panel.keep.text() == "Keep 1 cook"
    assert window.desk.journal.find(Cook) == []
    panel.close_panel()


def test_that_keep_takes_it_over_in_one_step_and_goes_there(
    window: Window, qtbot: QtBot, bundle: Path
) -> None:
    panel = looked_at(window, qtbot, bundle)
    qtbot.mouseClick(panel.keep, Qt.MouseButton.LeftButton)
    journal = window.desk.journal
    qtbot.waitUntil(lambda: journal.cooks.count() == 1, timeout=20_000)
    assert len(journal.find(Piece)) == 9
    qtbot.waitUntil(lambda: not isinstance(window.place, BringPage))
    window.desk.bridge.undo()
    assert journal.find(Cook) == []
    assert journal.find(ShelfItem) == []


def test_that_a_second_time_nothing_is_left_to_keep_but_what_differs(
    window: Window, qtbot: QtBot, bundle: Path
) -> None:
    journal = window.desk.journal
    first = looked_at(window, qtbot, bundle)
    qtbot.mouseClick(first.keep, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: journal.cooks.count() == 1, timeout=20_000)
    again = looked_at(window, qtbot, bundle)
    assert again.keep.text() == "All of it is here already"
    assert not again.keep.isEnabled()
    again.close_panel()

    (cook,) = journal.find(Cook)
    window.desk.bridge.do(Change(Cook, cook.id, {"question": "Mine?"}, "Edit"), window)
    other = looked_at(window, qtbot, bundle)
    assert not other.keep.isEnabled()
    other.take.choose(THEIRS)
    other._say_what()
    assert other.keep.text() == "Take theirs"
    qtbot.mouseClick(other.keep, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: journal.find(Cook)[0].question == cook.question, timeout=20_000)


def test_that_what_is_no_bundle_is_said_in_one_line(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    path = tmp_path / "nothing.eln"
    path.write_bytes(b"PK no more")
    window.go("old cooks")
    page = window.place
    assert isinstance(page, BringPage)
    page.open_file(path)
    qtbot.waitUntil(lambda: "nothing.eln is damaged" in page.problem.text(), timeout=20_000)
    assert open_journal(window.desk.journal.folder, read_only=True).find(Cook) == []
