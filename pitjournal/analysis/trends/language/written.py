"""A question written as the sentence that asks it."""

import math

from pitjournal.analysis.trends.language.grammar import (
    AGAINST,
    HAS_WORDS,
    SIGN_WORDS,
    WITHIN,
    spelled,
)
from pitjournal.analysis.trends.language.sentence import parse_sentence
from pitjournal.analysis.trends.language.synonyms import names_of
from pitjournal.analysis.trends.language.tokens import in_quotes
from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.domain.catalogue import Catalogue, Kind
from pitjournal.errors import JournalError
from pitjournal.units import Dimension, UnitSystem, parse, show, to_display, unit_label

_DATE_WORDS = {Sign.AT_LEAST: "since", Sign.AT_MOST: "until"}
GONE = "what is no longer there"


def write_sentence(question: Question, catalogue: Catalogue, system: UnitSystem) -> str:
    """Return a question as the sentence that asks it.

    Names stand in quotes only where the sentence would be read in another way without.

    Parameters
    ----------
    question
        What is asked.
    catalogue
        The variables of the journal.
    system
        The units of the words.
    """
    plain = _Writer(catalogue, system, quoted=False).sentence(question)
    try:
        if same(parse_sentence(plain, catalogue, system), question):
            return plain
    except JournalError:
        pass  # a name that looks like grammar
    return _Writer(catalogue, system, quoted=True).sentence(question)


def write_filter(where: Where, catalogue: Catalogue, system: UnitSystem) -> str:
    """Return a filter in words: "cut is ribs or brisket".

    Parameters
    ----------
    where
        What has to hold.
    catalogue
        The variables of the journal.
    system
        The units of the words.
    """
    return _Writer(catalogue, system, quoted=False).filter(where)


def same(one: Question, two: Question) -> bool:
    """Whether two questions ask the same; numbers may differ in their last digits."""
    texts, numbers = _taken_apart(one)
    other_texts, other_numbers = _taken_apart(two)
    return texts == other_texts and all(
        math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-12)
        for a, b in zip(numbers, other_numbers, strict=True)
    )


def _taken_apart(question: Question) -> tuple[object, list[float]]:
    """Return a question's words, with how many numbers stand where, and its numbers."""
    values = [value for where in question.where for value in where.values]
    texts = (
        question.measure,
        [(by.key, by.part, len(by.edges)) for by in question.by],
        [(w.key, w.sign, len(w.values)) for w in question.where],
        [value.casefold() if isinstance(value, str) else None for value in values],
        question.within,
        question.against_control,
        question.held,
        question.picture,
    )
    numbers = [edge for by in question.by for edge in by.edges]
    return texts, numbers + [value for value in values if not isinstance(value, str)]


_BY_SIZE = {Dimension.DURATION, Dimension.MASS, Dimension.VOLUME}
"""Their units change with the size: 1 h 40 min, 3 lb 4 oz."""


def exact(value: float, dimension: Dimension, system: UnitSystem) -> str:
    """Return a number in a cook's words that reads back as the same number.

    Parameters
    ----------
    value
        Storage unit.
    dimension
        Of the value.
    system
        The units of the words.
    """
    if dimension is Dimension.COUNT:
        return f"{value:.12g}"
    label = unit_label(dimension, system)
    shown = to_display(value, dimension, system)
    plain = [f"{shown:.{digits}f} {label}".rstrip() for digits in range(17)]
    spoken = show(value, dimension, system)
    for text in [spoken, *plain] if dimension in _BY_SIZE else plain:
        try:
            back = parse(text, dimension, system)
        except JournalError:
            continue
        if math.isclose(back, value, rel_tol=1e-10, abs_tol=1e-13):
            return text
    return f"{shown:.20f} {label}".rstrip()


class _Writer:
    """Writes the parts of a sentence, with all names in quotes or none."""

    def __init__(self, catalogue: Catalogue, system: UnitSystem, *, quoted: bool) -> None:
        self.catalogue, self.system, self.quoted = catalogue, system, quoted
        self.names = names_of(catalogue)

    def sentence(self, question: Question) -> str:
        parts = [self.name(question.measure)]
        if question.against_control:
            parts.append(AGAINST)
        if question.by:
            parts.append("by " + " and ".join(self.by(by) for by in question.by))
        dates = [w for w in question.where if w.key == "date" and w.sign in _DATE_WORDS]
        filters = self.filters([w for w in question.where if w not in dates])
        if filters:
            parts.append("where " + " and ".join(filters))
        parts += [f"{_DATE_WORDS[w.sign]} {w.values[0]}" for w in dates]
        if question.held:
            parts.append("holding " + " and ".join(self.name(key) for key in question.held))
        if question.within:
            parts.append(WITHIN)
        if question.picture is not None:
            parts.append(f"as {question.picture}")
        return " ".join(parts)

    def name(self, key: str) -> str:
        if key not in self.catalogue:
            return GONE
        label = " ".join(self.catalogue[key].label.split())
        fits = self.names.get(label.casefold()) is self.catalogue[key]
        text = label if fits else key
        return in_quotes(text) if self.quoted else text

    def by(self, by: By) -> str:
        if by.part is not None:
            return str(by.part)
        name = self.name(by.key)
        if not by.edges or by.key not in self.catalogue:
            return name
        dimension = self.catalogue[by.key].dimension
        edges = ", ".join(exact(edge, dimension, self.system) for edge in by.edges)
        return f"{name} split at {edges}"

    def filters(self, where: list[Where]) -> list[str]:
        """Return the filters in words; "at least" with "at most" of the same is a range."""
        found: list[str] = []
        at = 0
        while at < len(where):
            pair = where[at : at + 2]
            signs = [w.sign for w in pair]
            single = all(len(w.values) == 1 for w in pair) and pair[0].key == pair[-1].key
            if signs == [Sign.AT_LEAST, Sign.AT_MOST] and single:
                low, high = (self.value(w, w.values[0]) for w in pair)
                found.append(f"{self.name(pair[0].key)} from {low} to {high}")
                at += 2
            else:
                found.append(self.filter(where[at]))
                at += 1
        return found

    def filter(self, where: Where) -> str:
        values = " or ".join(self.value(where, value) for value in where.values)
        variable = self.catalogue.get(where.key)
        words = variable is not None and variable.kind is Kind.WORDS
        sign = HAS_WORDS.get(where.sign) if words else None
        return f"{self.name(where.key)} {sign or SIGN_WORDS[where.sign]} {values}"

    def value(self, where: Where, value: str | float) -> str:
        variable = self.catalogue.get(where.key)
        if variable is not None and variable.kind is Kind.NUMBER:
            return exact(float(value), variable.dimension, self.system)
        return spelled(str(value))
