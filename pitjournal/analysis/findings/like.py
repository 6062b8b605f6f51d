"""Which cooks made the same comparison, and of which cut: like is joined with like."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from pitjournal.domain.arm_names import arm_key
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.cuts import find_cut
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook

EVERY_CUT = "every cut "
"""The name of the choice, kept with the journal, to join other cuts; before the cook's id."""


@dataclass(frozen=True)
class OtherCut:
    """A cook that made the same comparison with another cut, and is named beside it."""

    cook_id: str
    number: int
    title: str
    cuts: tuple[str, ...]


def way_of(whole: WholeCook, arm: Arm) -> str:
    """Return what an arm does, so that it is found again in other cooks.

    Its treatments where it has any but "left alone", else its name.
    """
    kinds = sorted({str(t.kind) for t in whole.treatments if t.arm_id == arm.id})
    plain = str(TreatmentKind.NONE)
    if kinds and kinds != [plain]:
        return " + ".join(kind for kind in kinds if kind != plain)
    return plain if kinds == [plain] else arm_key(arm.name)


def same_comparison(whole: WholeCook, other: WholeCook) -> bool:
    """Whether a cook that was done compared one of this cook's ways with the same control.

    One whose control is the way, and that holds this cook's control against it, did so too.
    """
    if whole.control is None or other.control is None:
        return False
    if other.cook.status is CookStatus.PLANNED and other.cook.id != whole.cook.id:
        return False
    if is_turned(whole, other):
        return True
    if way_of(whole, whole.control) != way_of(other, other.control):
        return False
    ways = [{way_of(c, arm) for arm in c.arms if not arm.control} for c in (whole, other)]
    return bool(ways[0] & ways[1])


def is_turned(whole: WholeCook, other: WholeCook) -> bool:
    """Whether another cook made the comparison with the arm marked as its control."""
    if whole.control is None or other.control is None:
        return False
    base, theirs = way_of(whole, whole.control), way_of(other, other.control)
    return (
        base != theirs
        and any(way_of(whole, arm) == theirs for arm in whole.arms)
        and any(way_of(other, arm) == base for arm in other.arms)
    )


def turned_like(whole: WholeCook, other: WholeCook) -> WholeCook:
    """Return a cook with this cook's control for its own, where it was marked the other way round."""
    if not is_turned(whole, other) or whole.control is None:
        return other
    base = way_of(whole, whole.control)
    control = next(arm.id for arm in other.arms if way_of(other, arm) == base)
    return replace(other, arms=tuple(replace(arm, control=arm.id == control) for arm in other.arms))


def other_controls(whole: WholeCook, others: Iterable[WholeCook]) -> tuple[WholeCook, ...]:
    """Return the cooks that were done of one of this cook's ways against another control."""
    if whole.control is None:
        return ()
    base = way_of(whole, whole.control)
    ways = {way_of(whole, arm) for arm in whole.arms if not arm.control}
    return tuple(
        cook
        for cook in others
        if cook.cook.id != whole.cook.id
        and cook.control is not None
        and cook.cook.status is not CookStatus.PLANNED
        and way_of(cook, cook.control) != base
        and not is_turned(whole, cook)
        and any(way_of(cook, arm) in ways for arm in cook.arms if not arm.control)
    )


def other_scales(
    whole: WholeCook, others: Iterable[WholeCook], catalogue: Catalogue
) -> tuple[tuple[int, str], ...]:
    """Return the cooks of the same comparison and cut that declared its outcome on another scale.

    Parameters
    ----------
    whole, others
        The cook, and those that may have made its comparison and are not joined.
    catalogue
        The variables of the journal.

    Returns
    -------
    tuple of (int, str)
        The cook's number, and what it declared.
    """
    mine = catalogue.get(whole.cook.outcome or "")
    if mine is None or not mine.criterion:
        return ()
    found = []
    for cook in others:
        theirs = catalogue.get(cook.cook.outcome or "")
        alike = theirs is not None and theirs.key != mine.key and theirs.criterion == mine.criterion
        if alike and theirs and same_comparison(whole, cook) and cuts_of(cook) & cuts_of(whole):
            found.append((cook.cook.number, theirs.label))
    return tuple(found)


def called_otherwise(
    whole: WholeCook, others: Iterable[WholeCook]
) -> tuple[tuple[int, str, str], ...]:
    """Return the arms of other cooks that are joined by treatment under another name.

    The cook's number, what the arm is called there, and what its like is called here.
    """
    names = {way_of(whole, arm): arm.name for arm in whole.arms}
    return tuple(
        (cook.cook.number, arm.name, names[way_of(cook, arm)])
        for cook in others
        if cook.cook.id != whole.cook.id
        for arm in cook.arms
        if way_of(cook, arm) in names and arm_key(arm.name) != arm_key(names[way_of(cook, arm)])
    )


@lru_cache(maxsize=1024)
def cut_key(cut: str) -> str:
    """Return what two spellings of one cut have in common.

    The catalogue's cut where one is meant; else the words, less case, points, many and order.
    """
    found = find_cut(cut)
    if found is not None:
        return f"{found.key}, {found.animal}, {found.form}"
    words = re.findall(r"[^\W_]+", cut.casefold())
    return " ".join(
        sorted(word[:-1] if len(word) > 3 and word[-1] == "s" else word for word in words)
    )


def cuts_of(whole: WholeCook) -> frozenset[str]:
    """Return the cuts that a cook compares: of its pieces that stand in an arm."""
    return frozenset(cut_key(piece.cut) for piece in whole.pieces if piece.arm_id is not None)


def of_cuts(whole: WholeCook, cuts: frozenset[str]) -> WholeCook:
    """Return a cook with its pieces of these cuts alone; with none where it has no such."""
    mine = tuple(piece for piece in whole.pieces if cut_key(piece.cut) in cuts)
    return whole if len(mine) == len(whole.pieces) else replace(whole, pieces=mine)


def spellings(cooks: Iterable[WholeCook], cuts: frozenset[str]) -> frozenset[str]:
    """Return how these cuts are spelt in these cooks."""
    return frozenset(
        piece.cut for cook in cooks for piece in cook.pieces if cut_key(piece.cut) in cuts
    )


def other_cuts(whole: WholeCook, others: Sequence[WholeCook]) -> tuple[OtherCut, ...]:
    """Return the cooks of the same comparison that have no piece of this cook's cuts."""
    mine = cuts_of(whole)
    found = []
    for cook in others:
        theirs = cuts_of(cook)
        if theirs and not theirs & mine and same_comparison(whole, cook):
            names = tuple(dict.fromkeys(p.cut for p in cook.pieces if p.arm_id is not None))
            found.append(OtherCut(cook.cook.id, cook.cook.number, cook.cook.title, names))
    return tuple(found)
