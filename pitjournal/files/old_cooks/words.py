"""The words of people's own tables, from `resources/old_cooks`."""

import json
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from pitjournal.resource_files import resource_path


def plain(text: str) -> str:
    """Return text in one spelling: lower case, no accents, single spaces, ß as ss."""
    spelled = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(sign for sign in spelled if not unicodedata.combining(sign))
    return " ".join(letters.split())


_SPLIT = re.compile(r"(?<=[a-z])(?=[A-Z])|[_/|.,;:!?*()\[\]{}\"'’]+")
_SIGNS = re.compile(r"[^\w#$€£%& ]+")


def head_words(head: str) -> str:
    """Return a head as the words it is compared by."""
    spelled = plain(_SPLIT.sub(" ", head)).replace("@", " at ")
    return " ".join(_SIGNS.sub(" ", spelled).split())


def in_full(phrase: str) -> str:
    """Return words with the usual short forms written out: ``wt`` as weight, ``int`` as internal."""
    short = words().short
    return " ".join(short.get(token, token) for token in phrase.split())


@cache
def _known_tokens() -> frozenset[str]:
    listed = words()
    phrases = [phrase for heads in listed.columns.values() for phrase in heads]
    return frozenset(token for phrase in phrases for token in phrase.split() if len(token) >= 5)


@cache
def _mended_token(token: str) -> str:
    known = _known_tokens()
    if len(token) < 5 or token in known:
        return token
    near = get_close_matches(token, known, n=1, cutoff=0.8)
    return near[0] if near and near[0][0] == token[0] else token


def mended(phrase: str) -> str:
    """Return words with slips of the pen mended: ``wieght`` as weight."""
    return " ".join(_mended_token(token) for token in phrase.split())


@dataclass(frozen=True)
class RoleRule:
    """A variable ("" for none), and groups of words of which a head has one each."""

    variable: str
    groups: tuple[re.Pattern[str], ...]


@dataclass(frozen=True)
class Words:
    """All lists of words, in one spelling."""

    columns: Mapping[str, tuple[str, ...]]
    aside: frozenset[str]
    wraps: Mapping[str, str]
    yes: frozenset[str]
    no: frozenset[str]
    blank: frozenset[str]
    units: Mapping[str, tuple[str, str]]
    leftovers: tuple[str, ...]
    short: Mapping[str, str]
    roles: Mapping[str, tuple[RoleRule, ...]]


def _rule(variable: str, *groups: str) -> RoleRule:
    """Return a rule as the lists have it: words by spaces, ``trim*`` all that begin so."""
    forms = ("|".join(one.replace("*", r"\w*") for one in group.split()) for group in groups)
    return RoleRule(variable, tuple(re.compile(form) for form in forms))


@cache
def words() -> Words:
    """Return the lists."""
    text = resource_path("old_cooks/words.json").read_text(encoding="utf-8")
    told = json.loads(text)
    return Words(
        columns={
            key: tuple(head_words(one) for one in heads) for key, heads in told["columns"].items()
        },
        aside=frozenset(head_words(one) for one in told["aside"]),
        wraps={plain(one): wrap for wrap, those in told["wraps"].items() for one in those},
        yes=frozenset(plain(one) for one in told["yes"]),
        no=frozenset(plain(one) for one in told["no"]),
        blank=frozenset(plain(one) for one in told["blank"]),
        units={
            plain(one): (dimension, unit)
            for dimension, units in told["units"].items()
            for unit, those in units.items()
            for one in those
        },
        leftovers=tuple(plain(one) for one in told["leftovers"]),
        short=told["short"],
        roles={
            dimension: tuple(_rule(*rule) for rule in rules)
            for dimension, rules in told["roles"].items()
        },
    )


def is_blank(cell: str) -> bool:
    """Whether a cell says nothing, or that nothing is known."""
    return not cell or plain(cell) in words().blank
