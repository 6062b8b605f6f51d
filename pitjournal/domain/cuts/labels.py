"""What the label of bought meat says was added to it: `resources/cuts/labels.json`.

9 CFR 317.2(e)(2): raw meat that contains added solution says so with its share, as in "contains
15% added solution of water and salt". Such meat is injected or tumbled as a rule. Water that meat
took up while it was chilled ("retained water", 9 CFR 441.10) is no solution.
"""

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from pitjournal.domain.cuts.words import plain
from pitjournal.resource_files import resource_path

_CLAUSE = re.compile(r"[;!?\n]|:(?!\s*\d)|\.(?!\d)|,(?!\d)")
_AT_MOST = re.compile(
    r"\b(?:no(?:t)? (?:more|over|greater) than|not (?:to )?exceed(?:ing)?|nicht mehr als|no mas de)\b"
)
_TOKENS = re.compile(
    r"\d+(?:[.,]\d+)?\s*(?:%|percent\b|per cent\b|prozent\b|por ciento\b|pct\b)|[a-z]+"
)
WATER_ADDED = ("water", "added")
"""How a ham says it, without a share (9 CFR 319.104)."""

NEAR = 6
"""Words between a share or a label's word and the liquid, at most."""


@dataclass(frozen=True)
class _Vocabulary:
    """The words of the file, in small letters without accents.

    Those of four letters and more may begin a longer word.

    Attributes
    ----------
    solution
        What meat is injected with by any label that names it.
    liquid
        What a label may name instead, where it says how much.
    says
        Words of labels: "contains", "added", "up to".
    soaked
        What says that meat lay in it: it is a bath then, unless the label says it holds it.
    elsewhere
        What says that it is not in the meat at all: sprayed, or in a pan.
    kept
        Water that was taken up in chilling.
    denied
        Words that deny what follows.
    """

    solution: tuple[str, ...]
    liquid: tuple[str, ...]
    says: tuple[str, ...]
    soaked: tuple[str, ...]
    elsewhere: tuple[str, ...]
    kept: tuple[str, ...]
    denied: tuple[str, ...]


@cache
def _vocabulary() -> _Vocabulary:
    kept: dict[str, Any] = json.loads(resource_path("cuts/labels.json").read_text("utf-8"))
    return _Vocabulary(**{name: tuple(kept[name]) for name in _Vocabulary.__annotations__})


def solution_in(text: str) -> str:
    """Return the words by which a label says that a solution was added; empty where none do.

    Parameters
    ----------
    text
        In any case, English, German or Spanish.
    """
    for clause in _CLAUSE.split(_AT_MOST.sub("up to", plain(text))):
        if found := _of_clause(_TOKENS.findall(clause)):
            return found
    return ""


def _is(word: str, listed: Sequence[str]) -> bool:
    return any(word == one or (len(one) > 3 and word.startswith(one)) for one in listed)


def _of_clause(words: Sequence[str]) -> str:
    known = _vocabulary()
    if any(_is(word, (*known.elsewhere, *known.kept)) for word in words):
        return ""
    soaked = any(_is(word, known.soaked) for word in words)
    for at, word in enumerate(words):
        solution = _is(word, known.solution)
        if not (solution or _is(word, known.liquid)):
            continue
        first = max(0, at - NEAR)
        near = words[first : at + 3]
        shares = [one for one in near if one[0].isdigit()]
        if any(one in known.denied for one in near) or (shares and not any(map(_some, shares))):
            continue
        label = any(_is(one, known.says) for one in near)
        if tuple(words[at : at + 2]) == WATER_ADDED:
            return " ".join(WATER_ADDED)
        if label and (solution or (shares and not soaked)):
            found = True
        else:
            found = bool(shares) and solution and not soaked
        if found:
            return " ".join(words[_start(words, first, at) : at + 1 + _after(words, at)])
    return ""


def _some(share: str) -> bool:
    """Whether a share is more than none: "0 % solution" says that none was added."""
    number = re.match(r"[\d.,]+", share)
    return number is not None and float(number[0].rstrip(".,").replace(",", ".")) > 0


def _start(words: Sequence[str], first: int, at: int) -> int:
    """Return where what the label says begins: at its first word or share."""
    telling = (
        place
        for place in range(first, at)
        if words[place][0].isdigit() or _is(words[place], _vocabulary().says)
    )
    return next(telling, at)


def _after(words: Sequence[str], at: int) -> int:
    """Return how many words after the liquid belong to it: "solution added"."""
    following = words[at + 1 : at + 3]
    places = [
        n
        for n, word in enumerate(following, 1)
        if word[0].isdigit() or _is(word, _vocabulary().says)
    ]
    return places[-1] if places else 0
