"""A seeded generator of large journals, written into a real journal's tables, kept between runs.

python -m tests.benchmarks.large_journal 10000 --scores
"""

import argparse
import random
import sqlite3
import tempfile
import zlib
from collections import defaultdict
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy.schema import CreateTable

from pitjournal.domain.catalogue import formulas
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Stage
from pitjournal.domain.tasting import HOME_PANEL, TastingState
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.journal import open_journal
from pitjournal.store.columns import moment_text
from pitjournal.store.schema import metadata
from tests.benchmarks.measure import size

VERSION = 3
SEED = 20260501
CUTS = ("spare ribs", "St. Louis ribs", "back ribs", "pork butt", "brisket", "tri-tip", "salmon")
PIECES = 4
COOKERS = 6
TASTERS = ("Ada", "Bruno", "Clio")
START = datetime(2016, 1, 2, 14, 0, tzinfo=UTC)
SET_POINTS = (107.0, 121.0, 135.0)
WORDS = ("smoke", "bark", "lemon", "pepper", "windy", "fat cap", "tender", "foil", "late")
BATCH = 500
LITTLE = 120
"""So many cooks are enough to see that a benchmark runs."""

Row = dict[str, object]


def large_journal(cooks: int, *, scores: bool = False, worked_out: bool = True) -> Path:
    """Return the folder of a journal with so many invented cooks; made once and kept.

    Parameters
    ----------
    scores
        Whether each piece has twelve scores.
    worked_out
        Whether what is derived is worked out already.
    """
    cooks = size(cooks, LITTLE)
    tables = "".join(str(CreateTable(table)) for table in metadata.sorted_tables)
    tables += repr(formulas())  # by other formulas all of it would be behind
    extra = f"{'-scores' if scores else ''}{'' if worked_out else '-behind'}"
    name = f"pitjournal-benchmark-{VERSION}-{zlib.crc32(tables.encode()):08x}-{cooks}{extra}"
    folder = Path(tempfile.gettempdir()) / name
    ready = folder / "ready"
    if ready.exists():
        return folder
    open_journal(folder, new=True).close()
    with closing(sqlite3.connect(folder / "journal.sqlite")) as connection:
        _fill(connection, cooks, scores=scores)
    if worked_out:
        with closing(open_journal(folder)) as journal:
            journal.worked_out.catch_up()
    ready.write_text("ready", encoding="utf-8")
    return folder


def _fill(connection: sqlite3.Connection, cooks: int, *, scores: bool) -> None:
    connection.execute("PRAGMA synchronous=OFF")
    lot = random.Random(SEED)
    for table in metadata.sorted_tables:  # begun anew, if the last time was cut short
        if table.name != "schema_version":
            connection.execute(f"DELETE FROM {table.name}")
    rows: dict[str, list[Row]] = defaultdict(list)
    for number in range(COOKERS):
        rows["shelf_item"].append({"id": _id(number), "kind": "cooker", "name": f"cooker {number}"})
    for number in range(cooks):
        for kind, row in _cook(number, lot, scores=scores):
            rows[kind].append(row)
        if number % BATCH == BATCH - 1 or number == cooks - 1:
            for kind, some in rows.items():
                _insert(connection, kind, some)
            connection.commit()
            rows.clear()


def _insert(connection: sqlite3.Connection, kind: str, rows: list[Row]) -> None:
    names = list(rows[0])
    marks = ", ".join("?" for _ in names)
    connection.executemany(
        f"INSERT INTO {kind} ({', '.join(names)}) VALUES ({marks})",
        [tuple(row.values()) for row in rows],
    )


def _id(number: int) -> str:
    return f"{number:032x}"


def _cook(number: int, lot: random.Random, *, scores: bool) -> Iterator[tuple[str, Row]]:
    """Return one cook's rows; its ids follow its number, so that later cooks sort later."""
    fresh = iter(range((number + 1) << 12, (number + 2) << 12))
    cook, start = _id(next(fresh)), START + timedelta(hours=9 * number)
    yield (
        "cook",
        {
            "id": cook,
            "number": number + 1,
            "title": f"Invented cook {number + 1}",
            "starts_at": moment_text(start),
            "zone": "America/Chicago",
            "status": "done",
            "kind": "practice",
            "outcome": "score.tenderness",
            "cooker_id": _id(lot.randrange(COOKERS)),
            "set_point": lot.choice(SET_POINTS),
        },
    )
    yield "stale", {"cook_id": cook}
    kinds = (TreatmentKind.NONE, lot.choice((TreatmentKind.INJECTED, TreatmentKind.NEEDLED)))
    arms = [_id(next(fresh)) for _ in kinds]
    for place, (arm, kind) in enumerate(zip(arms, kinds, strict=True)):
        row: Row = {"id": arm, "cook_id": cook, "position": place, "name": kind.value}
        yield "arm", row | {"control": place == 0}
        yield (
            "treatment",
            {"id": _id(next(fresh)), "cook_id": cook, "arm_id": arm, "kind": kind.value},
        )
    pieces = [_id(next(fresh)) for _ in range(PIECES)]
    cut = lot.choice(CUTS)
    for place, piece in enumerate(pieces):
        yield (
            "piece",
            {
                "id": piece,
                "cook_id": cook,
                "position": place,
                "label": f"{'AB'[place % 2]}{place // 2 + 1}",
                "cut": cut,
                "arm_id": arms[place % 2],
                "pack": f"pack {place // 2 + 1}",
                "thickness_1": lot.uniform(0.02, 0.06),
            },
        )
        trimmed, left = lot.uniform(900.0, 6000.0), lot.uniform(0.5, 0.8)
        for stage, share in ((Stage.TRIMMED, 1.0), (Stage.ON, 0.99), (Stage.OFF, left)):
            row = {"id": _id(next(fresh)), "cook_id": cook, "piece_id": piece}
            yield "weighing", row | {"stage": stage.value, "mass": trimmed * share}
    for event, hours in ((EventKind.ON, 0.0), (EventKind.OFF, lot.uniform(3.0, 9.0))):
        at = moment_text(start + timedelta(hours=hours))
        row = {"id": _id(next(fresh)), "cook_id": cook, "kind": event.value}
        yield "event", row | {"happened_at": at, "entered_at": at}
    words = " ".join(lot.choices(WORDS, k=6))
    row = {"id": _id(next(fresh)), "cook_id": cook, "text": words}
    yield "note", row | {"at": moment_text(start)}
    if scores:
        yield from _scores(cook, pieces, lot, fresh)


def _scores(
    cook: str, pieces: list[str], lot: random.Random, fresh: Iterator[int]
) -> Iterator[tuple[str, Row]]:
    session = _id(next(fresh))
    yield (
        "tasting",
        {
            "id": session,
            "cook_id": cook,
            "scheme": "home panel",
            "criteria": '["' + '", "'.join(HOME_PANEL) + '"]',
            "low": 1.0,
            "high": 9.0,
            "state": TastingState.REVEALED.value,
        },
    )
    for place, piece in enumerate(pieces):
        sample = _id(next(fresh))
        own = {"cook_id": cook, "tasting_id": session}
        yield "sample", {"id": sample, **own, "piece_id": piece, "code": str(100 + place)}
        for taster in TASTERS:
            for criterion in HOME_PANEL:
                row: Row = {"id": _id(next(fresh)), **own, "sample_id": sample, "taster": taster}
                yield "score", row | {"criterion": criterion, "value": float(lot.randint(3, 9))}


if __name__ == "__main__":
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.large_journal")
    parser.add_argument("cooks", type=int)
    parser.add_argument("--scores", action="store_true")
    wanted = parser.parse_args()
    print(large_journal(wanted.cooks, scores=wanted.scores))
