"""What this computer's cook prefers is kept, and a broken file of it harms nobody."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from pitjournal.journal.preferences import (
    Preferences,
    last_folder,
    load_preferences,
    note_folder,
    preferences_path,
    save_preferences,
)


@pytest.fixture(autouse=True)
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "none yet" / "settings.json"
    monkeypatch.setenv("PITJOURNAL_SETTINGS", str(path))
    return path


def test_that_what_was_preferred_is_there_again(kept: Path) -> None:
    assert load_preferences() == Preferences()
    chosen = Preferences(theme="sun", units="metric", recent=("/a", "/b"), text="150")
    save_preferences(chosen)
    assert load_preferences() == chosen
    assert preferences_path() == kept
    assert [path.name for path in kept.parent.iterdir()] == ["settings.json"]


def test_that_folders_are_kept_a_kind_beside_the_preferences() -> None:
    assert last_folder("photos") == ""
    note_folder("photos", "/pictures")
    note_folder("backups", "/disk")
    save_preferences(replace(load_preferences(), theme="night"))
    assert (last_folder("photos"), last_folder("backups")) == ("/pictures", "/disk")
    assert load_preferences().theme == "night"


def test_that_what_a_newer_version_wrote_stays(kept: Path) -> None:
    kept.parent.mkdir()
    kept.write_text(json.dumps({"theme": "sun", "scent": "hickory", "recent": ["/a", 3]}))
    assert load_preferences() == Preferences(theme="sun", recent=("/a",))
    save_preferences(Preferences(theme="light"))
    assert json.loads(kept.read_text())["scent"] == "hickory"


@pytest.mark.parametrize(
    "text", ["", "{", "[1, 2]", '{"theme": 3, "recent": "no list", "folders": 7}', "[" * 100_000]
)
def test_that_a_broken_file_gives_what_is_usual(kept: Path, text: str) -> None:
    kept.parent.mkdir()
    kept.write_text(text)
    assert load_preferences() == Preferences()
    assert last_folder("photos") == ""
    note_folder("photos", "/pictures")
    assert last_folder("photos") == "/pictures"


def test_that_a_place_that_cannot_be_written_is_no_harm(kept: Path) -> None:
    kept.parent.write_text("a file where the folder would be")
    save_preferences(Preferences(theme="sun"))
    note_folder("photos", "/pictures")
    assert load_preferences() == Preferences()
