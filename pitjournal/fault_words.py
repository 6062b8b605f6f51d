"""A fault in words that anyone may read: kinds, and the program's own lines that led to it.

What the cook typed, the names of files and folders, and the values of a database's statement
stay out: of a fault's message only words are kept with which languages and libraries speak of
code, so that a word of a cook's has no way in, in quotes or not.
"""

import errno
import re
import sqlite3
import sysconfig
import traceback
from collections.abc import Iterator
from functools import cache
from pathlib import Path

_QUOTED = re.compile(r"'[^'\n]*'|\"[^\"\n]*\"|“[^”\n]*”|`[^`\n]*`|«[^»\n]*»")
_PLACE = re.compile(r"(?:[A-Za-z]:)?[\\/][^\s:,;)\]]+(?: [^\s:,;)\]]*[\\/][^\s:,;)\]]*)*|~\S+")
_SPOKEN = re.compile(r"\[(?:SQL|parameters):.*|\(Background on this error.*", re.DOTALL)
_WORD = re.compile(r"[^\W_]+(?:[\w'’.+-]*\w)?", re.UNICODE)
_SIGNS = re.compile(r"[^\w\s()…:,.;=<>\[\]+*/-]+")
_SAME = re.compile(r"…(?:[\s,.:;=-]*…)+")
_LONGEST = 200

_KNOWN = frozenset(
    """
    a an and are argument arguments as assignment at attribute attributes axis back base be been
    before beyond bits both broadcast buffer byte bytes but by c call callable called can cannot
    capacity cell change changed character check class closed code codec column columns compare
    comparison connection constraint context convert copy could cursor cycle data database decode
    deleted delimiter descriptor device dict dictionary did dimension dimensions directory disk
    division document does down duplicate during element empty encode encoded end engine error
    errno event exceeded exceptions exist exists expected extra failed fault fatal field file
    files float for foreign format found from full function generator get given global got had has
    have header id ids if import in incomplete incorrect index indexed infinity input instance int
    integer internal interpreter into invalid io is isn't it item items iterable iteration iterator
    json key keys keyword length line lines list literal local locked long loop malformed many
    mapping match matched maximum mean memory method missing mismatch mode module more most must
    name named names nan negative no non none not null number numbers object objects of off ok
    on one only open operand operands operation operator or order ordinal out outer output outside
    overflow page path permission pickle pipe pointer pop position positional positive present
    property query range read readable reached recursion refused register reference referenced
    request required resource return returned row rows run runs runtime schema segmentation
    sequence set shape shapes short should signal signature size slice small statement stop stream
    string strings struct subscriptable such support supported surrogate syntax system table tables
    take takes text than that the there thread time timed timeout timezone to together too
    transaction trailing truncated tuple type types unable undefined unexpected unhashable unicode
    unique unit unknown unpack unpacked unrecognized unsupported until unused up use used utf valid
    value values variable version view was were when where while whole width with within without
    word write writable yet zero
    """.split()  # noqa: SIM905 - 400 words are not read one a line
)
"""Words in which Python, the database and libraries say what is wrong with code or data."""


class Clean(str):
    """Words in which nothing is the cook's."""

    __slots__ = ()


ALREADY = "told"
"""The attribute of a fault that brings another one, which is told already, as `Clean` words."""


def fault_text(error: BaseException) -> Clean:
    """Return a fault as it may be written down: kinds, and the program's own lines."""
    return Clean("\n".join(_lines(error, set())))


def _lines(error: BaseException, seen: set[int]) -> Iterator[str]:
    seen.add(id(error))
    before = error.__cause__ or (None if error.__suppress_context__ else error.__context__)
    if before is not None and id(before) not in seen:
        yield from _lines(before, seen)
        yield "which led to"
    for frame in traceback.extract_tb(error.__traceback__):
        yield f"  {_module(frame.filename)}:{frame.lineno} in {frame.name}"
    words = private(_message(error))
    kind = f"{type(error).__qualname__}{_number(error)}"
    yield f"{kind}: {words}" if words else kind
    if getattr(error, ALREADY, ""):
        yield from str(getattr(error, ALREADY)).splitlines()


def _message(error: BaseException) -> str:
    try:
        return str(error)
    except Exception:  # noqa: BLE001 - of a library's own, and we are telling a fault already
        return ""


def _number(error: BaseException) -> str:
    """Return the name of the number that a system or a database gave, where it gave one."""
    name = None
    if isinstance(error, OSError) and error.errno is not None:
        name = errno.errorcode.get(error.errno)
    if isinstance(error, sqlite3.Error):
        name = getattr(error, "sqlite_errorname", None)
    return f" ({name})" if name else ""


def private(text: str) -> Clean:
    """Return a message with the words of code alone, in one line; "…" stands for all others."""
    text = _SPOKEN.sub("", text[: 20 * _LONGEST])
    text = _PLACE.sub("(…)", _QUOTED.sub("(…)", text))
    text = _SIGNS.sub(" ", _WORD.sub(_word, text.replace("_", " ")))
    text = " ".join(_SAME.sub("…", " ".join(text.split())).split())[:_LONGEST]
    return Clean(text if any(letter.isalpha() for letter in text) else "")


def _word(found: re.Match[str]) -> str:
    return found[0] if found[0].casefold() in _KNOWN else "…"


def _module(path: str) -> str:
    """Return a file of code by its path within the program or a library; else its name alone."""
    found = Path(path)
    if "site-packages" in found.parts:
        at = len(found.parts) - 1 - found.parts[::-1].index("site-packages")
        return "/".join(found.parts[at + 1 :])
    for root in _roots():
        if found.is_relative_to(root):
            return found.relative_to(root).as_posix()
    return found.name if found.suffix == ".py" or path.startswith("<") else "…"


@cache
def _roots() -> tuple[Path, ...]:
    """Return where the program and Python's own library are."""
    import pitjournal  # noqa: PLC0415 - its place, and it may import us

    return (Path(pitjournal.__file__).parents[1], Path(sysconfig.get_paths()["stdlib"]))
