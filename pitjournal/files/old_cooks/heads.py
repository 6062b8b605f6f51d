"""A head's words: the unit it names, and how well it names each variable."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from pitjournal.files.old_cooks.amounts import unit_named
from pitjournal.files.old_cooks.words import head_words, in_full, mended, plain, words

SURE = 10.0
"""What a variable's whole name is worth."""

BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")

ONLY_A_UNIT = {"temperature": "set_point", "mass": "mass_on", "duration": "time_on"}
"""What a column is whose head is a unit and nothing more."""


def unit_of_head(head: str, dimension: str) -> str:
    """Return the name of the unit that a head names for a dimension; "" without one."""
    for part in [
        *BRACKETS.findall(head),
        *re.findall(r"\b(?:in|en)\s+(\S+)$", head),
        *head.split("/")[1:],
    ]:
        for piece in (part, *re.split(r"[\s,;]+", part)):
            found = unit_named(piece)
            if found and found[0] == dimension:
                return found[1]
    for word in [head, *reversed(re.split(r"[\s,;:_()\[\]]+", plain(head)))]:
        found = unit_named(word)
        if found and found[0] == dimension and not (dimension == "length" and word == "in"):
            return found[1]
    return ""


def _without_units(head: str) -> str:
    text = BRACKETS.sub(" ", head)
    kept = [
        token
        for token in head_words(text).split()
        if unit_named(token) is None or token in {"a", "am", "s"}
    ]
    return " ".join(kept)


_SMALL_WORDS = frozenset(
    {"what", "how", "i", "did", "to", "for", "at", "in", "is", "it", "a", "of"}
)
"""Words that say nothing in another order."""


@dataclass(frozen=True)
class _Written:
    """A head's words: all of them, without brackets, without units, and with slips mended."""

    exact: frozenset[str]
    whole: str
    tokens: frozenset[str]
    mended: str

    @classmethod
    def of(cls, head: str) -> "_Written":
        """Return the words of a head."""
        whole, bare = head_words(BRACKETS.sub(" ", head)), _without_units(head)
        forms = {whole, bare, head_words(head)}
        exact = frozenset(forms | {in_full(form) for form in forms})
        tokens = frozenset(in_full(head_words(head)).split())
        return cls(exact, whole, tokens, in_full(mended(bare)))


def _named_by(phrase: str, written: _Written) -> float:
    """Return how well a head names what a phrase does."""
    if phrase in written.exact:
        return SURE + 0.01 * len(phrase)
    score = 0.0
    if f" {phrase} " in f" {written.whole} " and len(phrase) > 1:
        score = 4.0 + 4.0 * len(phrase) / max(1, len(written.whole))
    elif len(phrase) >= 6 and phrase in written.whole:
        score = 3.0 + 3.0 * len(phrase) / len(written.whole)
    spelled = in_full(phrase)
    if spelled in written.exact:
        return SURE + 0.005 * len(phrase)
    if spelled == written.mended:
        return max(score, 8.5)
    parts = frozenset(spelled.split())
    if (
        len(parts) > 1 and parts <= written.tokens and not parts & _SMALL_WORDS
    ):  # the same words in another order, or more
        score = max(score, 5.0 + 4.0 * len(parts) / len(written.tokens))
    return score


@lru_cache(maxsize=4096)
def head_scores(head: str) -> Mapping[str, float]:
    """Return how well a head's words name each variable: 10 the whole head, less for a part."""
    written = _Written.of(head)
    scores: dict[str, float] = {}
    for variable, phrases in words().columns.items():
        best = max((_named_by(phrase, written) for phrase in phrases if phrase), default=0.0)
        if best:
            scores[variable] = best
    if not scores and (unit := unit_named(head)) and unit[0] in ONLY_A_UNIT:
        scores = {ONLY_A_UNIT[unit[0]]: 8.0}
    if plain(head).strip() in {"#", "no.", "nr.", "no", "nr", "n°", "nº"}:
        scores = {"number": SURE}
    if is_aside(head):
        scores = {}
    return scores


def is_named(head: str, variable: str) -> bool:
    """Whether a head is a variable's name letter by letter, with its unit or without."""
    forms = {head_words(head), head_words(BRACKETS.sub(" ", head)), _without_units(head)}
    return not forms.isdisjoint(words().columns[variable])


def is_aside(head: str) -> bool:
    """Whether a head names what is no variable of a cook, such as who ate it or a smoke ring."""
    forms = {head_words(head), head_words(BRACKETS.sub(" ", head)).strip(" %")}
    return not forms.isdisjoint(words().aside)
