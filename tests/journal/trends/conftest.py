import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from pitjournal.domain.cook import Arm
from pitjournal.domain.event import Note
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingState
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands.records import Add, AddCook
from tests.builders import a_cook

START = datetime(2024, 1, 3, 12, 0, tzinfo=UTC)
COOKERS = tuple(ShelfItem(kind=ShelfKind.COOKER, name=name) for name in ("Drum", 'The "Old" One'))
CUTS = ("brisket", "back ribs", 'o\'cut "q"', "")
KINDS = (TreatmentKind.NONE, TreatmentKind.INJECTED, TreatmentKind.NEEDLED)
WORDS = ("lemon", "pepper", "windy", "Smoke", "late")


@pytest.fixture(scope="session")
def mixed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Journal]:
    """A journal of seventy invented cooks with holes of every sort."""
    journal = open_journal(tmp_path_factory.mktemp("mixed") / "journal", new=True)
    lot = random.Random(7)
    journal.do(Add(COOKERS, "Cookers"))
    for number in range(70):
        journal.do(a_mixed_cook(number, lot))
    yield journal
    journal.close()


def a_mixed_cook(number: int, lot: random.Random) -> AddCook:
    """Return a cook of which now this and now that is not recorded."""
    cook = a_cook(
        " ".join(lot.choices(WORDS, k=2)),
        starts_at=START + timedelta(hours=281 * number),
        zone="UTC",
        cooker_id=lot.choice((COOKERS[0].id, COOKERS[1].id, None)),
        set_point=lot.choice((107.0, 121.0, None)),
    )
    parts: list[Record] = [
        Arm(cook_id=cook.id, position=n, name=str(kind), control=n == 0)
        for n, kind in enumerate(KINDS[: lot.randint(0, 3)])
    ]
    arms = [part for part in parts if isinstance(part, Arm)]
    for arm, kind in zip(arms, KINDS, strict=False):
        if lot.random() < 0.9:
            parts.append(Treatment(cook_id=cook.id, arm_id=arm.id, kind=kind))
    pieces = [
        Piece(
            cook_id=cook.id,
            position=n,
            label=f"A{n}",
            cut=lot.choice(CUTS),
            arm_id=lot.choice(arms).id if arms and lot.random() < 0.9 else None,
            grade=lot.choice(("choice", "prime", "")),
            thickness_1=lot.choice((None, round(lot.uniform(0.02, 0.06), 3))),
        )
        for n in range(lot.randint(0, 5))
    ]
    parts += pieces
    for piece in pieces:
        for stage, low, high in ((Stage.BOUGHT, 3000, 4000), (Stage.TRIMMED, 2000, 3000)):
            if lot.random() < 0.7:
                mass = lot.uniform(low, high)
                parts.append(Weighing(cook_id=cook.id, piece_id=piece.id, stage=stage, mass=mass))
        if lot.random() < 0.8:
            mass = lot.uniform(1000, 2000)
            parts.append(Weighing(cook_id=cook.id, piece_id=piece.id, stage=Stage.OFF, mass=mass))
    if lot.random() < 0.6:
        text = " ".join(lot.choices(WORDS, k=3))
        parts.append(Note(cook_id=cook.id, text=text, at=cook.starts_at))
    if pieces and lot.random() < 0.8:
        parts += tasted(cook.id, pieces, lot)
    return AddCook(cook, tuple(parts))


def tasted(cook_id: str, pieces: list[Piece], lot: random.Random) -> list[Record]:
    session = Tasting(
        cook_id=cook_id,
        scheme="home panel",
        criteria=("tenderness", "juiciness"),
        low=1,
        high=9,
        state=lot.choice((TastingState.REVEALED, TastingState.REVEALED, TastingState.LOCKED)),
    )
    samples = [
        Sample(cook_id=cook_id, tasting_id=session.id, piece_id=piece.id, code=str(100 + n))
        for n, piece in enumerate(pieces)
    ]
    scores = [
        Score(
            cook_id=cook_id,
            tasting_id=session.id,
            sample_id=sample.id,
            taster=taster,
            criterion=criterion,
            value=float(lot.randint(1, 9)),
        )
        for sample in samples
        for taster in ("Ada", "Bruno")
        for criterion in session.criteria
        if lot.random() < 0.8
    ]
    return [session, *samples, *scores]
