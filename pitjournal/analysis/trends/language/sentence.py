"""A question as a sentence: `yield by wrap where cut is brisket since 2025`.

    MEASURE [by VARIABLE [split at NUMBER, …] [and VARIABLE]…] [where FILTER [and FILTER]…]
            [since DATE] [until DATE] [holding VARIABLE [and VARIABLE]…]
            [within the same cook] [against its control] [as PICTURE]

A filter is VARIABLE is VALUE [or VALUE]…, is not VALUE, above, below, at least or at most
VALUE, from VALUE to VALUE; text has WORDS; a yes/no variable alone, or after `not`. Names are
those of the catalogue, or other words of the trade for them; names and values with words of the
grammar in them may stand in quotes.
"""

import contextlib

from pitjournal.analysis.trends.language.grammar import (
    MOST_OFFERED,
    SentenceError,
)
from pitjournal.analysis.trends.language.reader import Reader, Values, no_values
from pitjournal.analysis.trends.question import (
    Question,
    checked,
)
from pitjournal.domain.catalogue import Catalogue
from pitjournal.errors import JournalError
from pitjournal.units import UnitSystem


def parse_sentence(
    text: str, catalogue: Catalogue, system: UnitSystem, values: Values = no_values
) -> Question:
    """Return the question a sentence asks.

    Parameters
    ----------
    text
        As it was typed.
    catalogue
        The variables of the journal.
    system
        The units of the words.
    values
        Gives the texts a variable has.

    Raises
    ------
    SentenceError
        If it is not understood; it says where, and names the words in question.
    """
    question = Reader(text, catalogue, system, values).question()
    try:
        return checked(question, catalogue)
    except JournalError as error:
        raise SentenceError(error.message, error.hint, 0, len(text)) from error


def completions(
    text: str, catalogue: Catalogue, system: UnitSystem, values: Values = no_values
) -> list[str]:
    """Return whole sentences that go on from what is typed.

    Parameters
    ----------
    text
        As it was typed.
    catalogue
        The variables of the journal.
    system
        The units of the words.
    values
        Gives the texts a variable has.
    """
    reader = Reader(text, catalogue, system, values)
    with contextlib.suppress(JournalError):  # what is not understood yet may be gone on with
        reader.question()
    found: dict[str, None] = {}
    for start, options, others in reader.offered:
        rest = text[start:].casefold()
        for option in options:
            if option.casefold().startswith(rest) and option.casefold() != rest:
                found.setdefault(f"{text[:start]}{option}")
        if rest:
            for words, option in others.items():
                if words.startswith(rest):
                    found.setdefault(f"{text[:start]}{option}")
    return list(found)[:MOST_OFFERED]
