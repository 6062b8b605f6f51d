"""Findings of three ways with six racks each and eight tasters, warm, against 150 ms.

Five such cooks stand in the journal, so that the comparison is joined over them. What takes
longer (the model of leeway, the spread) is another job and not in it.
"""

import random
import tempfile
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from statistics import median

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.tasting import HOME_PANEL, Sample, Score, Tasting, TastingState
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.records import AddCook
from pitjournal.units import UnitSystem
from tests.benchmarks.measure import Measurement, rounds, seconds
from tests.builders import NOON, a_cook, three_arms

ALLOWED = 0.150
ROUNDS = rounds(15)
COOKS = 5
RACKS = 6
TASTERS = tuple(f"taster {n}" for n in range(8))


def add_cook(journal: Journal, number: int, lot: random.Random) -> str:
    """Add a cook that was done, tasted and revealed; return its id."""
    cook = replace(
        a_cook(f"Invented cook {number}", outcome="score.tenderness"),
        status=CookStatus.DONE,
        starts_at=NOON + timedelta(days=number),
    )
    parts = three_arms(cook, pieces_each=RACKS)
    session = Tasting(
        cook_id=cook.id,
        scheme="home panel",
        criteria=HOME_PANEL,
        low=1,
        high=9,
        state=TastingState.REVEALED,
        tasters=TASTERS,
    )
    more: list[Record] = [session]
    for place, piece in enumerate(part for part in parts if isinstance(part, Piece)):
        more += _measured(piece, lot)
        sample = Sample(
            cook_id=cook.id, tasting_id=session.id, piece_id=piece.id, code=str(100 + place)
        )
        more.append(sample)
        more += [
            Score(
                cook_id=cook.id,
                tasting_id=session.id,
                sample_id=sample.id,
                taster=taster,
                criterion=criterion,
                value=float(lot.randint(3, 9)),
            )
            for taster in TASTERS
            for criterion in HOME_PANEL
        ]
    journal.do(AddCook(cook, (*parts, *more)))
    return cook.id


def _measured(piece: Piece, lot: random.Random) -> list[Record]:
    """Return weights, on and off, and the checks by feel of a rack."""
    cook, mass = piece.cook_id, lot.uniform(900, 1300)
    found: list[Record] = [
        Weighing(cook_id=cook, piece_id=piece.id, stage=stage, mass=mass * share)
        for stage, share in ((Stage.TRIMMED, 1.0), (Stage.ON, 1.02), (Stage.OFF, 0.75))
    ]
    off = lot.uniform(220, 280)
    for kind, minutes in ((EventKind.ON, 0.0), (EventKind.OFF, off)):
        moment = NOON + timedelta(minutes=minutes)
        found.append(
            Event(
                cook_id=cook,
                kind=str(kind),
                happened_at=moment,
                entered_at=moment,
                pieces=(piece.id,),
            )
        )
    found += [
        DonenessCheck(
            cook_id=cook,
            piece_id=piece.id,
            at=NOON + timedelta(minutes=off - 60 + 15 * step),
            feel=feel,
            internal=85.0 + 2 * step,
        )
        for step, feel in enumerate((2, 3, 4, 5))
    ]
    return found


def run() -> Measurement:
    """Measure the findings of the newest cook."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "journal"
        lot = random.Random(20260501)
        with closing(open_journal(folder, new=True)) as journal:
            newest = [add_cook(journal, number, lot) for number in range(COOKS)][-1]
            for _ in range(2):
                journal.findings.of(newest, UnitSystem.US)
            times = [
                seconds(lambda: journal.findings.of(newest, UnitSystem.US)) for _ in range(ROUNDS)
            ]
    return Measurement("findings", median(times), ALLOWED, 1.0)
