"""How the program ended last time, where the system ended it and no line of ours could run.

The interpreter writes a note then (faulthandler). It is read and emptied at the next start, and
never leaves this computer: the log gets the kind of the fault alone.
"""

import atexit
import contextlib
import faulthandler
import logging
import re
from pathlib import Path
from typing import TextIO

from pitjournal.fault_words import private
from pitjournal.journal.preferences import preferences_path

log = logging.getLogger(__name__)

_KIND = re.compile(r"^(?:Fatal Python error|Windows fatal exception): (?!code )(.+)$", re.MULTILINE)
"""With a bare code Windows has faults noted that a library meets and goes on from."""

_CUT_OFF = ("bus error", "in page error")
_SEE = "See that your last entries are there."
_open: list[TextIO] = []
"""The note in use: it must stay open, for nothing can be opened once the system ends us."""


def path_of_note() -> Path:
    """Return where the note is."""
    return preferences_path().with_name("pitjournal.ended")


def _ended_well() -> None:
    """Take back what was noted of faults that ended nothing."""
    for note in _open:
        with contextlib.suppress(OSError, ValueError):
            note.truncate(0)


def watch_for_end() -> str:
    """Have it noted where the system ends the program.

    Returns
    -------
    str
        How it ended the program last time, in a cook's words; empty where it did not.
    """
    path = path_of_note()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        note = path.open("a+", encoding="utf-8", errors="replace")
        note.seek(0)
        found = note.read()
        note.truncate(0)
    except OSError:
        return ""
    while _open:
        _open.pop().close()
    _open.append(note)
    atexit.unregister(_ended_well)
    atexit.register(_ended_well)
    faulthandler.enable(note)
    kind = _KIND.search(found)
    if kind is None:
        return ""
    log.error("the system ended the program last time: %s", private(kind[1]))
    if any(words in kind[1].lower() for words in _CUT_OFF):
        return (
            "Last time the system ended the program: a file it had open was cut off by another "
            f"program, or its disk failed. {_SEE}"
        )
    return f"Last time the system ended the program because of a fault in it. {_SEE}"
