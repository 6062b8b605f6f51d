"""From files as they came to the command that keeps them: probe logs and photos."""

import mimetypes
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import PurePath
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.traces.probe_out import out_of_meat
from pitjournal.domain.event import EventKind, Photo
from pitjournal.domain.photo_stage import piece_at
from pitjournal.domain.samples import Samples
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.probe_log import Channel, ProbeLog
from pitjournal.files.samples import pack
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import KeepPhotos, KeepProbeFile
from pitjournal.journal.journal import Journal
from pitjournal.science.arrays import runs_of

if TYPE_CHECKING:
    from pitjournal.files.photos import PhotoRead

BEFORE_ON, AFTER_OFF = timedelta(hours=1), timedelta(hours=4)
FAR = 3600.0
"""A log that goes on longer than this, s, is offered to be cut to the cook."""

_QUARTER = 900
"""Clocks change on a whole quarter of an hour of local time, s."""


@dataclass(frozen=True, kw_only=True)
class Placement:
    """Where one channel's probe sat: in a piece, or at a place in the cooker."""

    sits: Sits
    piece_id: str | None = None
    place: str = ""


def attach_probe_log(  # noqa: PLR0917 - one file and where it goes: a bundle would hide it
    journal: Journal,
    cook_id: str,
    data: bytes,
    name: str,
    log: ProbeLog,
    placements: Mapping[int, Placement],
    *,
    started_at: datetime | None = None,
    between: tuple[datetime, datetime] | None = None,
) -> Command:
    """Return the command that keeps a probe file that was read, with a trace a placed channel.

    The file is kept whole whatever is cut from its traces; where a meat's probe was not in the
    meat is found and marked.

    The bytes and the readings are written into the attachments at once; nothing names them
    until the command is done.

    Parameters
    ----------
    journal, cook_id
        Where it belongs.
    data, name
        The file's bytes, kept as they are, and its name.
    log
        What `read_probe_log` understood.
    placements
        Where channels sat, by their place in `log.channels`; the others become no trace.
    started_at
        When a log of elapsed times began; aware.
    between
        The part of a long log that belongs to this cook; aware. None keeps all.

    Raises
    ------
    JournalError
        If no channel is placed, a placed one has no readings, or the log only counts from its
        start and it is not said when that was.
    """
    if not placements:
        raise JournalError("No channel has a place yet.", "Say where at least one probe sat.")
    whole = _whole(journal, cook_id)
    zone = time_zone(whole.cook.zone)
    placed = [(log.channels[place], where) for place, where in sorted(placements.items())]
    read = [
        _cut(readings_of(channel, log.timezone, zone, started_at), between, channel.name)
        for channel, _ in placed
    ]
    kept = journal.files.keep(data, _media_type(name), name)
    probe_file = ProbeFile(
        cook_id=cook_id,
        name=name,
        attachment=kept.sha,
        added_at=datetime.now(UTC),
        report=log.as_kept(),
    )
    traces, files = [], [kept]
    for (channel, where), samples in zip(placed, read, strict=True):
        packed = journal.files.keep(
            pack(samples), "application/octet-stream", f"{name}, {channel.name}"
        )
        files.append(packed)
        out = out_of(whole, where, samples)
        traces.append(trace_of(probe_file, channel, where, samples, packed.sha, out))
    return KeepProbeFile(probe_file, tuple(traces), tuple(files), f"Attach {name}")


def _whole(journal: Journal, cook_id: str) -> WholeCook:
    found = journal.wholes([cook_id]).get(cook_id)
    if found is None:
        raise JournalError("That cook is no longer in the journal.", "Undo brings it back.")
    return found


def belongs(whole: WholeCook) -> tuple[datetime, datetime] | None:
    """Return the part of a long log that is this cook's: an hour before on to four after off.

    None while it is not logged when the meat went on and came off.
    """
    on, off = whole.first(EventKind.ON), whole.last(EventKind.OFF)
    if on is None or off is None or on.happened_at is None or off.happened_at is None:
        return None
    return on.happened_at - BEFORE_ON, off.happened_at + AFTER_OFF


def goes_beyond(whole: WholeCook, log: ProbeLog, started_at: datetime | None = None) -> bool:
    """Whether a log goes on far before or after what belongs to a cook; False while unknown."""
    part = belongs(whole)
    known = [channel for channel in log.channels if channel.count]
    if part is None or not known or (log.timezone == "elapsed" and started_at is None):
        return False
    zone = time_zone(whole.cook.zone)
    alike = {id(channel.times_s): channel for channel in known}  # one clock, read once
    times = [_as_utc(channel, log.timezone, zone, started_at) for channel in alike.values()]
    start, end = (moment.timestamp() for moment in part)
    first, last = min(t.min() for t in times), max(t.max() for t in times)
    return bool(first < start - FAR or last > end + FAR) and bool(first < end and last > start)


def _cut(samples: Samples, between: tuple[datetime, datetime] | None, name: str) -> Samples:
    if between is None:
        return samples
    start, end = (moment.timestamp() for moment in between)
    inside = (samples.times >= start) & (samples.times <= end)
    if not inside.any():
        message = f"{name} has no readings in the time of the cook."
        raise JournalError(message, "Keep the whole log, or leave that channel out.")
    return Samples(samples.times[inside], samples.values[inside])


def out_of(whole: WholeCook, where: Placement, samples: Samples) -> tuple[tuple[float, float], ...]:
    """Find when a meat's probe was not in the meat, by the device's clock."""
    piece = next((piece for piece in whole.pieces if piece.id == where.piece_id), None)
    if where.sits is not Sits.MEAT or piece is None:
        return ()
    on = whole.moment_of(EventKind.ON, piece)
    return out_of_meat(samples, on, whole.moment_of(EventKind.OFF, piece, last=True))


def _media_type(name: str) -> str:
    return mimetypes.guess_type(PurePath(name).name)[0] or "application/octet-stream"


def readings_of(
    channel: Channel, timezone: str, zone: ZoneInfo, started_at: datetime | None
) -> Samples:
    """Return a channel's readings with their times in UTC; what is no number is left out.

    Raises
    ------
    JournalError
        If there are none, or the log counts from a start that is not said.
    """
    times = _as_utc(channel, timezone, zone, started_at)
    values = np.asarray(channel.values_c, dtype=np.float32)
    known = np.isfinite(times) & np.isfinite(values)
    if not known.any():
        raise JournalError(f"{channel.name} has no readings.", "Leave that channel out.")
    return Samples(times[known], values[known])


def trace_of(  # noqa: PLR0917 - one channel and all that is known of it
    probe_file: ProbeFile,
    channel: Channel,
    placement: Placement,
    samples: Samples,
    sha: str,
    left_out: tuple[tuple[float, float], ...],
) -> Trace:
    """Return the trace of a channel whose readings are kept by their SHA-256."""
    return Trace(
        cook_id=probe_file.cook_id,
        probe_file_id=probe_file.id,
        channel=channel.name,
        unit_in_file=channel.unit_in_file,
        sits=placement.sits,
        samples=sha,
        piece_id=placement.piece_id,
        place=placement.place,
        left_out=left_out,
        **extent_of(samples),
    )


def extent_of(samples: Samples) -> dict[str, Any]:
    """Return the fields of a trace that say how long its readings are and how dense."""
    order = np.sort(samples.times)
    return {
        "count": len(order),
        "starts_at": datetime.fromtimestamp(order[0], UTC),
        "ends_at": datetime.fromtimestamp(order[-1], UTC),
        "interval": float(np.median(np.diff(order))) if len(order) > 1 else 0.0,
    }


def _as_utc(
    channel: Channel, timezone: str, zone: ZoneInfo, started_at: datetime | None
) -> NDArray[np.float64]:
    times = np.asarray(channel.times_s, dtype=np.float64)
    if timezone == "local":
        return local_to_utc(times, zone)
    if timezone != "elapsed":
        return times
    if started_at is None:
        message = "This file counts from its own start and does not say when that was."
        raise JournalError(message, "Say when the logger was started.")
    return times + started_at.timestamp()


def local_to_utc(times: NDArray[np.float64], zone: ZoneInfo) -> NDArray[np.float64]:
    """Return wall-clock seconds as seconds since 1970 (UTC).

    A time that was skipped when the clocks changed is read with the offset before the change
    (RFC 5545, 3.3.5); one that came twice is the first of the two until the times step back
    within the hour that repeats, and the second from there on.

    Parameters
    ----------
    times
        Seconds between 1970-01-01 00:00 and the reading on the wall clock, in the file's
        order, shape (n,).
    zone
        Of the wall clock.
    """
    quarters, where = np.unique(np.floor(times / _QUARTER), return_inverse=True)
    clocks = [datetime.fromtimestamp(float(q) * _QUARTER, UTC) for q in quarters]
    first, second = (
        np.array([_offset(clock, zone, fold) for clock in clocks], dtype=np.float64)[where]
        for fold in (0, 1)
    )
    if not (first > second).any():
        return times - first
    offsets: NDArray[np.float64] = np.where(_second_pass(times, first > second), second, first)
    return times - offsets


def _offset(clock: datetime, zone: ZoneInfo, fold: int) -> float:
    offset = clock.replace(tzinfo=zone, fold=fold).utcoffset()
    return 0.0 if offset is None else offset.total_seconds()


def _second_pass(times: NDArray[np.float64], twice: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Say which of the times that come twice follow a step back of more than a quarter hour."""
    again = np.zeros(times.size, dtype=bool)
    for begin, end in runs_of(twice):
        back = np.flatnonzero(np.diff(times[begin:end]) < -_QUARTER)
        if back.size:
            again[begin + back[0] + 1 : end] = True
    return again


def attach_photos(
    journal: Journal,
    cook_id: str,
    photos: Iterable[tuple[str, bytes]],
    piece_id: str | None = None,
    taken_at: datetime | None = None,
    *,
    stop: Callable[[], object] | None = None,
    left_out: list[JournalError] | None = None,
) -> Command:
    """Return the command that keeps photos, given as name and bytes, with their small pictures.

    Parameters
    ----------
    journal, cook_id, piece_id
        Where they belong; without a piece, the one that the log says was meant, if only one.
    photos
        Each is read, kept and forgotten before the next one is asked for, where `left_out`
        says that the others are kept at any rate; else all are read before any is kept.
    taken_at
        When they were taken if a camera did not say; aware.
    stop
        Called again and again; it raises where nobody waits any more.
    left_out
        Takes why a photo cannot be read, and the others are kept; without it none is.

    Raises
    ------
    JournalError
        If one cannot be read, or is of this cook already; it is named, and none is kept. With
        `left_out`, if none is left.
    """
    cook = _whole(journal, cook_id)
    known = {photo.attachment for photo in cook.photos}
    zone = time_zone(cook.cook.zone)
    read = _photos_read(photos, stop, left_out)
    records, files = [], []
    for name, data, photo in read if left_out is not None else list(read):
        whole = journal.files.keep(data, photo.media_type, name)
        if whole.sha in known:
            again = JournalError(f"{name} is among the photos of this cook.", "It was left out.")
            if left_out is None:
                raise again
            left_out.append(again)
            continue
        known.add(whole.sha)
        small = journal.files.keep(photo.thumbnail, "image/jpeg", f"small {name}")
        files += [whole, small]
        camera = photo.taken_at
        at = taken_at if camera is None else camera.replace(tzinfo=zone).astimezone(UTC)
        records.append(
            Photo(
                cook_id=cook_id,
                name=name,
                attachment=whole.sha,
                thumbnail=small.sha,
                width=photo.width,
                height=photo.height,
                taken_at=at,
                piece_id=piece_id or piece_at(cook, at),
            )
        )
    if left_out and not records:
        raise JournalError(" ".join(map(str, left_out[:3])))
    label = f"Add {records[0].name}" if len(records) == 1 else f"Add {len(records)} photos"
    return KeepPhotos(tuple(records), tuple(files), label)


def _photos_read(
    photos: Iterable[tuple[str, bytes]],
    stop: Callable[[], object] | None,
    left_out: list[JournalError] | None,
) -> "Iterator[tuple[str, bytes, PhotoRead]]":
    """Yield each photo with what it holds; where one cannot be read, stop or leave it out."""
    for name, data in photos:
        try:
            photo = strangers.photo(data, name, stop)
        except JournalError as error:
            if left_out is None:
                raise
            left_out.append(error)
        else:
            yield name, data, photo
