"""Read a command's words; show its page of the manual."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from pitjournal.errors import JournalError
from pitjournal.resource_files import resource_path
from pitjournal.units.first_letter import capital

if TYPE_CHECKING:
    from pitjournal.units import UnitSystem


class Arguments(argparse.Namespace):
    """What was given; each command reads the words it asked for."""

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - as argparse has it
        raise AttributeError(name)


HELP = ("-h", "--help")
"""What shows a command's page; looked for before anything of the command is loaded."""


class Parser(argparse.ArgumentParser):
    """A parser that refuses in one line with a hint, and whose help is a page.

    Parameters
    ----------
    command
        The command's word; "" is the program without one.
    """

    def __init__(self, command: str) -> None:
        super().__init__(prog=f"pitjournal {command}".strip(), add_help=False, allow_abbrev=False)
        self.command = command

    def error(self, message: str) -> NoReturn:
        """Refuse."""
        raise JournalError(f"{capital(message)}.", f"Try: {self.prog} --help")

    def add_journal(self) -> None:
        """Take the journal's folder."""
        self.add_argument("journal", metavar="JOURNAL", type=Path)

    def add_json(self) -> None:
        """Offer the answer as JSON."""
        self.add_argument("--json", action="store_true")

    def add_units(self) -> None:
        """Offer the units of the words; without, those of the window's switch."""
        self.add_argument("--units", choices=("us", "metric"))


def manual_page(command: str) -> str:
    """Return the page of a command; "" is the program's own."""
    return resource_path(f"manual/{command or 'pitjournal'}.txt").read_text(encoding="utf-8")


def system_of(arguments: Arguments) -> "UnitSystem":
    """Return the units to answer in: as asked for, else by the window's switch."""
    from pitjournal.journal.preferences import load_preferences
    from pitjournal.units import UnitSystem

    wanted = arguments.units or load_preferences().units
    return UnitSystem.METRIC if wanted == "metric" else UnitSystem.US
