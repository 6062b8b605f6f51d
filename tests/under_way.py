"""A cook of one piece under way, with the traces that the simulator of cooks gives it."""

from datetime import timedelta

import numpy as np

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import ProbeFile, Sits, Trace
from pitjournal.files.samples import pack
from pitjournal.journal import Journal
from pitjournal.journal.commands.files import KeepProbeFile
from pitjournal.journal.commands.records import AddCook
from tests.benchmarks.simulated import Cooks
from tests.builders import NOON, a_cook


def under_way(journal: Journal, cooks: Cooks, minutes: int, cut: str = "SL ribs") -> Cook:
    """Add a cook of one rack under way, with its pit's and its meat's trace so far."""
    cook = a_cook(status=CookStatus.RUNNING, set_point=float(cooks.set_point[0]))
    piece = Piece(
        cook_id=cook.id,
        position=0,
        label="1",
        cut=cut,
        thickness_1=float(cooks.thickness[0]) / 1000.0,
    )
    on = Event(
        cook_id=cook.id, kind=EventKind.ON, happened_at=NOON, entered_at=NOON, pieces=(piece.id,)
    )
    planned = NOON + timedelta(hours=5)
    off = Event(
        cook_id=cook.id,
        kind=EventKind.OFF,
        happened_at=None,
        entered_at=NOON,
        planned_at=planned,
        pieces=(piece.id,),
    )
    mass = Weighing(cook_id=cook.id, piece_id=piece.id, stage=Stage.ON, mass=float(cooks.mass[0]))
    journal.do(AddCook(cook, (piece, mass, on, off)))
    log = journal.files.keep(b"time,pit,meat\n", "text/csv", "live.csv")
    file = ProbeFile(cook_id=cook.id, name="live.csv", attachment=log.sha, added_at=NOON)
    times = NOON.timestamp() + 60.0 * np.arange(minutes, dtype=np.float64)
    traces, kept = [], [log]
    for channel, values in (("pit", cooks.pit[:minutes, 0]), ("meat", cooks.meat[:minutes, 0])):
        packed = pack(Samples(times, values.astype(np.float32)))
        kept.append(journal.files.keep(packed, "application/octet-stream", channel))
        traces.append(
            Trace(
                cook_id=cook.id,
                probe_file_id=file.id,
                channel=channel,
                unit_in_file="degC",
                sits=Sits.PIT if channel == "pit" else Sits.MEAT,
                piece_id=None if channel == "pit" else piece.id,
                samples=kept[-1].sha,
                count=minutes,
                starts_at=NOON,
                ends_at=NOON + timedelta(minutes=minutes - 1),
                interval=60.0,
            )
        )
    journal.do(KeepProbeFile(file, tuple(traces), tuple(kept)))
    return cook
