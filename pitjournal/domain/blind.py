"""A cook as one sees it who must not know which arm is which."""

from dataclasses import replace

from pitjournal.domain.whole_cook import WholeCook

SETTING = "blind bench "
"""The name of the choice, before the cook's id."""


def without_arms(whole: WholeCook) -> WholeCook:
    """Return a cook without its arms, and without what was done to them: for showing only.

    Pieces keep their labels, which are on the meat.
    """
    pieces = tuple(replace(piece, arm_id=None) for piece in whole.pieces)
    return replace(whole, arms=(), pieces=pieces, treatments=(), seasonings=())
