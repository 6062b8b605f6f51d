"""Commands on the Shelf."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from pitjournal.domain.cook import Cook
from pitjournal.domain.shelf import ShelfItem, ShelfKind, plain_name
from pitjournal.errors import JournalError
from pitjournal.store.schema import KINDS
from pitjournal.store.transaction import Transaction
from pitjournal.store.used_by import NAMED_IN


@dataclass(frozen=True)
class KeepOnShelf:
    """Keep names that were typed in a cook; one that stands there, in any case, is not doubled.

    One that was retired is brought back.
    """

    kind: ShelfKind
    names: tuple[str, ...]
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Add those that are missing."""
        items = [item for item in transaction.find(ShelfItem) if item.kind is self.kind]
        known = {plain_name(item.name): item for item in items}
        for name in self.names:
            item = known.get(plain_name(name))
            if item is None:
                made = ShelfItem(kind=self.kind, name=" ".join(name.split()))
                known[plain_name(name)] = made
                transaction.add(made)
            elif item.retired:
                transaction.change(ShelfItem, item.id, {"retired": False})


def _other_of_name(transaction: Transaction, item: ShelfItem, name: str) -> ShelfItem | None:
    """Return another thing of this sort and name, in any case and spacing, also a retired one."""
    others = (one for one in transaction.find(ShelfItem) if one.kind is item.kind)
    wanted = plain_name(name)
    return next((o for o in others if o.id != item.id and plain_name(o.name) == wanted), None)


def _write_in_cooks(transaction: Transaction, kind: ShelfKind, old: str, new: str) -> None:
    """Write another name where cooks have a thing by its old one."""
    table, field = RENAMED_IN[kind]
    for record in transaction.find(KINDS[table]):
        if plain_name(str(getattr(record, field))) == plain_name(old):
            transaction.change(KINDS[table], record.id, {field: new})


RENAMED_IN: Mapping[ShelfKind, tuple[str, str]] = {
    kind: where for kind, where in NAMED_IN.items() if kind is not ShelfKind.TASTER
}
"""Where cooks have a thing by its name, and may be given another: sheets stay as they were signed."""


@dataclass(frozen=True)
class RenameOnShelf:
    """Rename a thing; past cooks keep the name they have, or with `everywhere` get the new one.

    A cooker is known by more than its name: its cooks follow.
    """

    item_id: str
    name: str
    everywhere: bool = False

    @property
    def label(self) -> str:
        """To what."""
        return f"Rename to {self.name.strip()}"

    @property
    def merge_key(self) -> str:
        """Typing a name is one step."""
        return "" if self.everywhere else f"{self.item_id}:name"

    def run(self, transaction: Transaction) -> None:
        """Rename it, if no other of its sort has that name."""
        item = transaction.get(ShelfItem, self.item_id)
        name = " ".join(self.name.split())
        if not name:
            raise JournalError("It needs a name.")
        taken = _other_of_name(transaction, item, name)
        if taken is not None:
            raise JournalError(f"There is a {item.kind} “{taken.name}” already.")
        transaction.change(ShelfItem, item.id, {"name": name})
        if self.everywhere and item.kind in RENAMED_IN:
            _write_in_cooks(transaction, item.kind, item.name, name)


@dataclass(frozen=True)
class WriteInCooks:
    """Write the name that a thing has now where cooks still have an older one."""

    item_id: str
    old: str
    merge_key: str = ""

    @property
    def label(self) -> str:
        """Instead of what."""
        return f"Rename {self.old} in past cooks"

    def run(self, transaction: Transaction) -> None:
        """Write it."""
        item = transaction.get(ShelfItem, self.item_id)
        if item.kind in RENAMED_IN:
            _write_in_cooks(transaction, item.kind, self.old, item.name)


@dataclass(frozen=True)
class MergeOnShelf:
    """Make one thing of two: cooks that had the first have the second, which stays.

    Details that the second does not have come along. What tasters signed stays as it was.
    """

    item_id: str
    into_id: str
    label: str = "Merge two on the Shelf"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Merge them."""
        gone = transaction.get(ShelfItem, self.item_id)
        kept = transaction.get(ShelfItem, self.into_id)
        if gone.kind is not kept.kind or gone.id == kept.id:
            raise JournalError("Only two things of one sort can be merged.")
        own = {key: value for key, value in kept.details.items() if value not in {None, ""}}
        details = {**gone.details, **own}
        transaction.change(ShelfItem, kept.id, {"details": details, "retired": False})
        if gone.kind is ShelfKind.COOKER:
            for cook in transaction.find(Cook, cooker_id=gone.id):
                transaction.change(Cook, cook.id, {"cooker_id": kept.id})
        elif gone.kind in RENAMED_IN:
            _write_in_cooks(transaction, gone.kind, gone.name, kept.name)
        transaction.remove(ShelfItem, gone.id)


@dataclass(frozen=True)
class RemoveFromShelf:
    """Take a thing off the Shelf; a cooker that cooks were on is refused, for they would lose it."""

    item_id: str
    label: str = "Remove from the Shelf"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Take it off."""
        item = transaction.get(ShelfItem, self.item_id)
        if item.kind is ShelfKind.COOKER:
            numbers = [cook.number for cook in transaction.find(Cook, cooker_id=item.id)]
            if numbers:
                raise JournalError(
                    f"{cooks_named(sorted(numbers, reverse=True))} had {item.name}.",
                    "Retire it: they keep it, and it is offered no longer.",
                )
        transaction.remove(ShelfItem, item.id)


MOST_NAMED = 6


def cooks_named(numbers: Sequence[int]) -> str:
    """Return cooks by their numbers, the first few: "Cooks 41, 40, 38 and 9 more"."""
    if len(numbers) == 1:
        return f"Cook {numbers[0]}"
    named = ", ".join(map(str, numbers[:MOST_NAMED]))
    more = len(numbers) - MOST_NAMED
    return f"Cooks {named}{f' and {more} more' if more > 0 else ''}"
