"""Read on in a probe file that its logger still writes.

What a file has grown to is held at hand and shown. It is kept in the journal each hour, when
the file rests or is followed no more, when the cook is over and when the journal is closed:
seldom, for each time is a step to undo and a copy of the file.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from pathlib import Path

from pitjournal.domain.moments import time_zone
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.probe_log import Channel, ProbeLog, ReadOptions
from pitjournal.files.samples import pack
from pitjournal.journal.attaching import Placement, extent_of, out_of, readings_of
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import RenewFile
from pitjournal.journal.journal import Journal

RESTS_AFTER = 600.0
"""A file that has not grown for so long, s, has been written to its end."""

KEEP_EVERY = 3600.0
"""A file that grows on is kept this often, s, should its card be lost before it rests."""

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
    readings
        Raw readings by the id of their trace.
    grew_at
        When it was last seen to have changed, aware.
    kept_at
        When it was kept last, or read first, aware.
    problem
        Why it cannot be read on, in words for the cook, or an empty text.
    """

    path: str
    stamp: Stamp | None = None
    data: bytes = b""
    log: ProbeLog | None = None
    readings: Mapping[str, Samples] = field(default_factory=dict)
    grew_at: datetime | None = None
    kept_at: datetime | None = None
    failed: int = 0
    problem: str = ""


def read_on(whole: WholeCook, file: ProbeFile, before: Read, now: datetime) -> Read:
    """Look at a followed file, and read it again if it has changed.

    A file that is gone, unreadable or another one keeps what was read before, with a line on
    what is wrong; it is read on when it is back.
    """
    name = file.name
    path = Path(file.follows)
    try:
        stamp = stamp_of(path)
        if stamp == before.stamp and before.failed in {0, TRIES}:
            return before
        data = whole_lines(path.read_bytes())
    except OSError as error:
        why = (
            "is gone"
            if isinstance(error, FileNotFoundError)
            else f"cannot be read ({error.strerror})"
        )
        said = f"{name} {why}. Plug its card or folder in again; what was read so far stays."
        return replace(before, stamp=None, problem=said)
    if data == before.data:
        return replace(before, stamp=stamp, failed=0, problem="")
    try:
        log, readings = _read(whole, file, data)
    except JournalError as error:
        failed = before.failed + 1 if stamp == before.stamp else 1
        problem = f"{name} cannot be read on. {error}" if failed >= TRIES else before.problem
        return replace(before, stamp=stamp, failed=failed, problem=problem)
    return Read(file.follows, stamp, data, log, readings, now, before.kept_at or now)


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
    channels = {channel.name: channel for channel in log.channels}
    found = {}
    for trace in traces:
        channel = channels.get(trace.channel)
        if channel is None:
            return None
        started = _started(file, trace, channel)
        samples = readings_of(channel, log.timezone, time_zone(whole.cook.zone), started)
        away = samples.times - trace.starts_at.timestamp()
        if abs(away).min() > _SAME:
            return None
        of_cook = away >= -_SAME  # a file of several cooks was cut when it was kept
        found[trace.id] = Samples(samples.times[of_cook], samples.values[of_cook])
    return found or None


def _started(file: ProbeFile, trace: Trace, channel: Channel) -> datetime | None:
    """Return when a log that counts from its own start began, by where its trace begins."""
    if channel.start_s is None:
        return None
    said = next((c for c in file.report.get("channels", ()) if c["name"] == channel.name), None)
    first = channel.start_s if said is None or said["start_s"] is None else said["start_s"]
    return datetime.fromtimestamp(trace.starts_at.timestamp() - float(first), UTC)


def lent_name(trace_id: str) -> str:
    """Return the name under which a trace's readings at hand are lent to the journal."""
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
    name = f"{lent_name(trace.id)}:{samples.times.size}"
    return replace(trace, samples=name, **extent_of(samples))


def lent(reads: Iterable[Read]) -> dict[str, Samples]:
    """Return the readings at hand under the names that `with_readings` gives them."""
    return {
        f"{lent_name(trace)}:{samples.times.size}": samples
        for read in reads
        for trace, samples in read.readings.items()
    }


def wants_keeping(read: Read, now: datetime) -> bool:
    """Whether a file seems to be written to its end, or was not kept for an hour."""
    return any(
        moment is not None and (now - moment).total_seconds() > longest
        for moment, longest in ((read.grew_at, RESTS_AFTER), (read.kept_at, KEEP_EVERY))
    )


def keep_grown(journal: Journal, whole: WholeCook, file: ProbeFile, read: Read) -> Command | None:
    """Return the command that keeps what a file has grown to; None when that is kept already."""
    known = {trace.id: trace for trace in whole.traces if trace.probe_file_id == file.id}
    longer = {
        trace: samples
        for trace, samples in read.readings.items()
        if trace in known and samples.times.size > known[trace].count
    }
    if not longer or read.log is None:
        return None
    kept = journal.keep_file(read.data, "text/plain", file.name)
    files, traces = [kept], {}
    for trace, samples in longer.items():
        packed = journal.keep_file(pack(samples), "application/octet-stream", f"{file.name} on")
        files.append(packed)
        out = _left_out(whole, known[trace], samples)
        traces[trace] = {"samples": packed.sha, "left_out": out, **extent_of(samples)}
    label = f"Read on in {file.name}"
    return RenewFile(file.id, kept.sha, read.log.as_kept(), traces, tuple(files), label)


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
