"""Commands on variables of the cook's own: make, change, retire, remove, fill."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.plausible import LOOK_AGAIN, WIDEST
from pitjournal.domain.shelf import OWN_KINDS, OWN_LEVELS, OwnValue, OwnVariable, plain_name
from pitjournal.errors import JournalError
from pitjournal.store.transaction import Transaction
from pitjournal.units import Dimension


def _named(transaction: Transaction, name: str, but: str = "") -> str:
    """Return a name in single spaces that no other variable goes by.

    Raises
    ------
    JournalError
        If it is empty or taken.
    """
    said = " ".join(name.split())
    if not said:
        raise JournalError("It needs a name.", "Type what you call it, such as: bone pull.")
    others = [own for own in transaction.find(OwnVariable) if own.id != but]
    taken = Catalogue(own=others).named(said)
    if taken is not None:
        whose = "your own" if any(own.name == taken.label for own in others) else "built in"
        raise JournalError(
            f"There is a variable “{taken.label}” already ({whose}).", "Take another name."
        )
    return said


def _sound(own: OwnVariable) -> OwnVariable:
    if own.level not in OWN_LEVELS or own.kind not in OWN_KINDS:
        raise JournalError(f"{own.name} is of no such sort.")
    if own.kind != "choice":
        return replace(own, choices=())
    choices = {plain_name(choice): " ".join(choice.split()) for choice in own.choices}
    choices.pop("", None)
    return replace(own, choices=tuple(choices.values()), dimension="number")


@dataclass(frozen=True)
class AddOwn:
    """Make a variable of the cook's own."""

    variable: OwnVariable
    merge_key: str = ""

    @property
    def label(self) -> str:
        """Which."""
        return f"Make the variable {self.variable.name.strip()}"

    def run(self, transaction: Transaction) -> None:
        """Make it, if its name is free."""
        name = _named(transaction, self.variable.name)
        transaction.add(_sound(replace(self.variable, name=name)))


@dataclass(frozen=True)
class ChangeOwn:
    """Rename, retire or bring back a variable, or change its choices.

    What it is of, and what sort of value it has, changes only while no cook has one.
    """

    variable_id: str
    fields: Mapping[str, Any]
    label: str = "Change a variable"

    @property
    def merge_key(self) -> str:
        """One step for one field of one variable."""
        return f"{self.variable_id}:{','.join(sorted(self.fields))}"

    def run(self, transaction: Transaction) -> None:
        """Change it."""
        fields = dict(self.fields)
        before = transaction.get(OwnVariable, self.variable_id)
        if "name" in fields:
            fields["name"] = _named(transaction, str(fields["name"]), self.variable_id)
        after = _sound(replace(before, **fields))
        of_another_sort = any(
            getattr(before, name) != getattr(after, name) for name in ("level", "kind", "dimension")
        )
        if of_another_sort and transaction.find(OwnValue, variable_id=self.variable_id):
            raise JournalError(
                f"Cooks have {before.name} as it is.", "Make another variable, and retire this one."
            )
        if after != before:
            transaction.put(before, after)


@dataclass(frozen=True)
class RemoveOwn:
    """Remove a variable with what cooks have of it; one undo brings all of it back."""

    variable_id: str
    label: str = "Remove a variable"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Remove it."""
        transaction.remove(OwnVariable, self.variable_id)


@dataclass(frozen=True)
class FillOwn:
    """Give a cook, an arm or a piece its value of a variable of the cook's own; None takes it away.

    A number is in the storage unit of the variable's dimension; `typed` are the cook's words.
    """

    cook_id: str
    variable_id: str
    owner_id: str
    value: float | str | bool | None
    label: str
    typed: Mapping[str, str] = field(default_factory=dict)

    @property
    def merge_key(self) -> str:
        """One step for one value as it is typed; one that is taken away is a step of its own."""
        gone = self.value is None or self.value == ""
        return "" if gone else f"own:{self.variable_id}:{self.owner_id}"

    def run(self, transaction: Transaction) -> None:
        """Write it."""
        own = transaction.get(OwnVariable, self.variable_id)
        found = transaction.find(
            OwnValue, variable_id=self.variable_id, owner_id=self.owner_id, cook_id=self.cook_id
        )
        if self.value is None or self.value == "":
            for old in found:
                transaction.remove(OwnValue, old.id)
            return
        made = OwnValue(
            cook_id=self.cook_id,
            variable_id=self.variable_id,
            owner_id=self.owner_id,
            typed=dict(self.typed),
            **_as_kept(own, self.value),
        )
        if not found:
            transaction.add(made)
        elif replace(made, id=found[0].id) != found[0]:
            transaction.put(found[0], replace(made, id=found[0].id))


def _as_kept(own: OwnVariable, value: float | str | bool) -> dict[str, Any]:
    """Return the field that holds a value of this variable.

    Raises
    ------
    JournalError
        If it is no value of its sort.
    """
    if own.kind == "yes/no" and isinstance(value, bool):
        return {"answer": value}
    if own.kind == "number" and isinstance(value, int | float) and not isinstance(value, bool):
        if why := WIDEST[Dimension(own.dimension)].why_not(float(value)):
            raise JournalError(why, LOOK_AGAIN)
        return {"number": float(value)}
    if own.kind in {"choice", "text"} and isinstance(value, str):
        said = value.strip()
        known = {plain_name(choice): choice for choice in own.choices}
        return {"text": known.get(plain_name(said), said) if own.kind == "choice" else said}
    raise JournalError(f"“{value}” is no value of {own.name}, which is a {own.kind}.")
