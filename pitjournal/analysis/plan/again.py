"""Cook it again, but with one thing changed: a new cook like an older one."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.record import Record, new_id
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import NOT_RECORDED, Dimension, UnitSystem, show


def again(whole: WholeCook, starts_at: datetime) -> tuple[Cook, tuple[Record, ...]]:
    """Return a planned cook with the arms, pieces, treatments and rubs of an older one.

    What was weighed, logged, tasted or bought that day stays behind.

    Parameters
    ----------
    whole
        The older cook.
    starts_at
        When the new one begins; aware.
    """
    old = whole.cook
    cook = replace(
        old,
        id=new_id(),
        number=0,
        starts_at=starts_at,
        serve_at=None,
        status=CookStatus.PLANNED,
        ambient=None,
        wind=None,
        humidity=None,
        weather="",
        cost=None,
        note=f"Again, like cook {old.number}.",
        seed=None,
        typed={},
    )
    ids = {record.id: new_id() for record in (*whole.arms, *whole.pieces)}
    arms = [replace(arm, id=ids[arm.id], cook_id=cook.id) for arm in whole.arms]
    pieces = [
        replace(
            piece,
            id=ids[piece.id],
            cook_id=cook.id,
            arm_id=_of(ids, piece.arm_id),
            lot="",
            price=None,
            thickness_1=None,
            thickness_2=None,
            thickness_3=None,
            note="",
            typed={},
        )
        for piece in whole.pieces
    ]
    treatments = [
        replace(
            treatment,
            id=new_id(),
            cook_id=cook.id,
            arm_id=_of(ids, treatment.arm_id),
            piece_id=_of(ids, treatment.piece_id),
            made_of={},  # from now on the recipe of today
        )
        for treatment in whole.treatments
    ]
    seasonings = [
        replace(layer, id=new_id(), cook_id=cook.id, arm_id=_of(ids, layer.arm_id))
        for layer in whole.seasonings
    ]
    return cook, (*arms, *pieces, *treatments, *seasonings)


LEFT_BEHIND = (
    "weights, thicknesses, prices and lots: the meat is bought anew",
    "the weather, the fuel that was weighed, and everything that was logged or tasted",
)
"""What of an older cook does not come along."""


def what_changes(
    old: WholeCook, cut: str, cooker: str, set_point: float | None, system: UnitSystem
) -> list[str]:
    """Return the things that would differ from an older cook, in words.

    Parameters
    ----------
    old
        The older cook.
    cut, cooker, set_point
        What is planned; °C.
    system
        The units it is said in.
    """
    cuts = " and ".join(dict.fromkeys(piece.cut for piece in old.pieces))
    before = old.cooker.name if old.cooker else ""
    pairs = [("cut", cuts, cut), ("cooker", before, cooker)]
    at = [show(t, Dimension.TEMPERATURE, system) for t in (old.cook.set_point, set_point)]
    pairs.append(("set point", at[0], at[1]))
    return [
        f"{what}: {then or NOT_RECORDED} → {now or NOT_RECORDED}"
        for what, then, now in pairs
        if then.casefold() != now.casefold()
    ]


def _of(ids: Mapping[str, str], old: str | None) -> str | None:
    return None if old is None else ids.get(old)
