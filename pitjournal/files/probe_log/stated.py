"""The unit of temperature that words beside the rows state."""

import itertools
import re
from collections.abc import Sequence

from pitjournal.files.probe_log.units import UNITS, base_unit, is_part, unit_named, unmangled

_COMMENT = re.compile(r"^\s*(?:#+|//+|;+|\*+|--+|!+|>+)\s*")
_KEY = re.compile(
    r"unit|einheit|scale|skala|[ée]chelle|escala|scala|unit[ée]|unidad|enhet|eenheid|\buom\b|temp|"
    r"grad|\bdeg|value|wert|valeur|valor|reading|lectura|mesure|medida|anzeige|display|affichage|"
    r"pantalla|measured|reported|recorded|logged|gemessen|mesur|medid",
    re.IGNORECASE,
)
_NO_KEY = re.compile(
    r"type|typ\b|tipo|couple|element|sensor|alarm|offset|calib|limit|set ?point|target|resol|aufl|"
    r"accura|genau|pr[eé]cis|drift|\bmin\b|\bmax\b|range|bereich|ambient at",
    re.IGNORECASE,
)
_MARKS = re.compile(r"[:=;,\t|]|\s{2,}")
_BETWEEN = re.compile(r"[\s:=;,|([{\"']+")
_JOINED = re.compile(r"\b(?:in|en|are|is|als|em|son|sont|sind)$", re.IGNORECASE)
_SCALE = re.compile(
    r"(?:scal(?:e|ing)|factor|faktor|facteur|multiplier|divisor|divider|teiler|values?|readings?|werte)"
    r"\b[^0-9]{0,16}?(?:0[.,\s]\s?(?P<zeros>0*)1|(?:1\s*/\s*)?1(?P<noughts>0{1,3}))\s*$",
    re.IGNORECASE,
)


def without_comment_mark(line: str) -> str:
    """Return a line without a comment's mark before it."""
    return _COMMENT.sub("", line)


def has_comment_mark(line: str) -> bool:
    """Whether a line begins like a comment."""
    return _COMMENT.match(line) is not None


def stated_unit(lines: Sequence[str]) -> str:
    """Return the unit that words beside the rows state, the last one first; or an empty text.

    Where other words say that numbers are tenths (a scale of 0.1, a divisor of 10), it is the
    unit's tenth.
    """
    unit = next((found for line in reversed(lines) if (found := _in_line(line))), "")
    if unit and not is_part(unit):
        part = next((found for line in lines if (found := _part_in(line))), "")
        unit = base_unit(unit) + part
    return unit if unit in UNITS else ""


def _in_line(line: str) -> str:
    words = unmangled(without_comment_mark(line).strip())
    if unit_named(words) and (len(words) > 3 or not words.isascii()):
        return unit_named(words)
    parts = [part.strip() for part in _MARKS.split(words) if part.strip()]
    for key, value in itertools.pairwise(parts):
        if _KEY.search(key) and not _NO_KEY.search(key) and unit_named(value):
            return unit_named(value)
    if not _KEY.search(words) or _NO_KEY.search(words):
        return ""
    return _at_end(words)


def _at_end(words: str) -> str:
    """Return the unit at the end of a sentence, or in it behind "in"."""
    for gap in _BETWEEN.finditer(words):
        before, rest = words[: gap.start()], words[gap.start() :].strip(" :=;,|.")
        if not _KEY.search(before):
            continue
        if unit_named(rest):
            return unit_named(rest)
        if _JOINED.search(before) and (found := unit_named(_first_word(rest))):
            return found
    return ""


def _first_word(text: str) -> str:
    return re.split(r"[,;.]|\s(?!\s*[cfkCFK]\b)", text, maxsplit=1)[0]


def _part_in(line: str) -> str:
    """Return the part of a degree that a line says numbers hold, as "/10"; or an empty text."""
    found = _SCALE.search(without_comment_mark(line).strip())
    if found is None or _NO_KEY.search(line):
        return ""
    noughts = found["noughts"] or found["zeros"] + "0"
    return f"/1{noughts}"
