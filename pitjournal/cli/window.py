"""`pitjournal` without a command: open the window."""

import os
import sys
from pathlib import Path

import pitjournal
from pitjournal.cli.commands import COMMANDS
from pitjournal.cli.output import problem
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.errors import JournalError


def add_arguments(parser: Parser) -> None:
    """Say what the program takes."""
    parser.add_argument(
        "--version", action="version", version=f"pitjournal {pitjournal.__version__}"
    )
    parser.add_argument("journal", metavar="JOURNAL", nargs="?", type=Path)


def run(arguments: Arguments) -> int:
    """Open the window and wait until it is closed."""
    folder: Path | None = arguments.journal
    if folder is not None and not folder.exists():
        import difflib

        meant = difflib.get_close_matches(str(folder), COMMANDS, n=1)
        if meant:
            raise JournalError(f"There is no command “{folder}”.", f"Try: pitjournal {meant[0]}")
    return open_window(folder)


def open_window(folder: Path | None, *, demonstration: bool = False) -> int:
    """Open the window on a journal; with none, on the one that was open last.

    Raises
    ------
    JournalError
        If there is no display to open it on.
    """
    need_display()
    from pitjournal.ui.collecting import collect_later

    collect_later()
    from pitjournal.ui.start import run as start

    return start(folder, demonstration, problem)


def need_display() -> None:
    """Refuse where no window can open; Qt itself would end the program without a word."""
    named = any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))
    if sys.platform.startswith("linux") and not named:
        message = "There is no display here, so no window can open."
        raise JournalError(message, "The commands work without: pitjournal --help")
