"""Which stage of a cook a photo shows, and of which piece: by what was logged when it was taken.

Stages are those cooks photograph: common practice, no source.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from enum import StrEnum

from pitjournal.domain.event import Event, EventKind, Photo
from pitjournal.domain.whole_cook import WholeCook

JUST_BEFORE = timedelta(minutes=5)
"""What was logged so shortly before a photo is what it was taken of."""


class PhotoStage(StrEnum):
    """What was under way when a photo was taken."""

    BEFORE = "before the fire"
    ON = "on"
    WRAPPED = "wrapped"
    UNWRAPPED = "unwrapped"
    OFF = "off"
    SLICED = "sliced"


_BEGINS = {
    EventKind.ON: PhotoStage.ON,
    EventKind.WRAP: PhotoStage.WRAPPED,
    EventKind.UNWRAP: PhotoStage.UNWRAPPED,
    EventKind.OFF: PhotoStage.OFF,
    EventKind.SLICED: PhotoStage.SLICED,
}


def stage_of(whole: WholeCook, photo: Photo) -> str:
    """Return the stage a photo shows: the one set by hand, else that of its time in the log.

    An empty text where neither is known.
    """
    if photo.stage:
        return photo.stage
    if photo.taken_at is None:
        return ""
    begun = [
        event
        for event in whole.events
        if event.kind in _BEGINS
        and event.happened_at is not None
        and event.happened_at <= photo.taken_at
        and (photo.piece_id is None or event.concerns(photo.piece_id))
    ]
    last = max(begun, key=_when, default=None)
    return str(PhotoStage.BEFORE if last is None else _BEGINS[EventKind(last.kind)])


def _when(event: Event) -> datetime:
    assert event.happened_at is not None
    return event.happened_at


def piece_at(whole: WholeCook, taken_at: datetime | None) -> str | None:
    """Return the piece a photo was taken of, where only one can be meant; else None.

    That is the cook's only piece, or the only one that anything logged in the minutes before
    concerned.
    """
    if len(whole.pieces) == 1:
        return whole.pieces[0].id
    if taken_at is None:
        return None
    meant: set[str] = set()
    for event in whole.events:
        if event.happened_at is not None and _just_before(event.happened_at, taken_at):
            meant |= {piece.id for piece in whole.pieces if event.concerns(piece.id)}
    for check in whole.checks:
        if _just_before(check.at, taken_at):
            meant.add(check.piece_id)
    return next(iter(meant)) if len(meant) == 1 else None


def _just_before(at: datetime, taken_at: datetime) -> bool:
    return taken_at - JUST_BEFORE <= at <= taken_at


def partner_of(whole: WholeCook, photo: Photo) -> Photo | None:
    """Return the photo to lay beside one: of its stage and another piece, else the next best."""
    stage = stage_of(whole, photo)
    others = [other for other in whole.photos if other.id != photo.id]

    def fits(other: Photo) -> tuple[bool, bool]:
        return stage_of(whole, other) == stage, other.piece_id != photo.piece_id

    return max(others, key=fits, default=None)


def by_stage(whole: WholeCook) -> dict[str, Sequence[Photo]]:
    """Return the photos of each stage that has some, arm by arm and piece by piece."""
    order = {piece.id: place for place, piece in enumerate(whole.pieces)}
    found: dict[str, list[Photo]] = {}
    for photo in whole.photos:
        found.setdefault(stage_of(whole, photo), []).append(photo)
    places = {str(stage): place for place, stage in enumerate(PhotoStage)}

    def first(photo: Photo) -> tuple[int, str]:
        at = photo.taken_at.isoformat() if photo.taken_at else ""
        return order.get(photo.piece_id or "", len(order)), at

    stages = sorted(found, key=lambda stage: places.get(stage, len(places)))
    return {stage: sorted(found[stage], key=first) for stage in stages}


def photo_words(whole: WholeCook, photo: Photo) -> str:
    """Return the piece and the stage of a photo: "I1, wrapped"."""
    label = next((p.label for p in whole.pieces if p.id == photo.piece_id), "")
    return ", ".join(part for part in (label, stage_of(whole, photo)) if part)
