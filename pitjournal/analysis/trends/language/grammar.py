"""The words of the grammar of questions."""

import re

from pitjournal.analysis.trends.language.tokens import in_quotes, words_of
from pitjournal.analysis.trends.question import Sign
from pitjournal.errors import JournalError

SIGN_WORDS = {
    Sign.IS_NOT: "is not",
    Sign.AT_LEAST: "at least",
    Sign.AT_MOST: "at most",
    Sign.MORE: "above",
    Sign.LESS: "below",
    Sign.IS: "is",
}
OTHER_SIGNS = {
    "isn't": Sign.IS_NOT,
    "are not": Sign.IS_NOT,
    "are": Sign.IS,
    "was": Sign.IS,
    "no less than": Sign.AT_LEAST,
    "no more than": Sign.AT_MOST,
    "up to": Sign.AT_MOST,
    "more than": Sign.MORE,
    "greater than": Sign.MORE,
    "higher than": Sign.MORE,
    "over": Sign.MORE,
    "less than": Sign.LESS,
    "fewer than": Sign.LESS,
    "lower than": Sign.LESS,
    "under": Sign.LESS,
}
"""What else is said for a sign."""

SIGNS = (
    {words: sign for sign, words in SIGN_WORDS.items()}
    | {str(sign): sign for sign in Sign}
    | OTHER_SIGNS
)
RANGES = ("from", "is from", "between", "is between")
WITHIN = "within the same cook"
AGAINST = "against its control"
HAS_WORDS = {Sign.IS_NOT: "has not", Sign.IS: "has"}
"""How words of titles and notes are asked for."""

CLAUSES = ("by", "where", "since", "until", "holding", WITHIN, AGAINST, "as")
STOPS = frozenset(
    {"is", "above", "below", "at", "from", "split", "<", "<=", ">", ">=", "=", "!="}
    | {words.split()[0] for words in OTHER_SIGNS}
)
"""What a misspelled name surely ends before."""

KEYWORDS = frozenset(
    {"by", "where", "since", "until", "holding", "within", "as", "and", "or", "against"}
)
MONTHS = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
]
DATE = re.compile(r"\d{4}(-(0[1-9]|1[0-2])(-(0[1-9]|[12]\d|3[01]))?)?")
MOST_OFFERED = 12
"""So many ways to go on are offered."""


class SentenceError(JournalError):
    """What is not understood: characters `start` to `end` of the sentence."""

    def __init__(self, message: str, hint: str, start: int, end: int) -> None:
        super().__init__(message, hint)
        self.start, self.end = start, end


def plain(text: str) -> str:
    """Return a text as names are compared: in one case, with single spaces."""
    return " ".join(text.casefold().split())


def date_of(text: str) -> str | None:
    """Return a date as it is compared: 2025, 2025-08, 2025-08-17; None if it is none."""
    words = plain(text)
    if DATE.fullmatch(words):
        return words
    month, _, year = words.partition(" ")
    fits = [
        n for n, name in enumerate(MONTHS, start=1) if len(month) > 2 and name.startswith(month)
    ]
    return f"{year}-{fits[0]:02d}" if fits and re.fullmatch(r"\d{4}", year) else None


def spelled(value: str) -> str:
    """Return a value as it stands in a sentence, in quotes where it must."""
    words = words_of(value)
    single = value == " ".join(word.text for word in words) and words and value
    closed = any(word.quoted or word.text == "," for word in words)
    kept = any(word.text.casefold() in KEYWORDS | {"not", "to"} for word in words)
    return value if single and not closed and not kept else in_quotes(value)
