"""A cook as one sees it who must not know which arm is which."""

from dataclasses import replace

from pitjournal.domain.treatment import NON_INTACT, Treatment
from pitjournal.domain.whole_cook import WholeCook

SETTING = "blind bench "
"""The name of the choice, before the cook's id."""


def without_arms(whole: WholeCook) -> WholeCook:
    """Return a cook without its arms, and without what was done to which: for showing only.

    Pieces keep their labels, which are on the meat. What protects someone is never hidden: if
    any meat is injected, needled or bladed, all of it is shown as such.
    """
    pieces = tuple(replace(piece, arm_id=None) for piece in whole.pieces)
    strict = next((t for t in whole.treatments if t.kind in NON_INTACT), None)
    treatments = (
        tuple(
            Treatment(cook_id=whole.cook.id, kind=strict.kind, piece_id=piece.id)
            for piece in pieces
        )
        if strict is not None
        else ()
    )
    return replace(whole, arms=(), pieces=pieces, treatments=treatments, seasonings=())
