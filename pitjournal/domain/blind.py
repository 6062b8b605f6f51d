"""A cook as one sees it who must not know which arm is which."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from hashlib import sha256
from itertools import pairwise

from pitjournal.domain.cuts.meat import Form
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.judged import forms_of
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import NON_INTACT, Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook

SETTING = "blind bench "
"""The name of the choice, before the cook's id."""


def without_arms(whole: WholeCook) -> WholeCook:
    """Return a cook without its arms, and without what was done to which: for showing only.

    A label such as I1 names its arm, so that pieces of a cook with arms are numbered instead,
    and work on some of them before the fire, such as injecting, is left out once it is done.
    What protects someone is never hidden: if any meat is injected, needled or bladed, all of it
    is shown as such.
    """
    numbers = numbered(whole.pieces) if len(whole.arms) > 1 else {}
    pieces = tuple(
        replace(piece, arm_id=None, label=numbers.get(piece.id, piece.label))
        for piece in whole.pieces
    )
    if numbers:
        pieces = tuple(sorted(pieces, key=lambda piece: int(piece.label)))
    treatments = tuple(
        Treatment(cook_id=whole.cook.id, kind=kind, piece_id=piece.id, note=note)
        for kind, note in _protecting(whole)
        for piece in pieces
    )
    events = tuple(event for event in whole.events if not _prepared_some(whole, event))
    return replace(
        whole, arms=(), pieces=pieces, treatments=treatments, seasonings=(), events=events
    )


def _protecting(whole: WholeCook) -> list[tuple[TreatmentKind, str]]:
    """Return what was done to any meat that changes what it is judged by: a kind, or words."""
    kinds = [t.kind for t in whole.treatments if t.kind in NON_INTACT][:1]
    said = {form for piece in whole.pieces for form in forms_of(whole, piece)}
    forms = [form for form in Form if form in said]
    return [(kind, "") for kind in kinds] + [(TreatmentKind.OTHER, _WORDS[form]) for form in forms]


_WORDS = {Form.NON_INTACT: "rolled", Form.GROUND: "ground", Form.STUFFED: "stuffed"}


def _prepared_some(whole: WholeCook, event: Event) -> bool:
    """Whether only some pieces were worked on, before any was put on."""
    if event.happened_at is None or not event.pieces or len(event.pieces) == len(whole.pieces):
        return False
    on = whole.first(EventKind.ON)
    first = on.happened_at if on is not None else None
    return event.kind != EventKind.ON and (first is None or event.happened_at < first)


def numbered(pieces: Sequence[Piece]) -> Mapping[str, str]:
    """Return a number for each piece, by its id, that says nothing of its arm.

    It is the slot where each has one of its own; on named shelves it follows the plan, unless
    that goes arm by arm. Else it is by lot, and always the same.
    """
    own = [piece.slot for piece in pieces if piece.slot.isdecimal()]
    if len(set(own)) == len(pieces):
        return {piece.id: str(int(piece.slot)) for piece in pieces}
    placed = all(piece.slot for piece in pieces)
    planned = sorted(pieces, key=lambda piece: piece.position)
    told = placed and not _arm_by_arm(planned)
    order = planned if told else sorted(pieces, key=_lot)
    return {piece.id: str(number) for number, piece in enumerate(order, start=1)}


def _arm_by_arm(pieces: Sequence[Piece]) -> bool:
    """Whether the pieces of each arm stand together, so that their order names the arms."""
    arms = [piece.arm_id for piece in pieces]
    turns = sum(one != other for one, other in pairwise(arms))
    return turns == len(set(arms)) - 1


def _lot(piece: Piece) -> str:
    return sha256(piece.id.encode()).hexdigest()
