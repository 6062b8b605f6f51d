"""Each kind of file is asked for where it was used last, by one door."""

import ast
import json
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget
from pytestqt.qtbot import QtBot

import pitjournal
from pitjournal.journal.preferences import Preferences, load_preferences, save_preferences
from pitjournal.ui import files_asked
from pitjournal.ui.files_asked import FileKind

Asked = list[str]


@pytest.fixture
def documents(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Have settings and documents of one's own."""
    folder = tmp_path / "documents"
    folder.mkdir()
    monkeypatch.setenv("PITJOURNAL_SETTINGS", str(tmp_path / "settings.json"))
    monkeypatch.setattr(QStandardPaths, "writableLocation", lambda _place: str(folder))
    return folder


@pytest.fixture
def answering(monkeypatch: pytest.MonkeyPatch) -> Callable[[object], Asked]:
    """Have the dialogs answer by themselves; return a list of the places they opened at."""

    def answer(found: object) -> Asked:
        places: Asked = []

        def dialog(_over: QWidget, _title: str, start: str, *_: object) -> object:
            places.append(start)
            return found

        for name in ("getOpenFileName", "getOpenFileNames", "getSaveFileName"):
            monkeypatch.setattr(QFileDialog, name, dialog)
        monkeypatch.setattr(QFileDialog, "getExistingDirectory", dialog)
        return places

    return answer


def test_that_a_dialog_opens_where_that_kind_of_file_was(
    qtbot: QtBot, documents: Path, tmp_path: Path, answering: Callable[[object], Asked]
) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    card, camera = tmp_path / "card", tmp_path / "camera"
    for folder in (card, camera):
        folder.mkdir()
    places = answering((str(card / "log.csv"), ""))
    assert files_asked.open_file(over, FileKind.PROBES, "Probe file", "") == str(card / "log.csv")
    photos = answering(([str(camera / "1.jpg"), str(camera / "2.jpg")], ""))
    assert len(files_asked.open_files(over, FileKind.PHOTOS, "Photos", "")) == 2
    files_asked.open_files(over, FileKind.PHOTOS, "Photos", "")
    assert photos == [str(documents), str(camera)]
    places += answering((str(card / "other.csv"), ""))
    files_asked.open_file(over, FileKind.PROBES, "Probe file", "")
    assert places == [str(documents)]
    again = answering(("", ""))
    files_asked.open_file(over, FileKind.PROBES, "Probe file", "")
    files_asked.save_file(over, FileKind.CHARTS, "Chart", "chart.png")
    assert again == [str(card), str(documents / "chart.png")]


def test_that_a_folder_that_is_gone_is_that_of_documents(
    qtbot: QtBot, documents: Path, tmp_path: Path, answering: Callable[[object], Asked]
) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    gone = tmp_path / "stick"
    gone.mkdir()
    files_asked.note(FileKind.BACKUPS, gone / "a.zip")
    gone.rmdir()
    places = answering(("", ""))
    files_asked.open_file(over, FileKind.BACKUPS, "A backup", "")
    files_asked.open_file(over, FileKind.BACKUPS, "A backup", "", tmp_path)
    assert places == [str(documents), str(tmp_path)]


@pytest.mark.parametrize("held", ["", "[]", '{"folders": 3}', '{"folders": {"photos": [1]}}'])
def test_that_damaged_settings_do_no_harm(documents: Path, tmp_path: Path, held: str) -> None:
    (tmp_path / "settings.json").write_text(held, encoding="utf-8")
    assert files_asked.start_of(FileKind.PHOTOS) == documents
    files_asked.note(FileKind.PHOTOS, tmp_path / "a.jpg")
    assert files_asked.start_of(FileKind.PHOTOS) == tmp_path


def test_that_preferences_and_folders_leave_one_another_alone(
    documents: Path, tmp_path: Path
) -> None:
    save_preferences(Preferences(theme="night"))
    files_asked.note(FileKind.PAPER, documents / "card.pdf")
    save_preferences(Preferences(theme="sun"))
    assert files_asked.start_of(FileKind.PAPER) == documents
    assert load_preferences().theme == "sun"
    assert json.loads((tmp_path / "settings.json").read_text())["folders"] == {
        "paper": str(documents)
    }


def test_that_no_dialog_for_files_is_opened_elsewhere() -> None:
    found = []
    for path in sorted((Path(pitjournal.__file__).parent).rglob("*.py")):
        if path.name == "files_asked.py":
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        names = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)}
        if "QFileDialog" in names:
            found.append(path.name)
    assert not found
