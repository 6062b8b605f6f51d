"""A question: a measure, what it is grouped by, and which pieces count."""

import difflib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from pitjournal.domain.catalogue import Catalogue, Kind, Variable
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem, parse

MOST_BY = 3


class Sign(StrEnum):
    """How a filter compares."""

    IS = "="
    IS_NOT = "!="
    LESS = "<"
    AT_MOST = "<="
    MORE = ">"
    AT_LEAST = ">="


class Part(StrEnum):
    """What of a time pieces are grouped by."""

    MONTH = "month"
    SEASON = "season"
    YEAR = "year"
    WEEKDAY = "weekday"


class Picture(StrEnum):
    """How an answer is drawn; the value is its name in a sentence."""

    GROUPS = "groups"
    SCATTER = "scatter"
    TIME = "time series"
    HEAT = "heat table"
    SPREAD = "distribution"


@dataclass(frozen=True)
class By:
    """A grouping variable: numbers by `edges` (storage unit; none: sensible ones), times by part."""

    key: str
    part: Part | None = None
    edges: tuple[float, ...] = ()


@dataclass(frozen=True)
class Where:
    """A filter: texts are compared without case, numbers in the storage unit, times by date."""

    key: str
    sign: Sign
    values: tuple[str | float, ...]


def keys_of(where: Iterable[Where]) -> tuple[str, ...]:
    """Return the variables that filters read."""
    return tuple(dict.fromkeys(one.key for one in where))


@dataclass(frozen=True)
class Question:
    """What is asked of all cooks.

    `within` compares arms only inside cooks that have both; `held` names variables whose part
    in the differences is taken out; `picture` is how the cook wants it drawn, None the likely
    way.
    """

    measure: str
    against_control: bool = field(default=False, kw_only=True)
    """Whether pieces are compared with the control of their cook: theirs minus its mean."""

    by: tuple[By, ...] = ()
    where: tuple[Where, ...] = ()
    within: bool = False
    held: tuple[str, ...] = ()
    picture: Picture | None = None

    @property
    def keys(self) -> tuple[str, ...]:
        """The variables that it reads."""
        named = (self.measure, *(by.key for by in self.by), *keys_of(self.where), *self.held)
        return tuple(dict.fromkeys(named))


def variable_named(catalogue: Catalogue, words: str) -> Variable:
    """Return the variable that words name.

    Raises
    ------
    JournalError
        If there is none; the nearest names are the hint.
    """
    found = catalogue.named(words)
    if found is not None:
        return found
    labels = {v.label.casefold(): v.label for v in catalogue.values()}
    near = difflib.get_close_matches(words.strip().casefold(), list(labels), n=3, cutoff=0.5)
    hint = f"Did you mean {' or '.join(labels[name] for name in near)}?" if near else ""
    raise JournalError(
        f"Nothing is called “{words.strip()[:40]}”.", hint or "Choose from the list."
    )


def checked(question: Question, catalogue: Catalogue) -> Question:
    """Return a question that can be asked.

    Raises
    ------
    JournalError
        If it names a variable that is not there (any more), or shows what has no mean.
    """
    measure = catalogue.get(question.measure)
    if measure is None:
        raise JournalError("The measure of this question is no longer there.", "Choose another.")
    if not measure.measure:
        raise JournalError(f"{measure.label} is no number.", "Show a number, a share or a score.")
    if len(question.by) > MOST_BY:
        raise JournalError("Too many ways to group at once.", f"At most {MOST_BY}.")
    for by in question.by:
        if by.key not in catalogue:
            raise JournalError("A variable of this question is no longer there.", "Choose another.")
    for where in question.where:
        if where.key not in catalogue:
            raise JournalError("A filter of this question is no longer there.", "Take it away.")
    for key in question.held:
        if key not in catalogue:
            raise JournalError("What this question holds is no longer there.", "Take it away.")
    return question


def by_of(catalogue: Catalogue, words: str) -> By:
    """Return a grouping by words, such as "cooker" or "month".

    Raises
    ------
    JournalError
        If nothing is called that.
    """
    wanted = words.strip().casefold()
    if wanted in set(Part):
        return By("date", Part(wanted))
    variable = variable_named(catalogue, words)
    return By(variable.key, Part.MONTH if variable.kind is Kind.TIME else None)


SIGNS = sorted(Sign, key=lambda sign: -len(sign.value))


def where_of(catalogue: Catalogue, words: str, system: UnitSystem) -> Where:
    """Return a filter by words, such as ``cut=brisket`` or ``thickness>30mm``.

    Parameters
    ----------
    catalogue
        The variables of the journal.
    words
        As they were typed.
    system
        The units of the words.

    Raises
    ------
    JournalError
        If it is not understood.
    """
    found = [(words.find(sign), sign) for sign in SIGNS if sign in words]
    if not found:
        message = f"“{words.strip()[:40]}” is no filter."
        raise JournalError(message, "Try cut=brisket or thickness>30mm.")
    place, sign = min(found, key=lambda one: (one[0], -len(one[1])))
    name, text = words[:place], words[place + len(sign) :]
    variable = variable_named(catalogue, name)
    return make_where(variable, sign, [part for part in text.split(",") if part.strip()], system)


def make_where(variable: Variable, sign: Sign, texts: Sequence[str], system: UnitSystem) -> Where:
    """Return a filter of a variable; numbers may have any unit of their dimension.

    Parameters
    ----------
    variable
        The variable meant.
    sign
        How it is compared.
    texts
        Values as they were typed.
    system
        The units of the words.

    Raises
    ------
    JournalError
        If a value is not understood.
    """
    values: list[str | float] = []
    for text in texts:
        if variable.kind is Kind.NUMBER:
            values.append(parse(text, variable.dimension, system))
        else:
            values.append(text.strip())
    if not values:
        raise JournalError(f"{variable.label}: compared with what?", "Type a value.")
    ordered = variable.kind in {Kind.NUMBER, Kind.TIME}
    if not ordered and sign not in {Sign.IS, Sign.IS_NOT}:
        raise JournalError(f"{variable.label} has no more or less.", "Use is, or is not.")
    return Where(variable.key, sign, tuple(values))


def joined(where: Sequence[Where], more: Sequence[Where]) -> tuple[Where, ...]:
    """Return filters with more of them; a new one takes the place of its like."""
    fresh = {(w.key, _side(w.sign)) for w in more}
    kept = [w for w in where if (w.key, _side(w.sign)) not in fresh]
    return (*kept, *more)


def _side(sign: Sign) -> str:
    if sign in {Sign.LESS, Sign.AT_MOST}:
        return "below"
    return "above" if sign in {Sign.MORE, Sign.AT_LEAST} else str(sign)
