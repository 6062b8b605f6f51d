"""Commands on the Shelf."""

from dataclasses import dataclass

from pitjournal.domain.shelf import ShelfItem, ShelfKind, plain_name
from pitjournal.store.transaction import Transaction


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
