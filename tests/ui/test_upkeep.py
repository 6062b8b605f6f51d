"""What changed is worked out by itself, while nobody asks."""

import pytest
from pytestqt.qtbot import QtBot

from pitjournal.domain.piece import Piece
from pitjournal.journal.commands.records import Change
from pitjournal.ui import upkeep
from tests.builders import add_comparison
from tests.ui.conftest import Opener


def test_that_cooks_are_worked_out_by_themselves(
    qtbot: QtBot, open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(upkeep, "REST", 50)
    monkeypatch.setattr(upkeep, "HELPING", 2)
    desk = open_window().desk
    values = desk.journal.worked_out
    for number in range(5):
        desk.bridge.do(add_comparison(f"Cook {number}"))
    qtbot.waitUntil(lambda: not values.stale(), timeout=30_000)
    piece = desk.journal.find(Piece)[0]
    desk.bridge.do(Change(Piece, piece.id, {"cut": "brisket"}))
    qtbot.waitUntil(lambda: not values.stale(), timeout=30_000)
    assert values.agree()
