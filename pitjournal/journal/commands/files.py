"""Commands that keep files: a probe's log with its traces, a photo."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pitjournal.domain.event import Photo
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.errors import JournalError
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class KeptFile:
    """A file that lies in the attachments already."""

    sha: str
    size: int
    media_type: str
    name: str


@dataclass(frozen=True)
class KeepProbeFile:
    """Keep a read probe file and its traces as one step."""

    probe_file: ProbeFile
    traces: tuple[Trace, ...]
    files: tuple[KeptFile, ...]
    label: str = "Attach a probe file"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep them; the same file twice for one cook is refused."""
        twin = transaction.find(
            ProbeFile, cook_id=self.probe_file.cook_id, attachment=self.probe_file.attachment
        )
        if twin:
            message = f"This cook has that file already, as {twin[0].name}."
            raise JournalError(message, "Remove the other one first to read it anew.")
        _name(transaction, self.files)
        transaction.add(self.probe_file, *self.traces)


@dataclass(frozen=True)
class PutBack:
    """Make a trace of a channel that was left out when its file was kept."""

    trace: Trace
    files: tuple[KeptFile, ...]
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep it; a channel that has its trace is refused."""
        file_id, channel = self.trace.probe_file_id, self.trace.channel
        if not transaction.find(ProbeFile, id=file_id):
            raise JournalError("That file was removed meanwhile.", "Undo brings it back.")
        if transaction.find(Trace, probe_file_id=file_id, channel=channel):
            raise JournalError(f"{channel} has its place already.", "Change where it sat instead.")
        _name(transaction, self.files)
        transaction.add(self.trace)


@dataclass(frozen=True)
class KeepPhotos:
    """Keep photos and their thumbnails as one step."""

    photos: tuple[Photo, ...]
    files: tuple[KeptFile, ...]
    label: str = "Add photos"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep them."""
        _name(transaction, self.files)
        transaction.add(*self.photos)


@dataclass(frozen=True)
class FollowFile:
    """Read on in a probe file while its logger writes it; with no path, no more."""

    probe_file_id: str
    path: str
    label: str = "Follow a probe file"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Note where it lies."""
        transaction.change(ProbeFile, self.probe_file_id, {"follows": self.path})


@dataclass(frozen=True)
class RenewFile:
    """Keep what a followed file has grown to: its bytes, its report, its traces' readings."""

    probe_file_id: str
    attachment: str
    report: Mapping[str, Any]
    traces: Mapping[str, Mapping[str, Any]]
    files: tuple[KeptFile, ...]
    label: str = "Read on in a probe file"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Change them; a trace that was removed meanwhile stays away."""
        _name(transaction, self.files)
        fields = {"attachment": self.attachment, "report": dict(self.report)}
        transaction.change(ProbeFile, self.probe_file_id, fields)
        for trace_id, changed in self.traces.items():
            if transaction.find(Trace, id=trace_id):
                transaction.change(Trace, trace_id, changed)


def _name(transaction: Transaction, files: tuple[KeptFile, ...]) -> None:
    transaction.name_attachments((one.sha, one.size, one.media_type, one.name) for one in files)


@dataclass(frozen=True)
class SetClock:
    """Put a probe file's clock right: s to add, and the fraction it runs slow by."""

    probe_file_id: str
    shift: float
    drift: float = 0.0
    label: str = "Set the clock of a probe file"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Set it for each of the file's traces; the drift counts from the first one's start."""
        traces = transaction.find(Trace, probe_file_id=self.probe_file_id)
        start = min((trace.starts_at for trace in traces), default=None)
        for trace in traces:
            assert start is not None
            since = (trace.starts_at - start).total_seconds()
            fields = {"shift": self.shift + self.drift * since, "drift": self.drift}
            transaction.change(Trace, trace.id, fields)


@dataclass(frozen=True)
class SwapTraces:
    """Swap where two channels sat: their probes were put in each other's place."""

    first_id: str
    second_id: str
    label: str = "Swap two probes"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Swap them; a channel keeps its clock and its probe's correction."""
        first, second = (transaction.get(Trace, one) for one in (self.first_id, self.second_id))
        for trace, other in ((first, second), (second, first)):
            fields = {"sits": other.sits, "piece_id": other.piece_id, "place": other.place}
            transaction.change(Trace, trace.id, fields)
