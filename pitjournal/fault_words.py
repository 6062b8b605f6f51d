"""A fault in words that anyone may read: kinds, and the program's own lines that led to it.

What the cook typed, the names of files and folders, and the values of a database's statement
stay out.
"""

import re
import traceback
from collections.abc import Iterator
from pathlib import Path

_QUOTED = re.compile(r"'[^'\n]*'|\"[^\"\n]*\"|“[^”\n]*”|`[^`\n]*`|«[^»\n]*»")
_PLACE = re.compile(r"(?:[A-Za-z]:)?[\\/][^\s:,;)\]]+(?: [^\s:,;)\]]*[\\/][^\s:,;)\]]*)*|~\S+")
_SPOKEN = re.compile(r"\[(?:SQL|parameters):.*|\(Background on this error.*", re.DOTALL)
_ROOTS = ("pitjournal", "tests", "site-packages", "lib")
_PLAIN = frozenset({"builtins", "sqlite3", "sqlalchemy", "numpy", "json", "struct", "zipfile"})
"""Packages whose faults speak of code; the words of others are left out."""

ALREADY = "told"
"""The attribute of a fault that brings another one, which is told already."""


def fault_text(error: BaseException) -> str:
    """Return a fault as it may be written down: kinds, and the program's own lines."""
    return "\n".join(_lines(error, set()))


def _lines(error: BaseException, seen: set[int]) -> Iterator[str]:
    seen.add(id(error))
    before = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    if before is not None and id(before) not in seen:
        yield from _lines(before, seen)
        yield "which led to"
    for frame in traceback.extract_tb(error.__traceback__):
        yield f"  {_module(frame.filename)}:{frame.lineno} in {frame.name}"
    kind = type(error)
    words = private(str(error)) if kind.__module__.partition(".")[0] in _PLAIN else ""
    yield f"{kind.__qualname__}: {words}" if words else kind.__qualname__
    if getattr(error, ALREADY, ""):
        yield from str(getattr(error, ALREADY)).splitlines()


def private(text: str) -> str:
    """Return a message without what stands in quotes, without places, and in one line."""
    text = _SPOKEN.sub("", text)
    text = _QUOTED.sub("(…)", text)
    return " ".join(_PLACE.sub("(…)", text).split())[:200]


def _module(path: str) -> str:
    """Return a file of code by its path within the program or a library."""
    parts = Path(path).parts
    for root in _ROOTS:
        if root in parts[:-1]:
            at = len(parts) - 1 - parts[::-1].index(root)
            return "/".join(parts[at if root in _ROOTS[:2] else at + 1 :])
    return parts[-1] if parts else ""
