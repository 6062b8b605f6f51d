"""Each cook by keys alone and by mouse; ``python -m tests.journeys`` adds looks and sizes."""

import os
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import cast
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.journal.preferences import Preferences
from pitjournal.ui.plan import new_cook
from pitjournal.ui.season import page as season_page
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window
from tests.journeys.cooks import COOKS
from tests.journeys.hands import Hand, Keys, Mouse

CHICAGO = "America/Chicago"
EVENING = datetime(2026, 10, 31, 17, 0, tzinfo=ZoneInfo(CHICAGO)).astimezone(UTC)
"""The evening before clocks go back in Chicago (Energy Policy Act of 2005, section 110)."""

LONG = bool(os.environ.get("PITJOURNAL_LONG_JOURNEYS"))
LOOKS = ("light", "night", "sun") if LONG else ("light",)
SIZES = ((1280, 800), (1024, 700)) if LONG else ((1280, 800),)


@pytest.fixture(params=LOOKS)
def look(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(params=SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def window(
    qtbot: QtBot,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    request: pytest.FixtureRequest,
    look: str,
) -> Iterator[Window]:
    """Open an empty journal in the zone of the cooks."""
    for page in (new_cook, season_page):
        monkeypatch.setattr(page, "local_zone", lambda: CHICAGO)
    shell = Shell(cast("QApplication", QApplication.instance()), Preferences(theme=look))
    shell.open(str(tmp_path / "journal"), new=True)
    made = shell.window
    assert made is not None
    made.resize(*request.param)
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()
    made.deleteLater()


@pytest.mark.qt_log_ignore("This plugin does not support")
@pytest.mark.parametrize("way", [Keys, Mouse], ids=["keys", "mouse"])
@pytest.mark.parametrize("cook", COOKS)
def test_that_a_whole_cook_goes_without_a_stumble(
    qtbot: QtBot, window: Window, tmp_path: Path, way: type[Hand], cook: str
) -> None:
    hand = way(qtbot, window, EVENING)
    COOKS[cook](hand, tmp_path)
    assert not window._bugs
