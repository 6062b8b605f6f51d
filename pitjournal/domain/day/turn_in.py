"""Turn-in at a contest: in which category each piece is, when its box is due, and how late it was."""

from collections.abc import Iterable
from datetime import datetime, timedelta

from pitjournal.domain.contest import Category, TurnIn
from pitjournal.domain.cuts import means, same_cut
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.event import Event
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook

BEFORE_CLOSING = timedelta(minutes=5)
"""So long before a window closes the box has to be on its way (common practice, no source)."""


def due_at(category: Category) -> datetime | None:
    """Return when a box is best turned in: the ideal time, else what its window leaves."""
    if category.ideal is not None:
        return category.ideal
    if category.opens is not None and category.closes is not None:
        return category.opens + (category.closes - category.opens) / 2
    if category.closes is not None:
        return category.closes - BEFORE_CLOSING
    return category.opens


def category_of(cut: str, categories: Iterable[Category]) -> Category | None:
    """Return the category that meat of a cook is for; None where that cannot be told.

    A cook with one category is for that. Of several it is the one whose meat it is: the cut
    itself, else what the word for the meat covers, as "pork ribs" covers back ribs.
    """
    known = list(categories)
    if len(known) == 1:
        return known[0]
    own = [one for one in known if same_cut(one.meat, cut)]
    own = own or [one for one in known if one.meat.strip() and means(cut, one.meat)]
    return own[0] if len(own) == 1 else None


def turned_in(whole: WholeCook) -> dict[str, TurnIn]:
    """Return the category in which each piece of a cook is turned in, by the piece's id."""
    by_id = {turn_in.category.id: turn_in for turn_in in whole.turn_ins}
    categories = [turn_in.category for turn_in in whole.turn_ins]
    found = {piece.id: category_of(piece.cut, categories) for piece in whole.pieces}
    return {piece: by_id[one.id] for piece, one in found.items() if one is not None}


def pieces_for(whole: WholeCook, category_id: str) -> tuple[Piece, ...]:
    """Return the pieces that a category is for."""
    own = turned_in(whole)
    return tuple(p for p in whole.pieces if p.id in own and own[p.id].category.id == category_id)


def handed_in(whole: WholeCook, category_id: str) -> datetime | None:
    """Return when the box of a category was turned in, as it was tapped; None: not yet."""
    pieces = pieces_for(whole, category_id)
    taps = [
        event.happened_at
        for event in whole.happened(StepKind.TURN_IN)
        if event.happened_at is not None
        and (any(event.concerns(piece.id) for piece in pieces) or not whole.pieces)
    ]
    return max(taps, default=None)


def turn_in_of(whole: WholeCook, step: Event) -> TurnIn | None:
    """Return the category a step is for; None where it is for none, or for several."""
    own = turned_in(whole)
    named = step.pieces or tuple(piece.id for piece in whole.pieces)
    found = {own[piece].category.id: own[piece] for piece in named if piece in own}
    return next(iter(found.values())) if len(found) == 1 else None


def beyond(category: Category, at: datetime) -> timedelta | None:
    """Return by how much a moment misses a window: under zero before it opens, over zero after.

    None where it is within, or where the window is not known on that side.
    """
    if category.closes is not None and at > category.closes:
        return at - category.closes
    if category.opens is not None and at < category.opens:
        return at - category.opens
    return None
