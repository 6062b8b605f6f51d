"""The one door to the system's dialogs for files: each kind opens where it was used last."""

import contextlib
from enum import StrEnum
from pathlib import Path

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

from pitjournal.journal.preferences import last_folder, note_folder


class FileKind(StrEnum):
    """What is asked for; each has a folder of its own."""

    PROBES = "probe files"
    PHOTOS = "photos"
    PICTURES = "folder of pictures"
    OLD_COOKS = "old cooks"
    JOURNALS = "journals"
    BACKUPS = "backups"
    SUMMARIES = "summaries"
    ANSWERS = "answers"
    CHARTS = "charts"
    PAPER = "paper"


def start_of(kind: FileKind, first: Path | None = None) -> Path:
    """Return the folder last used for a kind.

    Where that is gone or none is known it is `first`, else that of documents.
    """
    for folder in (Path(last_folder(kind)), *([first] if first else [])):
        with contextlib.suppress(OSError, ValueError):
            if folder.is_absolute() and folder.is_dir():
                return folder
    documents = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
    there = Path(documents) if documents else Path.home()
    return there if there.is_dir() else Path.home()


def proposed(kind: FileKind, name: str) -> str:
    """Return where a file of a kind would be written: in its folder, under a name."""
    return str(start_of(kind) / name)


def note(kind: FileKind, path: Path | str) -> None:
    """Remember where a file of a kind was."""
    note_folder(kind, str(Path(path).absolute().parent))


def open_file(
    over: QWidget, kind: FileKind, title: str, filters: str, first: Path | None = None
) -> str:
    """Ask for a file that is there; an empty text where none was chosen."""
    name, _ = QFileDialog.getOpenFileName(over, title, str(start_of(kind, first)), filters)
    return _noted(kind, name)


def open_files(over: QWidget, kind: FileKind, title: str, filters: str) -> list[str]:
    """Ask for files that are there."""
    names, _ = QFileDialog.getOpenFileNames(over, title, str(start_of(kind)), filters)
    if names:
        note(kind, names[0])
    return list(dict.fromkeys(names))  # a name that is typed and marked comes twice


def save_file(
    over: QWidget, kind: FileKind, title: str, name: str, filters: str = ""
) -> tuple[str, str]:
    """Ask where to write a file; return its path, or an empty text, and the filter chosen.

    A bare name is proposed in the folder of its kind.
    """
    start = name if Path(name).is_absolute() else proposed(kind, name)
    chosen, which = QFileDialog.getSaveFileName(over, title, start, filters)
    return _noted(kind, chosen), which


def open_folder(over: QWidget, kind: FileKind, title: str) -> str:
    """Ask for a folder; the next time the one it lies in is shown."""
    return _noted(kind, QFileDialog.getExistingDirectory(over, title, str(start_of(kind))))


def _noted(kind: FileKind, name: str) -> str:
    if name:
        note(kind, name)
    return name
