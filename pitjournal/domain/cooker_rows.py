"""Where pieces lie in the cooker, row by row from the back."""

from collections.abc import Sequence
from dataclasses import dataclass

from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ACROSS, SLOTS, count_of
from pitjournal.domain.whole_cook import WholeCook

MOST_ACROSS, NAMED_ACROSS = 6, 4
MOST_SLOTS = 36
"""So many lie side by side at most: in numbered slots, and on a shelf with a name; and so many
slots are drawn, the empty ones too."""


@dataclass(frozen=True)
class CookerRow:
    """A row of the cooker: its name where it has one, and its pieces from left to right."""

    name: str
    pieces: tuple[Piece, ...]


def rows_of(whole: WholeCook) -> tuple[CookerRow, ...]:
    """Return where a cook's pieces lie: by numbered slots in rows, or by the shelves' names."""
    numbered = sorted(
        (p for p in whole.pieces if p.slot.isdecimal()), key=lambda p: (int(p.slot), p.position)
    )
    across = max(1, min(_across(whole), MOST_ACROSS))
    shelves = _cut(numbered, across)
    found = [
        CookerRow(f"shelf {number}" if len(shelves) > 1 else "", row)
        for number, row in enumerate(shelves, 1)
    ]
    named = [piece for piece in whole.pieces if piece not in numbered]
    for slot in dict.fromkeys(piece.slot for piece in named):
        lie = _cut([piece for piece in named if piece.slot == slot], NAMED_ACROSS)
        found += [
            CookerRow((slot or "no slot") if not number else "", row)
            for number, row in enumerate(lie)
        ]
    return tuple(found)


def slot_map(whole: WholeCook) -> tuple[tuple[Piece | None, ...], ...]:
    """Return the cooker's shelves with the piece in each slot, None where a slot is empty.

    Empty where the cooker does not say how many slots it has and how many lie side by side, or
    where its pieces do not lie in them one to a slot.
    """
    slots, across = count_of(whole.cooker, SLOTS), count_of(whole.cooker, ACROSS)
    there = {piece.slot: piece for piece in whole.pieces}
    if not slots or not across or slots > MOST_SLOTS or across > MOST_ACROSS:
        return ()
    if len(there) < len(whole.pieces) or not {str(n) for n in range(1, slots + 1)} >= there.keys():
        return ()
    lie = [there.get(str(number)) for number in range(1, slots + 1)]
    return tuple(tuple(lie[start : start + across]) for start in range(0, slots, across))


def _cut(pieces: Sequence[Piece], across: int) -> list[tuple[Piece, ...]]:
    return [tuple(pieces[start : start + across]) for start in range(0, len(pieces), across)]


def _across(whole: WholeCook) -> int:
    """Return how many lie side by side: as the cooker says, else a block a shelf."""
    return count_of(whole.cooker, ACROSS) or len(whole.arms) or 3
