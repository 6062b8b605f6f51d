"""Columns of an old table that the cook has variables of his own for."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from pitjournal.domain.shelf import OwnVariable, plain_name
from pitjournal.errors import JournalError
from pitjournal.files.old_cooks import OldCook
from pitjournal.files.old_cooks.words import plain, words
from pitjournal.units import Dimension, UnitSystem, parse, unit_label

_BRACKETS = re.compile(r"\s*[(\[]([^)\]]*)[)\]]\s*$")
_BARE = re.compile(r"^[-+−]?[\d.,]+$")


@dataclass(frozen=True)
class Taken:
    """A cell that becomes a value of an own variable: its fields, and what was typed."""

    own: OwnVariable
    fields: Mapping[str, Any]
    typed: Mapping[str, str]


def own_for(head: str, variables: Iterable[OwnVariable]) -> OwnVariable | None:
    """Return the variable that a head names, with or without a unit in brackets behind."""
    names = {plain_name(head), plain_name(_BRACKETS.sub("", head))}
    return next((own for own in variables if plain_name(own.name) in names), None)


def taken_from(
    rows: Sequence[OldCook], variables: Sequence[OwnVariable]
) -> tuple[list[OldCook], list[list[Taken]]]:
    """Return a cook's rows without what its own variables take, and that for each row.

    What cannot be read as a value of its variable stays a note; so does a second value of the
    cook or of an arm, and one of an arm where a row has none.
    """
    left: list[OldCook] = []
    taken: list[list[Taken]] = []
    seen: set[tuple[str, str]] = set()
    for row in rows:
        arm = repr([row.values.get(key) for key in ("arm", "treatment", "wrap")])
        armed = any(row.values.get(key) for key in ("arm", "treatment", "wrap"))
        found: list[Taken] = []
        others = dict(row.others)
        for head, cell in row.others.items():
            own = own_for(head, variables)
            if own is None or (own.level == "arm" and not armed):
                continue
            read = _read(own, head, cell)
            owner = {"cook": "", "arm": arm}.get(own.level, str(row.row))
            if read is not None and (own.id, owner) not in seen:
                seen.add((own.id, owner))
                found.append(read)
                del others[head]
        left.append(replace(row, others=others))
        taken.append(found)
    return left, taken


def _read(own: OwnVariable, head: str, cell: str) -> Taken | None:
    said = cell.strip()
    if own.kind == "number":
        return _number(own, head, said)
    if own.kind == "yes/no":
        answer = plain(said)
        known = answer in words().yes or answer in words().no
        return Taken(own, {"answer": answer in words().yes}, {}) if known else None
    choices = {plain_name(choice): choice for choice in own.choices}
    return Taken(own, {"text": choices.get(plain_name(said), said)}, {}) if said else None


def _number(own: OwnVariable, head: str, said: str) -> Taken | None:
    """Read a number; one without a unit only where its variable has none, or the head names it."""
    dimension = Dimension(own.dimension)
    brackets = _BRACKETS.search(head)
    bare = bool(_BARE.match(said))
    text = f"{said} {brackets[1]}" if bare and brackets else said
    if bare and not brackets and unit_label(dimension, UnitSystem.METRIC):
        return None  # what it is in, nobody said
    try:
        return Taken(own, {"number": parse(text, dimension, UnitSystem.METRIC)}, {"number": text})
    except JournalError:
        return None
