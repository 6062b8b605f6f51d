"""The files of an open journal: bytes as they were kept, and the readings of its traces."""

from typing import TYPE_CHECKING

from pitjournal.domain.trace import Trace
from pitjournal.journal.commands.files import KeptFile
from pitjournal.store.database import Database
from pitjournal.store.faults import NotSavedError

if TYPE_CHECKING:
    from pitjournal.domain.samples import Samples


class KeptFiles:
    """Photos, logs and readings of an open journal."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._overlaid: dict[str, Samples] = {}

    def keep(self, data: bytes, media_type: str, name: str) -> KeptFile:
        """Write bytes into the attachments; a command must then name them.

        Raises
        ------
        NotSavedError
            If the journal can only be read, or the disk refuses.
        """
        if self._database.why_read_only is not None:
            raise NotSavedError(*self._database.why_read_only)
        return KeptFile(self._database.attachments.keep(data), len(data), media_type, name)

    def read(self, sha: str) -> bytes:
        """Return a kept file's bytes."""
        return self._database.attachments.read(sha)

    def samples(self, trace: Trace) -> "Samples":
        """Return a trace's readings with its clock and its probe put right.

        Those of a probe that was not in its place are left out.
        """
        return self._put_right(trace, trace.left_out)

    def all_samples(self, trace: Trace) -> "Samples":
        """Return the readings with those of a probe that was not in its place."""
        return self._put_right(trace, ())

    def _put_right(self, trace: Trace, left_out: tuple[tuple[float, float], ...]) -> "Samples":
        from pitjournal.domain.samples import Samples
        from pitjournal.files.samples import unpack

        raw = self._overlaid.get(trace.samples)
        if raw is None:
            raw = unpack(self.read(trace.samples))
        for start, end in left_out:
            away = (raw.times >= start) & (raw.times <= end)  # its last one too
            raw = Samples(raw.times[~away], raw.values[~away])
        number = raw.values.dtype.type
        added = number(trace.correction) + number(trace.correction_slope) * raw.values
        # A correction that rises with the reading leaves the least and the most where they are.
        levels = raw.levels if trace.correction_slope > -1.0 else b""
        return Samples(trace.true_time(raw.times), raw.values + added, levels)

    def overlay(self, readings: "dict[str, Samples]") -> None:
        """Have these raw readings at hand under names of their own, in the place of others.

        A trace whose `samples` is such a name is read from them: it is shown, and not kept.
        """
        self._overlaid = dict(readings)
