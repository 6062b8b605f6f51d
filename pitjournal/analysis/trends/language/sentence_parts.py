"""What each word of a sentence is: one that holds it together, a name, or what is asked for."""

from collections.abc import Iterator
from enum import StrEnum

from pitjournal.analysis.trends.language.grammar import HAS_WORDS, KEYWORDS, RANGES, SIGNS
from pitjournal.analysis.trends.language.tokens import words_of


class Sort(StrEnum):
    """What a word is."""

    GLUE = "glue"
    """By, where, and: words of the grammar."""
    NAME = "name"
    """Of a filter: the variable and its sign."""
    ASKED = "asked"
    """What is shown, grouped by, and compared with."""


SIGN_PARTS = frozenset(
    part for words in (*SIGNS, *RANGES, *HAS_WORDS.values()) for part in words.split()
)
"""Words that signs are made of."""

BESIDE = frozenset({"split", "at", "the", "same", "cook", "its", "control"})
"""Words of longer clauses."""


def parts_of(text: str) -> Iterator[tuple[int, int, Sort]]:
    """Yield where each word of a sentence starts and ends, and what it is.

    It looks at words only, so that half a sentence has parts too.
    """
    clause, signed = "", False
    for word in words_of(text):
        plain = "" if word.quoted else word.text.casefold()
        if plain in KEYWORDS or plain == ",":
            if plain not in {"and", "or", ","}:
                clause = plain
            if plain not in {"or", ","}:
                signed = False
            yield word.start, word.end, Sort.GLUE
        elif clause in {"within", "against"} or (clause == "by" and plain in BESIDE):
            yield word.start, word.end, Sort.GLUE
        elif clause != "where" or (signed and plain not in SIGN_PARTS):
            yield word.start, word.end, Sort.ASKED
        else:
            signed = signed or plain in SIGN_PARTS
            yield word.start, word.end, Sort.NAME
