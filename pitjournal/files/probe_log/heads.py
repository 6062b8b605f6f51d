"""Column heads: names and units."""

import re
from collections.abc import Mapping, Sequence

from pitjournal.files.probe_log.cells import is_mark
from pitjournal.files.probe_log.stated import has_comment_mark, without_comment_mark
from pitjournal.files.probe_log.units import LETTER, unit_named, unit_of

_PLAIN = r"[^()\[\]{}<>]"
_BRACKETS = re.compile(rf"\s*[(\[{{<]((?:{_PLAIN}|\({_PLAIN}*\)|\[{_PLAIN}*\]){{1,40}})[)\]}}>]")
_OPENED = re.compile(r"[(\[{<][^)\]}>]*$")
_GAP = re.compile(r"[\s,_/|:.-]+")
_SIGNED = re.compile(
    rf"\s*(?:[Ââ]?[°º˚ø¡\ufffd]\s*{LETTER}|([℃℉]))\.?(?=$|\s*[(\[])", re.IGNORECASE
)
_IN = re.compile(r"(?:^|[\s,_/|:.-])(?:in|en)[\s_]*$", re.IGNORECASE)
_CAMEL = re.compile(r"(?<=[Tt]emp)(C|F)$|(?<=[Tt]emperature)(C|F)$")
_BARE = re.compile(
    r"^(.*?)([\s_,/-]+)([A-Za-z]|(?<=_)(?:[dcm][cfkCFK]|[cfkCFK]_?(?:x_?)?10{1,3}))$"
)
_SNAKE_PART = {"d": "/10", "c": "/100", "m": "/1000"}
_ENDS = " ,;:/_-"


def split_unit(head: str) -> tuple[str, str]:
    """Return a head without its unit, and the unit (or an empty text)."""
    words = head.strip()
    found = _in_brackets(words) or _behind_gap(words)
    if found is None:
        signed = next((m for p in (_SIGNED, _CAMEL) if (m := p.search(words))), None)
        if signed and unit_of(signed):
            rest = _IN.sub("", words[: signed.start()] + " ") + words[signed.end() :]
            found = rest, unit_of(signed)
    if found is not None:
        return found[0].strip(_ENDS), found[1]
    return ("", unit_named(words)) if unit_named(words) and len(words) > 1 else (words, "")


def _in_brackets(words: str) -> tuple[str, str] | None:
    """Return what a unit in brackets leaves of a head, and the unit."""
    for found in _BRACKETS.finditer(words):
        unit, rest = _unit_in(found[1])
        if not unit:
            continue
        kept = f" {found[0].strip()[0]}{rest}{found[0][-1]}" if rest else ""
        before, behind = _IN.sub("", words[: found.start()]), words[found.end() :]
        if scaled := unit_named(f"{found[1]} {behind.strip()}") if behind else "":
            return before, scaled
        return before + kept + behind, unit
    return None


def _behind_gap(words: str) -> tuple[str, str] | None:
    """Return what a unit behind a blank or a mark leaves of a head, and the unit."""
    for gap in _GAP.finditer(words):
        before, rest = words[: gap.start()], words[gap.end() :]
        if _OPENED.search(before):
            continue
        joined = bool(before) and _IN.search(before + " ") is not None
        if unit_named(rest) and (joined or not _is_letter(rest)):
            return _IN.sub("", before + " "), unit_named(rest)
        bracket = re.search(r"\s*[(\[]", rest)
        inner = rest[: bracket.start()] if bracket else ""
        if bracket and not _is_letter(inner) and unit_named(inner):
            return f"{before}{rest[bracket.start() :]}", unit_named(inner)
    return None


def _is_letter(word: str) -> bool:
    return len(word) == 1 and word.isascii()


def _unit_in(words: str) -> tuple[str, str]:
    """Return the unit that stands in brackets, and what else does."""
    if unit_named(words):
        return unit_named(words), ""
    parts = [part.strip() for part in re.split(r"[,;|]", words)]
    for place, part in enumerate(parts):
        rest = parts[:place] + parts[place + 1 :]
        sure = len(parts) == 2 and len(rest[0]) > 1 and rest[0].casefold() != "type"
        if unit_named(part) and (sure or not _is_letter(part)):
            return unit_named(part), ", ".join(rest)
    return "", words


def named_heads(heads: Mapping[int, str]) -> dict[int, tuple[str, str]]:
    """Return each column's name and unit, by the column's place.

    A single letter at the end ("pit_c", "Pit F") is a unit only where it cannot be the letter
    of a probe ("Probe A, Probe B, Probe C"): where all columns that end so agree.
    """
    found = {place: split_unit(head) for place, head in heads.items()}
    bare = {
        place: match
        for place, (name, unit) in found.items()
        if not unit and (match := _BARE.match(name))
    }
    letters = {_bare_unit(match[3]) for match in bare.values()}
    marks = {match[2].strip() for match in bare.values()}
    alone = len(bare) + sum(bool(unit) for _, unit in found.values()) == len(found)
    snake = marks == {"_"}
    if letters and "" not in letters and (snake or (alone and len(letters) == 1)):
        for place, match in bare.items():
            found[place] = (match[1].strip(_ENDS), _bare_unit(match[3]))
    return _distinct(found)


def _bare_unit(end: str) -> str:
    """Return the unit of a letter, of "dc" (tenths of °C) or of "c10" (°C times ten)."""
    if end[0] in _SNAKE_PART and len(end) == 2 and end[1].isalpha():
        return unit_named(end[1]) + _SNAKE_PART[end[0]]
    times = re.sub(r"\D", "", end)
    unit = unit_named(end[0])
    return unit + (f"/{times}" if times and unit else "")


def _distinct(found: dict[int, tuple[str, str]]) -> dict[int, tuple[str, str]]:
    """Name columns without a head by their place, and number names that come twice."""
    seen: dict[str, int] = {}
    named = {}
    for order, (place, (name, unit)) in enumerate(found.items(), 1):
        bare = name or f"Channel {order}"
        seen[bare] = seen.get(bare, 0) + 1
        named[place] = (bare if seen[bare] == 1 else f"{bare} ({seen[bare]})", unit)
    return named


def without_comment(cells: Sequence[str]) -> tuple[str, ...]:
    """Return a row's cells without a comment's mark before the first one."""
    return (without_comment_mark(cells[0]), *cells[1:]) if cells else ()


def is_comment(cells: Sequence[str]) -> bool:
    """Whether a row begins like a comment."""
    return bool(cells) and has_comment_mark(cells[0]) and not is_mark(cells[0])
