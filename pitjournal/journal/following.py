"""Read on in a probe file that its logger still writes.

What a file has grown to is held at hand and shown. It is kept in the journal each hour, when
the file rests or is followed no more, when the cook is over and when the journal is closed:
seldom, for each time is a step to undo and a copy of the file.
"""

import logging
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

from pitjournal.domain.samples import Samples
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.places import cannot_be_read
from pitjournal.files.probe_log import Channel, ProbeLog, ReadOptions
from pitjournal.files.samples import pack
from pitjournal.journal.attaching import Placement, extent_of, out_of, readings_of
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import RenewFile
from pitjournal.journal.journal import Journal
from pitjournal.journal.reading_on import added, read_tail

RESTS_AFTER = 600.0
"""A file that has not grown for so long, s, has been written to its end."""

KEEP_EVERY = 3600.0
"""A file that grows on is kept this often, s, should its card be lost before it rests."""

_log = logging.getLogger(__name__)

SILENT_AFTER = 300.0
"""A file that has not grown for so long, s, is told of: its probe may have fallen silent."""

AGAIN = timedelta(minutes=1)
"""Keeping a file is tried again so long after the disk refused."""

TRIES = 3
"""A file may be met half-written: only after so many looks in vain is it said."""

_SAME = 1.0
"""A trace still begins where it began when its first readings are this near, s."""

LENT = "at hand:"


@dataclass(frozen=True)
class Stamp:
    """What a file's entry in its folder says: it changes when the file does."""

    size: int
    changed_ns: int


@dataclass(frozen=True)
class Read:
    """A followed file as it was read last.

    Attributes
    ----------
    parts
        The bytes that were read, one part a time that it had grown.
    log
        What it holds, as it was understood when it was last read whole.
    readings
        Raw readings by the id of their trace.
    grew_at
        When it was last seen to have changed, aware.
    rests
        The longest time, s, in which it was not seen to change before it did.
    kept_at
        When it was kept last, or read first, aware.
    tried, failed
        The bytes that could not be read, and how often that was tried.
    not_before
        When keeping it is tried again after the disk refused, aware.
    problem
        Why it cannot be read on, in words for the cook, or an empty text.
    """

    path: str
    stamp: Stamp | None = None
    parts: tuple[bytes, ...] = ()
    log: ProbeLog | None = None
    readings: Mapping[str, Samples] = field(default_factory=dict)
    grew_at: datetime | None = None
    rests: float = 0.0
    kept_at: datetime | None = None
    not_before: datetime | None = None
    tried: bytes = b""
    failed: int = 0
    problem: str = ""

    @property
    def data(self) -> bytes:
        """All bytes that were read."""
        return self.parts[0] if len(self.parts) == 1 else b"".join(self.parts)

    @property
    def patience(self) -> float:
        """How long it may rest, s, before it counts as silent: twice as long as it ever did."""
        return max(SILENT_AFTER, 2 * self.rests)

    def is_silent(self, now: datetime) -> bool:
        """Whether it has not grown for longer than it may rest."""
        return self.grew_at is not None and (now - self.grew_at).total_seconds() > self.patience


def read_on(whole: WholeCook, file: ProbeFile, before: Read, now: datetime) -> Read:
    """Look at a followed file, and read on in it if it has changed.

    A file that is gone, unreadable or another one keeps what was read before, with a line on
    what is wrong; it is read on when it is back.
    """
    path = Path(file.follows)
    try:
        stamp = stamp_of(path)
        if stamp == before.stamp and before.failed in {0, TRIES}:
            return before
        fresh = added(path, before, stamp)
        data = whole_lines(strangers.file_bytes(path)) if fresh is None else None
    except FileNotFoundError:
        said = f"{file.name} is gone. Plug its card or folder in again; {STAYS}"
        return replace(before, stamp=None, problem=said)
    except (OSError, JournalError) as error:
        told = error if isinstance(error, JournalError) else cannot_be_read(file.name, error)
        return replace(before, stamp=None, problem=f"{told} Till then {STAYS}")
    if fresh == b"" or (data is not None and data == before.data):
        return replace(before, stamp=stamp, failed=0, problem="")
    if fresh is not None:
        found = read_tail(whole, file, before, fresh)
        if found is not None:
            more = replace(before, stamp=stamp, parts=(*before.parts, fresh))
            return _grown(more, found, now)
        data = before.data + fresh
    assert data is not None
    return _read_whole(whole, file, replace(before, stamp=stamp), data, now)


STAYS = "what was read so far stays."


def _read_whole(
    whole: WholeCook, file: ProbeFile, before: Read, data: bytes, now: datetime
) -> Read:
    try:
        log, readings = _read(whole, file, data)
    except JournalError as error:
        failed = before.failed + 1 if before.tried == data else 1
        problem = f"{file.name} cannot be read on. {error}" if failed >= TRIES else before.problem
        return replace(before, tried=data, failed=failed, problem=problem)
    return _grown(replace(before, parts=(data,), log=log), readings, now)


def _grown(read: Read, readings: dict[str, Samples], now: datetime) -> Read:
    assert read.stamp is not None
    # One that is met for the first time may have rested since long before.
    changed = min(now, datetime.fromtimestamp(read.stamp.changed_ns / 1e9, UTC))
    last = read.grew_at
    return replace(
        read,
        readings=readings,
        grew_at=changed if last is None else now,
        rests=read.rests if last is None else max(read.rests, (now - last).total_seconds()),
        kept_at=read.kept_at or now,
        tried=b"",
        failed=0,
        problem="",
    )


def stamp_of(path: Path) -> Stamp:
    """Return what a file's entry says.

    Raises
    ------
    OSError
        If it is gone or cannot be reached.
    """
    found = path.stat()
    return Stamp(found.st_size, found.st_mtime_ns)


def whole_lines(data: bytes) -> bytes:
    """Return a text file without a last line that is still being written.

    A reading cut short ("19" of "198.4") would be read as another one. Workbooks and the like,
    whose bytes are no lines, are returned as they are.
    """
    if data.startswith((b"PK", b"[")):
        return data
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):  # UTF-16: a line ends in two bytes
        mark = b"\n\x00" if data.startswith(b"\xff\xfe") else b"\x00\n"
        end = data.rfind(mark)
        while end > 0 and end % 2:
            end = data.rfind(mark, 0, end)
        return data[: end + 2] if end > 0 else data
    end = max(data.rfind(b"\n"), data.rfind(b"\r"))
    return data[: end + 1] if end >= 0 else data


def _read(whole: WholeCook, file: ProbeFile, data: bytes) -> tuple[ProbeLog, dict[str, Samples]]:
    """Read the bytes as the file was read first: the same channels, beginning the same.

    Raises
    ------
    JournalError
        If it is no log, or no longer begins as it did.
    """
    traces = [trace for trace in whole.traces if trace.probe_file_id == file.id]
    # As it was read first: what was said or guessed then holds for the rows that came since.
    first = ReadOptions(**file.report.get("read_as", {}))
    for day_first in dict.fromkeys((first.day_first, None, True, False)):
        log = strangers.probe_log(data, file.name, replace(first, day_first=day_first))
        found = _matched(whole, file, log, traces)
        if found is not None:
            return log, found
    raise JournalError(
        f"{file.name} no longer begins as it did: it is another file.", "Follow it as a new one."
    )


def _matched(
    whole: WholeCook, file: ProbeFile, log: ProbeLog, traces: Iterable[Trace]
) -> dict[str, Samples] | None:
    every = samples_of_traces(whole, file, log, traces)
    if every is None:
        return None
    found = {}
    for trace, samples in every:
        away = samples.times - trace.starts_at.timestamp()
        if abs(away).min() > _SAME:
            return None
        of_cook = away >= -_SAME  # a file of several cooks was cut when it was kept
        found[trace.id] = Samples(samples.times[of_cook], samples.values[of_cook])
    return found or None


def samples_of_traces(
    whole: WholeCook,
    file: ProbeFile,
    log: ProbeLog,
    traces: Iterable[Trace],
    *,
    silent: bool = False,
) -> list[tuple[Trace, Samples]] | None:
    """Return what a log has for each trace; None where it lacks the channel of one.

    Where they may be `silent`, a channel without a reading has none.
    """
    channels, found = {channel.name: channel for channel in log.channels}, []
    for trace in traces:
        channel = channels.get(trace.channel)
        if channel is None and silent:
            found.append((trace, Samples(np.empty(0), np.empty(0, dtype=np.float32))))
            continue
        if channel is None:
            return None
        started = started_by(file, trace, channel)
        zone = time_zone(whole.cook.zone)
        found.append((trace, readings_of(channel, log.timezone, zone, started)))
    return found


def started_by(file: ProbeFile, trace: Trace, channel: Channel) -> datetime | None:
    """Return when a log that counts from its own start began, by where its trace begins."""
    if channel.start_s is None:
        return None
    said = next((c for c in file.report.get("channels", ()) if c["name"] == channel.name), None)
    first = channel.start_s if said is None or said["start_s"] is None else said["start_s"]
    return datetime.fromtimestamp(trace.starts_at.timestamp() - float(first), UTC)


def overlay_name(trace_id: str) -> str:
    """Return the name under which a trace's readings at hand are laid over the journal's."""
    return LENT + trace_id


def with_readings(whole: WholeCook, reads: Iterable[Read]) -> WholeCook:
    """Return a cook whose followed traces are as long as they are by now.

    Their `samples` name what is at hand: such a cook is for showing, never for keeping.
    """
    at_hand = {trace: samples for read in reads for trace, samples in read.readings.items()}
    if not at_hand:
        return whole
    traces = tuple(
        _lengthened(trace, at_hand[trace.id]) if trace.id in at_hand else trace
        for trace in whole.traces
    )
    return replace(whole, traces=traces)


def _lengthened(trace: Trace, samples: Samples) -> Trace:
    name = f"{overlay_name(trace.id)}:{samples.times.size}"
    return replace(trace, samples=name, **extent_of(samples))


def overlaid(reads: Iterable[Read]) -> dict[str, Samples]:
    """Return the readings at hand under the names that `with_readings` gives them."""
    return {
        f"{overlay_name(trace)}:{samples.times.size}": samples
        for read in reads
        for trace, samples in read.readings.items()
    }


def look_at(
    journal: Journal, whole: WholeCook, file: ProbeFile, before: Read | None, now: datetime
) -> tuple[Read, Command | None]:
    """Look at a followed file once; return how it stands, and what keeps it if that is due.

    Whatever goes wrong with one file is said, and it is looked at again: the others are read on.
    While the disk refuses, the file is read and shown as ever, and kept when there is room.
    """
    if before is None or before.path != file.follows:
        before = Read(file.follows)
    try:
        read = read_on(whole, file, before, now)
    except Exception:  # noqa: BLE001 - one fault must not end the watch over a fire
        _log.exception("reading on in a followed file")
        said = f"{file.name} met a fault of the program, which is in the log. It is tried again."
        return replace(before, problem=said), None
    if read.not_before is not None and not read.problem:  # more was read, and none of it kept
        read = replace(read, problem=before.problem)
    if not wants_keeping(read, now):
        return read, None
    try:
        command = keep_grown(journal, whole, file, read)
    except JournalError as error:
        said = f"{file.name} is read on and shown, and not kept yet. {error}"
        return replace(read, not_before=now + AGAIN, problem=said), None
    return replace(read, kept_at=now, not_before=None, problem=""), command


def wants_keeping(read: Read, now: datetime) -> bool:
    """Whether a file seems to be written to its end, or was not kept for an hour."""
    if read.not_before is not None and now < read.not_before:
        return False
    return any(
        moment is not None and (now - moment).total_seconds() > longest
        for moment, longest in ((read.grew_at, RESTS_AFTER), (read.kept_at, KEEP_EVERY))
    )


def keep_grown(journal: Journal, whole: WholeCook, file: ProbeFile, read: Read) -> Command | None:
    """Return the command that keeps what a file has grown to; None when that is kept already.

    What was read part by part is read whole for that, so that what is kept is what the file
    says and not what its parts seemed to say.

    Raises
    ------
    JournalError
        If it cannot be kept now; `NotSavedError` where the disk refuses.
    """
    known = {trace.id: trace for trace in whole.traces if trace.probe_file_id == file.id}
    if read.log is None or not _longer(known, read.readings):
        return None
    data, log, readings = read.data, read.log, read.readings
    if len(read.parts) > 1:
        log, readings = _read(whole, file, data)
    kept = journal.files.keep(data, "text/plain", file.name)
    files, traces = [kept], {}
    for trace, samples in _longer(known, readings).items():
        packed = journal.files.keep(pack(samples), "application/octet-stream", f"{file.name} on")
        files.append(packed)
        out = _left_out(whole, known[trace], samples)
        traces[trace] = {"samples": packed.sha, "left_out": out, **extent_of(samples)}
    label = f"Read on in {file.name}"
    return RenewFile(file.id, kept.sha, log.as_kept(), traces, tuple(files), label)


def _longer(known: Mapping[str, Trace], readings: Mapping[str, Samples]) -> dict[str, Samples]:
    return {
        trace: samples
        for trace, samples in readings.items()
        if trace in known and samples.times.size > known[trace].count
    }


def _left_out(whole: WholeCook, trace: Trace, samples: Samples) -> tuple[tuple[float, float], ...]:
    """Return the spans a trace leaves out, with those in which its probe came out since.

    What the cook left out, or took in again, in the part that was kept stays as it is.
    """
    ended = trace.ends_at.timestamp()
    where = Placement(sits=trace.sits, piece_id=trace.piece_id)
    fresh = [
        (max(start, ended), end) for start, end in out_of(whole, where, samples) if end > ended
    ]
    return (*trace.left_out, *fresh)
