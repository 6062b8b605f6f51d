"""Find the command that was asked for, run it, and turn problems into one line."""

import contextlib
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Protocol

from pitjournal.cli.commands import COMMANDS
from pitjournal.cli.output import be_printable, problem
from pitjournal.cli.parser import HELP, Arguments, Parser, manual_page
from pitjournal.errors import JournalError

DONE, NO, FAILED = 0, 1, 2
"""Exit codes: done; the answer is "no"; the request could not be carried out."""

WINDOW = "window"


class CommandModule(Protocol):
    """What the module of a command has."""

    def add_arguments(self, parser: Parser) -> None:
        """Say what the command takes."""

    def run(self, arguments: Arguments) -> int:
        """Carry it out and return the exit code."""


def command_module(name: str) -> CommandModule:
    """Return the module that carries out a command; "" is the window."""
    module: CommandModule = import_module(f"pitjournal.cli.{COMMANDS.get(name, WINDOW)}")
    return module


def parser_of(name: str) -> Parser:
    """Return the parser of a command; "" is the program without one."""
    parser = Parser(name)
    command_module(name).add_arguments(parser)
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Carry out what the words ask for.

    Parameters
    ----------
    argv
        The words after the program's name; None takes those of the process.

    Returns
    -------
    int
        0 done, 1 the answer is "no", 2 the request could not be carried out.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    be_printable()
    try:
        return _carry_out(words)
    except JournalError as error:
        from pitjournal.store.faults import without_window  # loads the database's library

        problem(without_window(error))
        return FAILED
    except SystemExit as stop:  # the version was shown
        return stop.code if isinstance(stop.code, int) else DONE
    except KeyboardInterrupt:
        problem(JournalError("Stopped."))
        return FAILED
    except BrokenPipeError:
        # The reader has what it wanted. Point the stream elsewhere, so that flushing it when
        # the process ends is quiet too.
        with contextlib.suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except OSError as error:  # a disk that refuses where nothing above has better words
        from pitjournal.store.faults import disk_words

        why, hint = disk_words(error)
        named = f"{error.filename}: " if error.filename else ""
        problem(JournalError(f"{named}{why}", hint))
        return FAILED


def _carry_out(words: list[str]) -> int:
    name = words.pop(0) if words and words[0] in COMMANDS else ""
    if any(word in HELP for word in words):
        sys.stdout.write(manual_page(name))
        sys.stdout.flush()
        return DONE
    arguments = parser_of(name).parse_args(words, namespace=Arguments())
    code = command_module(name).run(arguments)
    sys.stdout.flush()
    return code
