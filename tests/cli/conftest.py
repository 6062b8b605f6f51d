"""A journal on disk, and a way to run commands in this process."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from pitjournal.cli import main
from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import AddCook
from tests.builders import a_cook, add_comparison


@pytest.fixture(autouse=True)
def _own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PITJOURNAL_SETTINGS", str(tmp_path / "settings.json"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return the folder of a journal with two cooks."""
    path = tmp_path / "cooks"
    journal = open_journal(path, new=True)
    journal.do(AddCook(a_cook("Ribs on a Saturday")))
    journal.do(add_comparison("Does injecting change the bite?"))
    journal.close()
    return path


Answer = Callable[..., Any]


@pytest.fixture
def answer(capsys: pytest.CaptureFixture[str]) -> Answer:
    """Return a function that runs a command and gives its JSON answer."""

    def ask(*words: object, code: int | None = 0) -> Any:
        done = main([str(word) for word in words] + ["--json"])
        assert done in {0, 1} if code is None else done == code
        return json.loads(capsys.readouterr().out)

    return ask
