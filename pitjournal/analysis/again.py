"""Cook it again, but with one thing changed: a new cook like an older one."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.record import Record, new_id
from pitjournal.domain.whole_cook import WholeCook


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
        )
        for treatment in whole.treatments
    ]
    seasonings = [
        replace(layer, id=new_id(), cook_id=cook.id, arm_id=_of(ids, layer.arm_id))
        for layer in whole.seasonings
    ]
    return cook, (*arms, *pieces, *treatments, *seasonings)


def _of(ids: Mapping[str, str], old: str | None) -> str | None:
    return None if old is None else ids.get(old)
