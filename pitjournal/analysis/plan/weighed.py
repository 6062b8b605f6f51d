"""What the meat of a plan weighs, and the units in which that was typed."""

from collections.abc import Iterable, Sequence

from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.recipe import Line, parts_of, share_of
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem, weighed_in

SPARE = 1.25
"""A quarter more liquid is mixed than goes in: some runs out (common practice, no source)."""


def green_mass(whole: WholeCook, piece: Piece) -> float | None:
    """Return a piece's weight before any treatment, g."""
    trimmed = whole.mass(piece, Stage.TRIMMED)
    return trimmed if trimmed is not None else whole.mass(piece, Stage.BOUGHT)


def green_system(whole: WholeCook, pieces: Iterable[Piece], system: UnitSystem) -> UnitSystem:
    """Return the units in which pieces were weighed before any treatment.

    Parameters
    ----------
    whole
        The cook, with all its records.
    pieces
        Those meant.
    system
        The units where none was typed.
    """
    typed = []
    for piece in pieces:
        said = {w.stage: w.typed.get("mass", "") for w in whole.weighings if w.piece_id == piece.id}
        words = said.get(Stage.TRIMMED, said.get(Stage.BOUGHT))
        typed += [] if words is None else [words]
    return weighed_in(typed, system)


def mixed_system(whole: WholeCook, treatment: Treatment, system: UnitSystem) -> UnitSystem:
    """Return the units of what is mixed: those typed for it, else those the meat is weighed in.

    Parameters
    ----------
    whole
        The cook, with all its records.
    treatment
        What is done to an arm.
    system
        The units where none was typed.
    """
    typed = treatment.typed.get("liquid", "")
    if treatment.liquid is not None and typed:
        return weighed_in((typed,), system)
    return green_system(whole, whole.treated_by(treatment), system)


def mix_of(whole: WholeCook, treatment: Treatment) -> float | None:
    """Return how much of a liquid, or of salt, a treatment takes, g; None where not known."""
    masses = [green_mass(whole, piece) for piece in whole.treated_by(treatment)]
    known = [mass for mass in masses if mass is not None]
    green = sum(known) if known and len(known) == len(masses) else None
    if treatment.kind is TreatmentKind.DRY_BRINED:
        return None if green is None or treatment.salt is None else green * treatment.salt
    if treatment.liquid is not None:
        return treatment.liquid
    if green is None or treatment.target_pickup is None:
        return None
    return green * treatment.target_pickup * SPARE


def factor_of(whole: WholeCook, treatment: Treatment, lines: Sequence[Line]) -> float | None:
    """Return what a recipe's amounts are multiplied by for this cook; None where not known.

    A liquid is scaled to what is mixed; what lies dry on the meat, to its salt.

    Parameters
    ----------
    whole
        The cook, with all its records.
    treatment
        What is done to an arm.
    lines
        Lines of the recipe.
    """
    parts, mix = parts_of(lines), mix_of(whole, treatment)
    if mix is None or not parts:
        return None
    if treatment.kind is TreatmentKind.DRY_BRINED:
        known = share_of(lines, "salt") is not None
        return mix / parts["salt"] if known else None
    return mix / sum(parts.values())
