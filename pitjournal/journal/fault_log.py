"""The log of faults: of limited size, and with nothing of the cook's in it.

A fault is told by its kind, and by the program's own lines that led to it. What the cook typed,
the names of files and folders, and the values of a database's statement stay out, so that the
log can be sent to anyone as it is.
"""

import logging
import platform
import sys
from collections.abc import Mapping
from copy import copy
from logging.handlers import RotatingFileHandler
from pathlib import Path
from types import TracebackType

from pitjournal import __version__
from pitjournal.fault_words import Clean, fault_text, private
from pitjournal.journal.preferences import preferences_path

Caught = tuple[type[BaseException], BaseException, TracebackType | None] | tuple[None, None, None]

LARGEST = 300_000
"""Bytes of the log, and of the one before it."""

LINES = 200
"""So many lines of it are copied."""


def path_of_log() -> Path:
    """Return where the log is."""
    return preferences_path().with_name("pitjournal.log")


def start_log() -> None:
    """Keep a log of faults beside the preferences, of limited size."""
    path = path_of_log()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(
            path, maxBytes=LARGEST, backupCount=1, encoding="utf-8", errors="replace"
        )
    except OSError:
        return
    handler.setFormatter(PrivateFormatter("%(asctime)s %(levelname)s %(name)s %(message)s"))
    logging.getLogger("pitjournal").addHandler(handler)


class PrivateFormatter(logging.Formatter):
    """Writes a fault without what is the cook's.

    A message's own words are the program's; whatever is put into them may be the cook's, but for
    numbers and what is `Clean` already.
    """

    def format(self, record: logging.LogRecord) -> str:
        """Return a record in words."""
        told = copy(record)
        told.exc_text = None  # as another handler may have written it
        if isinstance(record.msg, BaseException):
            told.msg, told.args = "%s", (fault_text(record.msg),)
        elif isinstance(record.args, Mapping):
            told.args = {name: _clean(value) for name, value in record.args.items()}
        elif record.args:
            told.args = tuple(map(_clean, record.args))
        return super().format(told)

    def formatStack(self, stack_info: str) -> str:  # noqa: N802 - as the base class names it
        """Return nothing: a stack's lines are full paths."""
        del stack_info
        return ""

    def formatException(self, ei: Caught) -> str:  # noqa: N802 - as the base class names it
        """Return a fault in words."""
        return fault_text(ei[1]) if ei[1] is not None else ""


def _clean(value: object) -> object:
    if isinstance(value, BaseException):
        return fault_text(value)
    if isinstance(value, bool | int | float | Clean) or value is None:
        return value
    return private(str(value))


def to_send(fault: str) -> str:
    """Return what is copied for who mends it: the program, the computer, the fault, the log."""
    about = f"Pitjournal {__version__}, Python {platform.python_version()}, {sys.platform}"
    return f"{about}\n\n{fault}\n\nThe log:\n\n{last_lines()}"


def last_lines() -> str:
    """Return the end of the log, or that there is none."""
    try:
        lines = path_of_log().read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return "There is no log."
    return "\n".join(lines[-LINES:])
