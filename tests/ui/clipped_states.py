"""Look for words that do not fit in every state: ``python -m tests.ui.clipped_states``.

The long version of `test_nothing_clipped`: all states, looks and window sizes, as many text
sizes as are named. Each fault is printed once with the states it was seen in.
"""

import argparse
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import nullcontext
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtWidgets import QApplication

from pitjournal.journal.demonstration import make_demonstration
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.look.parts.overlay import top_panel
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import TEXT_SIZES
from pitjournal.ui.start import Shell
from tests.screens.__main__ import SIZES, THEMES
from tests.screens.longer import longer_words
from tests.ui.clipped import Fault, faults_in
from tests.ui.every_state import walk

ROUNDS = 8

BOTH = {"plain": False, "longer": True}


@dataclass(frozen=True)
class Dress:
    """What a state is looked at in: a look, a window size (px), a text size, longer words."""

    theme: str
    size: tuple[int, int]
    text: str
    longer: bool = False

    def __str__(self) -> str:
        return f"{self.theme} {self.size[0]} {self.text} %{' longer' if self.longer else ''}"


def looked_through(
    shell: Shell, folder: Path, dress: Dress, wanted: Callable[[str], bool] = bool
) -> Iterator[tuple[str, Fault]]:
    """Walk through the states in a dress, and yield what does not fit in those that are wanted."""
    look().choose(dress.theme)
    look().choose_text(dress.text)
    shell.open(str(folder))
    window = shell.window
    assert window is not None
    window.resize(*dress.size)
    with longer_words() if dress.longer else nullcontext():
        for state in walk(window):
            if wanted(state):
                for _ in range(ROUNDS):  # what is laid anew may let its holder be laid anew
                    QApplication.sendPostedEvents()
                    QApplication.processEvents()
                for fault in faults_in(top_panel(window) or window, shortened=False):
                    yield state, fault


def main() -> int:
    """Look through all of them, and print what does not fit."""
    parser = argparse.ArgumentParser(prog="python -m tests.ui.clipped_states")
    parser.add_argument("--theme", choices=THEMES, action="append")
    parser.add_argument("--text", choices=TEXT_SIZES, action="append")
    parser.add_argument("--words", choices=BOTH, action="append")
    parser.add_argument("--width", type=int, choices=[wide for wide, _ in SIZES], action="append")
    asked = parser.parse_args()
    dresses = [
        Dress(theme, size, text, BOTH[words])
        for words in asked.words or BOTH
        for text in asked.text or ("100", "150")
        for theme in asked.theme or THEMES
        for size in SIZES
        if size[0] in (asked.width or [wide for wide, _ in SIZES])
    ]
    application = QApplication(["pitjournal"])
    found: dict[Fault, list[str]] = {}
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        made = Path(name) / "made"
        make_demonstration(made, now=datetime.now(UTC)).close()
        shell = Shell(application, Preferences(theme="light"))
        sys.excepthook = sys.__excepthook__
        for place, dress in enumerate(dresses):
            folder = Path(name) / f"journal-{place}"
            shutil.copytree(made, folder)
            for state, fault in looked_through(shell, folder, dress):
                found.setdefault(fault, []).append(f"{state} ({dress})")
            print(dress, len(found), file=sys.stderr, flush=True)
        assert shell.window is not None
        shell.window.close()
    for fault, seen in found.items():
        print(f"{fault}\n    {len(seen)} times: {seen[0]}")
    print(f"{len(found)} faults in {len(dresses)} dresses of every state")
    return 1 if found else 0


if __name__ == "__main__":
    raise SystemExit(main())
