"""What becomes of each piece when it is carved: sliced, pulled or whole, for the box or beside it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from pitjournal.analysis.plan.lists import Listed
from pitjournal.domain.contest import TurnIn
from pitjournal.domain.cuts import served_as
from pitjournal.domain.day.schedule import ENDS, cuts_of
from pitjournal.domain.day.turn_in import due_at, turned_in
from pitjournal.domain.event import CUT_UP
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.times.moments import show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.first_letter import capital

_WEIGHED = (Stage.EDIBLE, Stage.RESTED, Stage.OFF)
"""A piece's weights once it is cooked, the one that says most first."""


@dataclass(frozen=True)
class Carved:
    """Pieces that are carved together: of one category of a contest, or of one cut.

    `pieces` lie in the order they are carved in: first those for the box, by their turn.
    """

    name: str
    at: datetime | None
    served: str
    pieces: tuple[Piece, ...]
    turn_in: TurnIn | None

    @property
    def boxed(self) -> tuple[Piece, ...]:
        """Those for the box."""
        return tuple(piece for piece in self.pieces if piece.box is not None)


def carved(whole: WholeCook) -> tuple[Carved, ...]:
    """Return what is carved, in the order of the day."""
    own, cuts = turned_in(whole), cuts_of(whole.pieces)
    groups: dict[tuple[str, str], list[Piece]] = {}
    for piece in whole.pieces:
        category = own[piece.id].category.id if piece.id in own else ""
        groups.setdefault((category, cuts[piece.id]), []).append(piece)
    found = [_carved(whole, pieces) for pieces in groups.values()]
    return tuple(sorted(found, key=lambda one: one.at.timestamp() if one.at else float("inf")))


def _carved(whole: WholeCook, pieces: list[Piece]) -> Carved:
    turn_in = turned_in(whole).get(pieces[0].id)
    ids = {piece.id for piece in pieces}
    steps = [e for e in whole.events if e.planned_at is not None and set(e.pieces) <= ids]
    ats = [e.planned_at for e in steps if e.kind in CUT_UP and e.pieces]
    ends = [e.planned_at for e in steps if e.kind in ENDS and e.pieces]
    official = due_at(turn_in.category) if turn_in is not None else None
    at = min((at for at in (*ats, *ends) if at is not None), default=official)
    name = pieces[0].cut if turn_in is None else turn_in.category.name
    ordered = sorted(pieces, key=lambda p: (p.box is None, p.box or 0, p.position))
    return Carved(name, at, served_as(pieces[0].cut), tuple(ordered), turn_in)


def carving(whole: WholeCook, system: UnitSystem) -> Listed:
    """Return the carving list: what each piece gives, and which go into the box, in order."""
    lines = [line for group in carved(whole) for line in carving_lines(whole, group, system)]
    return Listed("To carve, piece by piece", tuple(lines))


def carving_lines(whole: WholeCook, group: Carved, system: UnitSystem) -> Iterator[str]:
    """Yield the lines of what is carved together: how, when, and each piece.

    Parameters
    ----------
    whole
        The cook.
    group
        What is carved together.
    system
        The units of the weights.
    """
    at = f", from {show_time(group.at, whole.cook.zone)}" if group.at is not None else ""
    box = ""
    if group.turn_in is not None:
        due = due_at(group.turn_in.category)
        box = f"; box due {show_time(due, group.turn_in.contest.zone)}" if due is not None else ""
    yield f"{capital(group.name)}: {_HOW[group.served]}{at}{box}"
    for piece in group.pieces:
        yield f"{piece.label}, {piece.cut}: {', '.join(_of(whole, piece, group, system))}"
    if group.turn_in is not None and not group.boxed:
        yield f"{capital(group.name)}: no piece is chosen for the box yet, so take the best"


_HOW = {"sliced": "slice it", "pulled": "pull it", "whole": "leave it whole"}


def _of(whole: WholeCook, piece: Piece, group: Carved, system: UnitSystem) -> Iterator[str]:
    if piece.box is not None:
        yield f"number {piece.box} into the box"
    elif group.boxed:
        yield "not for the box"
    if piece.gives:
        yield piece.gives
    for stage in _WEIGHED:
        mass = whole.mass(piece, stage)
        if mass is not None:
            yield f"{show(mass, Dimension.MASS, system)} {stage}"
            return
    if not piece.gives and piece.box is None and not group.boxed:
        yield {"sliced": "slices", "pulled": "pulled meat", "whole": "as it is"}[group.served]
