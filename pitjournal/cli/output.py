"""Put text on the standard streams: aligned, printable in any encoding, JSON."""

import codecs
import json
import sys
import unicodedata
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from pitjournal.errors import JournalError

if TYPE_CHECKING:
    from pitjournal.journal import Journal

_PLAIN = {
    "−": "-",
    "–": "-",
    "—": "-",
    "×": "x",
    "÷": "/",
    "±": "+/-",
    "°": "",
    "“": '"',
    "”": '"',
    "’": "'",
    "…": "...",
    "·": "-",
    "→": "->",
    "≥": ">=",
    "≤": "<=",
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "\N{NO-BREAK SPACE}": " ",
    "\N{NARROW NO-BREAK SPACE}": " ",
}
"""What to write where the terminal's encoding lacks a sign of the trade."""


def _plainer(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    missing = error.object[error.start : error.end]
    return "".join(_PLAIN.get(sign, "?") for sign in missing), error.end


codecs.register_error("plainer", _plainer)


def be_printable() -> None:
    """Let no sign that a terminal lacks end the program."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="plainer")


def clean(text: str) -> str:
    """Return text on one line, without the signs that would steer a terminal."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


def line(text: str = "") -> None:
    """Write a line to the standard output."""
    sys.stdout.write(text + "\n")


def problem(error: JournalError) -> None:
    """Write a problem and its hint as one line to the standard error."""
    sys.stderr.write(f"pitjournal: {clean(str(error))}\n")


def left_out(journal: "Journal") -> None:
    """Say on the standard error how many cooks cannot be read, and how many records of others."""
    from pitjournal.journal.queries.left_out import HOW, left_out_words

    said = left_out_words(journal)
    if said:
        problem(JournalError(said, HOW))


def as_json(value: object) -> None:
    """Write a value as JSON; where the stream is not UTF-8, with everything else escaped."""
    ascii_only = codecs.lookup(sys.stdout.encoding or "ascii").name != "utf-8"
    line(json.dumps(value, ensure_ascii=ascii_only, indent=2, allow_nan=False))


def width(text: str) -> int:
    """Return how many columns of a terminal the text takes."""
    return sum(
        0 if unicodedata.combining(sign) else 1 + (unicodedata.east_asian_width(sign) in "WF")
        for sign in text
    )


def table(
    heads: Sequence[str],
    rows: Iterable[Sequence[str]],
    *,
    right: Iterable[int] = (),
    indent: str = "",
) -> None:
    """Write rows in aligned columns.

    Parameters
    ----------
    heads
        What stands over the columns.
    rows
        The cells.
    right
        Columns of numbers, set to the right.
    indent
        What stands before each line.
    """
    cells = [list(heads), *([clean(cell) for cell in row] for row in rows)]
    widths = [max(width(row[column]) for row in cells) for column in range(len(heads))]
    numbers = set(right)
    for row in cells:
        parts = []
        for column, (cell, wide) in enumerate(zip(row, widths, strict=True)):
            gap = " " * (wide - width(cell))
            parts.append(gap + cell if column in numbers else cell + gap)
        line((indent + "  ".join(parts)).rstrip())


def heading(text: str) -> None:
    """Write a heading with an empty line before it."""
    line(f"\n{text}")
