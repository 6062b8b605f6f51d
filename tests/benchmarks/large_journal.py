"""A seeded generator of large journals, written through the store, kept between runs."""

import random
import tempfile
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import insert

from pitjournal.domain.cook import Arm, Cook, CookStatus
from pitjournal.domain.piece import CUTS, Piece, Stage, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.tasting import HOME_PANEL, Sample, Score, Tasting, TastingState
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.journal import open_journal
from pitjournal.store.database import Database
from pitjournal.store.rows import row_of
from pitjournal.store.schema import TABLES

VERSION = 1
SEED = 20260501
PIECES = 4
TASTERS = ("Ada", "Bruno", "Clio")
START = datetime(2016, 1, 2, 14, 0, tzinfo=UTC)
BATCH = 250
COOKERS = tuple(
    ShelfItem(id=f"{n:032x}", kind=ShelfKind.COOKER, name=f"cooker {n}") for n in range(6)
)


def large_journal(cooks: int, *, scores: bool = False) -> Path:
    """Return the folder of a journal with so many invented cooks; made once and kept."""
    name = f"pitjournal-benchmark-{VERSION}-{cooks}{'-scores' if scores else ''}"
    folder = Path(tempfile.gettempdir()) / name
    ready = folder / "ready"
    if ready.exists():
        return folder
    with closing(open_journal(folder, new=True)) as journal:
        _write(journal.database, list(COOKERS))
        lot = random.Random(SEED)
        batch: list[Record] = []
        for number in range(cooks):
            batch += _cook(number, lot, scores=scores)
            if number % BATCH == BATCH - 1:
                _write(journal.database, batch)
                batch = []
        _write(journal.database, batch)
    ready.write_text("ready", encoding="utf-8")
    return folder


def _write(database: Database, records: list[Record]) -> None:
    by_kind: dict[str, list[dict[str, object]]] = {}
    for record in records:
        by_kind.setdefault(record.KIND, []).append(dict(row_of(record)))
    with database.quiet_write() as connection:
        for kind, rows in by_kind.items():
            connection.execute(insert(TABLES[kind]), rows)


def _cook(number: int, lot: random.Random, *, scores: bool) -> Iterator[Record]:
    cook = Cook(
        number=number + 1,
        title=f"Invented cook {number + 1}",
        starts_at=START + timedelta(hours=9 * number),
        zone="America/Chicago",
        status=CookStatus.DONE,
        outcome="score.tenderness",
        cooker_id=lot.choice(COOKERS).id,
        set_point=lot.choice((107.0, 121.0, 135.0)),
    )
    yield cook
    kinds = (TreatmentKind.NONE, lot.choice((TreatmentKind.INJECTED, TreatmentKind.NEEDLED)))
    arms = [
        Arm(cook_id=cook.id, position=place, name=str(kind), control=place == 0)
        for place, kind in enumerate(kinds)
    ]
    yield from arms
    for arm, kind in zip(arms, kinds, strict=True):
        yield Treatment(cook_id=cook.id, arm_id=arm.id, kind=kind)
    cut = lot.choice(CUTS)
    pieces = [
        Piece(
            cook_id=cook.id,
            position=place,
            label=f"{'AB'[place % 2]}{place // 2 + 1}",
            cut=cut,
            arm_id=arms[place % 2].id,
            pack=f"pack {place // 2 + 1}",
            thickness_1=lot.uniform(0.02, 0.06),
        )
        for place in range(PIECES)
    ]
    yield from pieces
    for piece in pieces:
        trimmed = lot.uniform(900.0, 6000.0)
        for stage, share in (
            (Stage.TRIMMED, 1.0),
            (Stage.ON, 0.99),
            (Stage.OFF, lot.uniform(0.5, 0.8)),
        ):
            yield Weighing(cook_id=cook.id, piece_id=piece.id, stage=stage, mass=trimmed * share)
    if scores:
        yield from _scores(cook, pieces, lot)


def _scores(cook: Cook, pieces: list[Piece], lot: random.Random) -> Iterator[Record]:
    session = Tasting(
        cook_id=cook.id,
        scheme="home panel",
        criteria=HOME_PANEL,
        low=1,
        high=9,
        state=TastingState.REVEALED,
        tasters=TASTERS,
    )
    yield session
    for place, piece in enumerate(pieces):
        sample = Sample(
            cook_id=cook.id, tasting_id=session.id, piece_id=piece.id, code=str(100 + place)
        )
        yield sample
        for taster in TASTERS:
            for criterion in HOME_PANEL:
                yield Score(
                    cook_id=cook.id,
                    tasting_id=session.id,
                    sample_id=sample.id,
                    taster=taster,
                    criterion=criterion,
                    value=float(lot.randint(3, 9)),
                )
