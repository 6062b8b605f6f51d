"""Which stage of a cook a photo shows, and of which piece: by what was logged when it was taken.

Stages are those cooks photograph: common practice, no source.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from enum import StrEnum

from pitjournal.domain.cook import CookStatus
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
    EventKind.PULLED: PhotoStage.SLICED,
}


def stage_of(whole: WholeCook, photo: Photo) -> str:
    """Return the stage a photo shows: the one set by hand, else that of its time in the log.

    An empty text where neither is known.
    """
    return stages(whole)(photo)


def stages(whole: WholeCook) -> Callable[[Photo], str]:
    """Return what says the stage of each photo of a cook; the log is gone through once."""
    begun = sorted(
        (
            event
            for event in whole.events
            if event.kind in _BEGINS and event.happened_at is not None
        ),
        key=_when,
    )
    lines: dict[str | None, tuple[list[datetime], list[PhotoStage]]] = {}

    def stage(photo: Photo) -> str:
        if photo.stage:
            return photo.stage
        if photo.taken_at is None:
            return ""
        if photo.piece_id not in lines:
            lines[photo.piece_id] = _line(begun, photo.piece_id)
        moments, follow = lines[photo.piece_id]
        return str(follow[bisect_right(moments, photo.taken_at)])

    return stage


def as_added(whole: WholeCook, photo: Photo, now: datetime) -> Photo:
    """Return a photo as it is kept: without a time, one of a running cook shows what it is now."""
    if photo.taken_at is not None or photo.stage or whole.cook.status is not CookStatus.RUNNING:
        return photo
    return replace(photo, stage=stage_of(whole, replace(photo, taken_at=now)))


def _line(begun: Sequence[Event], piece_id: str | None) -> tuple[list[datetime], list[PhotoStage]]:
    """Return when stages of a piece begin, and the stage before and after each moment."""
    moments: list[datetime] = []
    follow = [PhotoStage.BEFORE]
    for event in begun:
        if piece_id is not None and not event.concerns(piece_id):
            continue
        if not moments or _when(event) > moments[-1]:  # of two at once the first one counts
            moments.append(_when(event))
            follow.append(_BEGINS[EventKind(event.kind)])
    return moments, follow


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
    say = stages(whole)
    stage = say(photo)
    others = [other for other in whole.photos if other.id != photo.id]

    def fits(other: Photo) -> tuple[bool, bool]:
        return say(other) == stage, other.piece_id != photo.piece_id

    return max(others, key=fits, default=None)


def by_stage(whole: WholeCook) -> dict[str, Sequence[Photo]]:
    """Return the photos of each stage that has some, arm by arm and piece by piece."""
    order = {piece.id: place for place, piece in enumerate(whole.pieces)}
    found: dict[str, list[Photo]] = {}
    say = stages(whole)
    for photo in whole.photos:
        found.setdefault(say(photo), []).append(photo)
    places = {str(stage): place for place, stage in enumerate(PhotoStage)}

    def first(photo: Photo) -> tuple[int, str]:
        at = photo.taken_at.isoformat() if photo.taken_at else ""
        return order.get(photo.piece_id or "", len(order)), at

    in_order = sorted(found, key=lambda stage: places.get(stage, len(places)))
    return {stage: sorted(found[stage], key=first) for stage in in_order}


def photo_words(whole: WholeCook, photo: Photo) -> str:
    """Return the piece and the stage of a photo: "I1, wrapped"."""
    return words_of_photos(whole, (photo,))[photo.id]


def words_of_photos(whole: WholeCook, photos: Iterable[Photo]) -> dict[str, str]:
    """Return the piece and the stage of photos of a cook, by the photo's id."""
    labels, say = {piece.id: piece.label for piece in whole.pieces}, stages(whole)
    return {
        photo.id: ", ".join(filter(None, (labels.get(photo.piece_id or "", ""), say(photo))))
        for photo in photos
    }
