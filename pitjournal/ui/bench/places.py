"""Where a probe can sit, as a box offers it and as a trace keeps it."""

from pitjournal.domain.trace import Sits
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.attaching import Placement

LEAVE_OUT = "leave out"
"""What a channel is that becomes no trace."""

NAMES = {Sits.PIT: "pit", Sits.AIR: "outside air", Sits.OTHER: "elsewhere"}


def options(whole: WholeCook | None) -> list[tuple[object, str]]:
    """Return the places of a cook with their words: the pit, each piece, outside, elsewhere."""
    pieces = whole.pieces if whole else ()
    return [
        (Sits.PIT, "the pit"),
        *((piece.id, f"piece {piece.label}") for piece in pieces),
        (Sits.AIR, "outside air"),
        (Sits.OTHER, "somewhere else"),
    ]


def placed(where: object) -> Placement:
    """Return the placement for a place that was chosen."""
    if isinstance(where, Sits):
        return Placement(sits=where, place=NAMES.get(where, ""))
    return Placement(sits=Sits.MEAT, piece_id=str(where))
