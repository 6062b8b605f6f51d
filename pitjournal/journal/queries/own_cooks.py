"""What one's own cooks say of the Shelf; for a worker."""

from typing import TYPE_CHECKING

from pitjournal.domain.event import Event
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.tasting import Sample, Score, Tasting
from pitjournal.domain.trace import Trace
from pitjournal.domain.treatment import FuelLoad, Seasoning, Treatment, WoodAddition
from pitjournal.journal.queries.whole import whole_cooks
from pitjournal.units import UnitSystem

if TYPE_CHECKING:
    from pitjournal.analysis.shelf.own_cooks import OfOwnCooks
    from pitjournal.domain.record import Record
    from pitjournal.journal.journal import Journal

MOST_COOKS = 300
"""So many of the newest cooks are asked."""

_NEEDED: "dict[ShelfKind, tuple[type[Record], ...]]" = {
    ShelfKind.COOKER: (Piece, Trace, Event),
    ShelfKind.FUEL: (FuelLoad,),
    ShelfKind.WOOD: (WoodAddition, Piece),
    ShelfKind.RUB: (Seasoning, Piece),
    ShelfKind.RECIPE: (Treatment, Piece),
    ShelfKind.PROBE: (Trace,),
    ShelfKind.TASTER: (Tasting, Sample, Score),
}


def of_own_cooks(
    journal: "Journal", kind: ShelfKind, system: UnitSystem
) -> "dict[str, OfOwnCooks]":
    """Return what one's own cooks say of each thing of a sort, by its id."""
    from pitjournal.analysis.shelf.own_cooks import Known, told_of

    if kind not in _NEEDED:
        return {}
    ids = [line.id for line in journal.cooks.page(most=MOST_COOKS)]
    found = whole_cooks(journal.database, ids, _NEEDED[kind])
    cooks = sorted(found.values(), key=lambda whole: whole.cook.starts_at, reverse=True)
    values = {owner: values for owner, _, _, values in journal.values(ids)}
    items = journal.shelf.items(kind)
    past = {
        item.id: [
            (at, one) for at, one in journal.database.past_of(item.id) if isinstance(one, ShelfItem)
        ]
        for item in items
        if kind is ShelfKind.PROBE
    }
    known = Known(cooks, values, journal.files.samples, system, past)
    return {item.id: told_of(item, known) for item in items}
