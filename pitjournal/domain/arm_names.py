"""When two arms are called the same, but for case, blanks and hyphens."""

import re
from collections.abc import Iterable

from pitjournal.domain.cook import Arm

_JOINED = re.compile(r"(?<=[^\W\d])[\s\-_\u2010-\u2015]+|[\s\-_\u2010-\u2015]+(?=[^\W\d])")
"""Blanks and hyphens beside a letter; between figures they tell "1-2 h" from "12 h"."""


def arm_key(name: str) -> str:
    """Return an arm's name as it is told from others: "Dry-brined" is "dry brined "."""
    return _JOINED.sub("", " ".join(name.split()).casefold())


def called_alike(arms: Iterable[Arm]) -> tuple[tuple[str, ...], ...]:
    """Return the names of arms that are called the same but for case, blanks and hyphens."""
    names: dict[str, list[str]] = {}
    for arm in arms:
        names.setdefault(arm_key(arm.name), []).append(arm.name)
    return tuple(tuple(own) for key, own in names.items() if key and len(own) > 1)


def called_alike_sentence(arms: Iterable[Arm]) -> str:
    """Return the question whether arms of nearly one name are one arm, or nothing."""
    found = called_alike(arms)
    if not found:
        return ""
    named = "; ".join(" and ".join(f"“{name}”" for name in names) for names in found)
    return (
        f"Two arms are called nearly the same: {named}. Are they one? Then move the pieces into one "
        "of them; here they are held against each other as two."
    )
