"""A channel of a kept probe file that was left out, put back from the file as it came."""

from dataclasses import replace
from datetime import UTC, datetime

from pitjournal.domain.samples import Samples
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import strangers
from pitjournal.files.probe_log import ProbeLog, ReadOptions
from pitjournal.files.samples import pack
from pitjournal.journal.attaching import Placement, out_of, readings_of, trace_of
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import PutBack
from pitjournal.journal.following import started_by
from pitjournal.journal.journal import Journal


def left_out_of(whole: WholeCook, file: ProbeFile) -> list[tuple[str, int]]:
    """Return the names of a file's channels that have no trace, with their readings counted."""
    there = {trace.channel for trace in whole.traces if trace.probe_file_id == file.id}
    found = file.report.get("channels", ())
    return [(c["name"], int(c["count"])) for c in found if c["name"] not in there]


def put_back(
    journal: Journal, whole: WholeCook, file: ProbeFile, name: str, where: Placement
) -> Command:
    """Return the command that makes a trace of a channel that was left out.

    The file is read as it was read first. Its clock is put right as that of the file's other
    traces was, and where those were cut to the cook it is cut to their time.

    Raises
    ------
    JournalError
        If the file is damaged or gone, has no such channel, or that has no reading.
    """
    log = strangers.probe_log(
        journal.files.read(file.attachment),
        file.name,
        ReadOptions(**file.report.get("read_as", {})),
    )
    channel = next((one for one in log.channels if one.name == name), None)
    if channel is None:
        raise JournalError(
            f"{file.name} has no channel called {name} now.", "Remove the file and read it anew."
        )
    others = [trace for trace in whole.traces if trace.probe_file_id == file.id]
    zone = time_zone(whole.cook.zone)
    samples = readings_of(channel, log.timezone, zone, _started(file, log, others))
    samples = _as_long_as(samples, whole, file, log, others)
    packed = journal.files.keep(pack(samples), "application/octet-stream", f"{file.name}, {name}")
    out = out_of(whole, where, samples)
    trace = trace_of(file, channel, where, samples, packed.sha, out)
    return PutBack(_on_their_clock(trace, others), (packed,), f"Put {name} back")


def _started(file: ProbeFile, log: ProbeLog, others: list[Trace]) -> datetime | None:
    """Return when a log that counts from its own start began: its other traces know."""
    by_name = {channel.name: channel for channel in log.channels}
    known = (
        started_by(file, one, by_name[one.channel]) for one in others if one.channel in by_name
    )
    return next((at for at in known if at is not None), None)


def _as_long_as(
    samples: Samples, whole: WholeCook, file: ProbeFile, log: ProbeLog, others: list[Trace]
) -> Samples:
    """Cut readings to the time of the cook where those of the other channels were cut."""
    counts = {channel.name: channel.count for channel in log.channels}
    if not others or all(trace.count >= counts.get(trace.channel, 0) for trace in others):
        return samples
    start = min(trace.starts_at for trace in others).timestamp()
    end = max(trace.ends_at for trace in others).timestamp()
    inside = (samples.times >= start) & (samples.times <= end)
    if not inside.any():
        raise JournalError(
            f"That channel of {file.name} has no readings in the time of {whole.cook.title}.",
            "To have the whole log, remove the file and read it anew.",
        )
    return Samples(samples.times[inside], samples.values[inside])


def _on_their_clock(trace: Trace, others: list[Trace]) -> Trace:
    """Put the clock right as the others' is; the drift counts from each trace's own start."""
    other = min(others, key=lambda one: one.starts_at, default=None)
    if other is None:
        return trace
    since = (trace.starts_at.astimezone(UTC) - other.starts_at).total_seconds()
    return replace(trace, shift=other.shift + other.drift * since, drift=other.drift)
