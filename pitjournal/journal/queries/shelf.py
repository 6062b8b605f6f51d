"""What an open journal uses again: the items of the Shelf, densities and schemes."""

from pitjournal.domain.scheme import Scheme
from pitjournal.domain.shelf import QUARTER_CUP, Setting, ShelfItem, ShelfKind
from pitjournal.domain.used_recipe import densities_of
from pitjournal.files.schemes import shipped_schemes
from pitjournal.store.database import Database
from pitjournal.units import Density


class Shelf:
    """The Shelf of an open journal. May be used from any thread."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def items(self, kind: ShelfKind) -> list[ShelfItem]:
        """Return what stands on the Shelf of one sort, by name."""
        found = [item for item in self._database.find(ShelfItem) if item.kind is kind]
        return sorted(found, key=lambda item: (item.retired, item.name.casefold()))

    def densities(self) -> dict[str, Density]:
        """Return what the Shelf knows to weigh what, by plain name."""
        chosen = self._database.find(Setting, id=QUARTER_CUP)
        return densities_of(self._database.find(ShelfItem), chosen[0].value if chosen else "")

    def schemes(self) -> list[Scheme]:
        """Return the scoring schemes: those of the program, then the cook's own, newest last."""
        return [*shipped_schemes(), *self._database.find(Scheme)]
