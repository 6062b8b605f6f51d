"""What the meat of a plan weighs, and the units in which that was typed."""

from collections.abc import Iterable

from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.treatment import Treatment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem, weighed_in


def green_mass(whole: WholeCook, piece: Piece) -> float | None:
    """Return a piece's weight before any treatment, g."""
    trimmed = whole.mass(piece, Stage.TRIMMED)
    return trimmed if trimmed is not None else whole.mass(piece, Stage.BOUGHT)


def green_system(whole: WholeCook, pieces: Iterable[Piece], system: UnitSystem) -> UnitSystem:
    """Return the units in which pieces were weighed before any treatment."""
    typed = []
    for piece in pieces:
        said = {w.stage: w.typed.get("mass", "") for w in whole.weighings if w.piece_id == piece.id}
        words = said.get(Stage.TRIMMED, said.get(Stage.BOUGHT))
        typed += [] if words is None else [words]
    return weighed_in(typed, system)


def mixed_system(whole: WholeCook, treatment: Treatment, system: UnitSystem) -> UnitSystem:
    """Return the units of what is mixed: those typed for it, else those the meat is weighed in."""
    typed = treatment.typed.get("liquid", "")
    if treatment.liquid is not None and typed:
        return weighed_in((typed,), system)
    return green_system(whole, whole.treated_by(treatment), system)
