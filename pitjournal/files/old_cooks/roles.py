"""What a head says beside its unit: which weighing, whose temperature, how long for what.

A head with a unit is a weight, a temperature or a length of time; a word or two of it say which
one, in any order and form: ``Lbs out``, ``Wt after trimming``, ``Außentemp.``, ``Min wrapped``.
"""

import re
from collections.abc import Mapping

from pitjournal.files.old_cooks.words import RoleRule, head_words, words


def role_of(head: str, dimension: str) -> str | None:
    """Return the variable that a head's words make of an amount.

    Parameters
    ----------
    head
        As written.
    dimension
        "mass", "temperature" or "duration".

    Returns
    -------
    str or None
        A variable; "" for what is none of the meat's, such as the weight of a rub or the hours in
        a brine, and is kept as a note; None where no word says which it is.
    """
    tokens = head_words(head).split()
    return next((rule.variable for rule in _rules(dimension) if _holds(rule, tokens)), None)


def _rules(dimension: str) -> tuple[RoleRule, ...]:
    roles: Mapping[str, tuple[RoleRule, ...]] = words().roles
    return roles.get(dimension, ())


def _holds(rule: RoleRule, tokens: list[str]) -> bool:
    """Whether each group of a rule has a word among a head's."""
    return all(any(group.fullmatch(token) for token in tokens) for group in rule.groups)


_MONEY = re.compile(r"[$€£]|\b(?:price|cost|preis|kosten|precio|costo?e?|per|pro|por)\b")


def names_money(head: str) -> bool:
    """Whether a head is about money, so that its unit is what is paid for."""
    return bool(_MONEY.search(head.casefold()))
