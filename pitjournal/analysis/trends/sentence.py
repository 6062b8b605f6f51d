"""A question as a sentence, both ways: `yield by wrap where cut is brisket since 2025`.

    MEASURE [by VARIABLE [and VARIABLE]…] [where FILTER [and FILTER]…] [since DATE]
            [until DATE] [within the same cook]

A filter is VARIABLE is VALUE [or VALUE]…, is not VALUE, above, below, at least or at most
VALUE. Names are those of the catalogue; values with " and " or " or " in them stand in quotes.
"""

import re
from collections.abc import Sequence

from pitjournal.analysis.trends.question import (
    By,
    Part,
    Question,
    Sign,
    Where,
    by_of,
    checked,
    make_where,
    variable_named,
)
from pitjournal.domain.catalogue import Catalogue, Kind
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem, show

_WORDS = {
    Sign.IS_NOT: "is not",
    Sign.AT_LEAST: "at least",
    Sign.AT_MOST: "at most",
    Sign.MORE: "above",
    Sign.LESS: "below",
    Sign.IS: "is",
}
_QUOTED = re.compile(r'"([^"]*)"')
_WITHIN = re.compile(r"\s+within(\s+(the\s+)?same\s+cook)?\s*$", re.IGNORECASE)
_UNTIL = re.compile(r"\s+until\s+(\d{4}(?:-\d\d(?:-\d\d)?)?)\s*$", re.IGNORECASE)
_SINCE = re.compile(r"\s+since\s+(\d{4}(?:-\d\d(?:-\d\d)?)?)\s*$", re.IGNORECASE)
_HEAD = re.compile(r"\s+(by|where)\s+", re.IGNORECASE)
_AND = re.compile(r"\s+and\s+", re.IGNORECASE)
_OR = re.compile(r"\s+or\s+", re.IGNORECASE)


def parse_sentence(text: str, catalogue: Catalogue, system: UnitSystem) -> Question:
    """Return the question a sentence asks.

    Raises
    ------
    JournalError
        If it is not understood; the message names the words in question.
    """
    quotes: list[str] = []

    def hide(found: re.Match[str]) -> str:
        quotes.append(found[1])
        return f"\x00{len(quotes) - 1}\x00"

    rest = f" {' '.join(_QUOTED.sub(hide, text).split())} "
    if not rest.strip():
        raise JournalError("Ask something.", "Try: yield by wrap where cut is brisket")
    rest = rest.rstrip()
    within = bool(_WITHIN.search(rest))
    rest = _WITHIN.sub("", rest)
    dates: list[Where] = []
    for pattern, sign in ((_UNTIL, Sign.AT_MOST), (_SINCE, Sign.AT_LEAST), (_UNTIL, Sign.AT_MOST)):
        found = pattern.search(rest)
        if found:
            dates.insert(0, Where("date", sign, (found[1],)))
            rest = pattern.sub("", rest)
    parts = _HEAD.split(rest)
    measure = variable_named(catalogue, _shown(parts[0], quotes))
    by: list[By] = []
    where: list[Where] = []
    for word, content in zip(parts[1::2], parts[2::2], strict=True):
        pieces = [piece for piece in _AND.split(content) if piece.strip()]
        if word.casefold() == "by":
            by += [by_of(catalogue, _shown(piece, quotes)) for piece in pieces]
        else:
            where += [_filter(piece, quotes, catalogue, system) for piece in pieces]
    question = Question(measure.key, tuple(by), (*where, *dates), within)
    return checked(question, catalogue)


def _shown(text: str, quotes: Sequence[str]) -> str:
    return re.sub(r"\x00(\d+)\x00", lambda m: quotes[int(m[1])], text).strip()


def _filter(text: str, quotes: Sequence[str], catalogue: Catalogue, system: UnitSystem) -> Where:
    for sign, words in _WORDS.items():
        found = re.search(rf"\s+{words}\s+", text, re.IGNORECASE)
        if found is None:
            continue
        variable = variable_named(catalogue, _shown(text[: found.start()], quotes))
        values = [_shown(v, quotes) for v in _OR.split(text[found.end() :]) if v.strip()]
        return make_where(variable, sign, values, system)
    message = f"“{_shown(text, quotes)[:40]}” is no filter."
    raise JournalError(message, "Try: where cut is brisket, or: where thickness above 30 mm")


def write_sentence(question: Question, catalogue: Catalogue, system: UnitSystem) -> str:
    """Return a question as the sentence that asks it."""
    parts = [_name(catalogue, question.measure)]
    if question.by:
        parts.append("by " + " and ".join(_by(catalogue, by) for by in question.by))
    dates = [w for w in question.where if w.key == "date" and w.sign in _DATE_WORDS]
    filters = [w for w in question.where if w not in dates]
    if filters:
        words = (write_filter(where, catalogue, system) for where in filters)
        parts.append("where " + " and ".join(words))
    parts += [f"{_DATE_WORDS[w.sign]} {w.values[0]}" for w in dates]
    if question.within:
        parts.append("within the same cook")
    return " ".join(parts)


_DATE_WORDS = {Sign.AT_LEAST: "since", Sign.AT_MOST: "until"}


def _name(catalogue: Catalogue, key: str) -> str:
    return catalogue[key].label if key in catalogue else "what is no longer there"


def _by(catalogue: Catalogue, by: By) -> str:
    return str(by.part) if by.key == "date" and by.part is not None else _name(catalogue, by.key)


def write_filter(where: Where, catalogue: Catalogue, system: UnitSystem) -> str:
    """Return a filter in words: "cut is ribs or brisket"."""
    variable = catalogue[where.key]
    values = []
    for value in where.values:
        if variable.kind is Kind.NUMBER:
            values.append(show(float(value), variable.dimension, system))
        else:
            text = str(value)
            closed = re.search(r"\b(and|or|by|where|since|until|within)\b", text, re.IGNORECASE)
            values.append(f'"{text}"' if closed else text)
    return f"{variable.label} {_WORDS[where.sign]} {' or '.join(values)}"


def completions(text: str, catalogue: Catalogue) -> list[str]:
    """Return whole sentences that go on from what is typed, the likely ones first."""
    head, last = _last_word(text)
    wanted = last.casefold()
    measure = not head.strip()
    labels = [v.label for v in catalogue.values() if not measure or v.measure]
    if re.search(r"\b(by|and)\s*$", head, re.IGNORECASE):
        labels += [str(part) for part in Part]
    fitting = [label for label in labels if label.casefold().startswith(wanted)]
    return [f"{head}{label}" for label in fitting if label.casefold() != wanted][:12]


def _last_word(text: str) -> tuple[str, str]:
    found = None
    for match in re.finditer(r"\b(by|and|where)\s+", text, re.IGNORECASE):
        found = match
    return (text[: found.end()], text[found.end() :]) if found else ("", text)
