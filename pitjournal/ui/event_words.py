"""What happened, and to which pieces, as a cook says it."""

from collections.abc import Sequence

from pitjournal.domain.day.schedule import MADE
from pitjournal.domain.event import Event
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.first_letter import capital


def event_words(event: Event) -> str:
    """Return an event as a cook says it: "Wrap in foil"."""
    wrap = event.details.get("wrap")
    what = capital(event.kind)
    extra = f" in {wrap}" if wrap else ""
    rest = ", ".join(value for key, value in event.details.items() if key not in {"wrap", MADE})
    return what + extra + (f": {rest}" if rest else "")


def named_pieces(whole: WholeCook, pieces: Sequence[str]) -> str:
    """Return whom an event concerns: "all six", an arm's name, a meat, or labels."""
    if not pieces or len(pieces) == len(whole.pieces):
        return everyone(len(whole.pieces))
    for arm in whole.arms:
        if {piece.id for piece in whole.pieces_of(arm)} == set(pieces):
            return arm.name
    for meat, of_it in whole.meats.items():
        if {piece.id for piece in of_it} == set(pieces):
            return meat
    names = [piece.label for piece in whole.pieces if piece.id in pieces]
    return ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")


_COUNTS = ("none", "it", "both", "all three", "all four", "all five", "all six", "all seven")


def everyone(count: int) -> str:
    """Return "all six"."""
    return _COUNTS[count] if count < len(_COUNTS) else f"all {count}"
