"""Invented cooks for the tests of the analysis, built by hand."""

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.samples import Samples
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingState
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.treatment import FuelLoad, FuelStage
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from tests.builders import NOON, a_cook, an_event

CATALOGUE = Catalogue()


def a_pit(cook: Cook, minutes: float) -> tuple[Trace, Samples]:
    """Return the channel of a pit at 250 °F from noon on: it goes up and down a little."""
    at = np.arange(0.0, 60.0 * minutes + 1.0, 60.0)
    trace = Trace(
        cook_id=cook.id,
        probe_file_id="x",
        channel="pit",
        unit_in_file="degC",
        sits=Sits.PIT,
        samples="pit",
        count=at.size,
        starts_at=NOON,
        ends_at=NOON + timedelta(minutes=minutes),
        interval=60.0,
    )
    values = 121.0 + 2.0 * np.sin(2.0 * np.pi * at / 1500.0)
    return trace, Samples(NOON.timestamp() + at, values.astype(np.float32))


def no_readings(_trace: Trace) -> Samples:
    """Have no probe file."""
    raise JournalError("There is none.")


def compared(
    names: Sequence[str],
    values: Sequence[Sequence[float]],
    *,
    state: TastingState = TastingState.REVEALED,
    packs: bool = True,
    outcome: str = "score.tenderness",
) -> WholeCook:
    """Return a cook whose pieces got these tenderness scores from one taster, arm by arm.

    The n-th piece of each arm comes from pack n.
    """
    cook = a_cook(outcome=outcome)
    arms = tuple(
        Arm(cook_id=cook.id, position=place, name=name, control=place == 0)
        for place, name in enumerate(names)
    )
    pieces: list[Piece] = []
    scores: list[Score] = []
    samples: list[Sample] = []
    session = Tasting(
        cook_id=cook.id,
        scheme="home panel",
        criteria=("tenderness",),
        low=-100,
        high=100,
        state=state,
        tasters=("Ada",),
    )
    for place, (arm, given) in enumerate(zip(arms, values, strict=True)):
        for number, value in enumerate(given):
            piece = Piece(
                cook_id=cook.id,
                position=len(pieces),
                label=f"{'ABCDEFG'[place]}{number + 1}",
                cut="St. Louis ribs",
                arm_id=arm.id,
                pack=f"pack {number + 1}" if packs else "",
            )
            code = str(100 + len(pieces))
            sample = Sample(cook_id=cook.id, tasting_id=session.id, piece_id=piece.id, code=code)
            pieces.append(piece)
            samples.append(sample)
            scores.append(
                Score(
                    cook_id=cook.id,
                    tasting_id=session.id,
                    sample_id=sample.id,
                    taster="Ada",
                    criterion="tenderness",
                    value=value,
                )
            )
    return WholeCook(
        cook=cook,
        arms=arms,
        pieces=tuple(pieces),
        tastings=(session,),
        samples=tuple(samples),
        scores=tuple(scores),
    )


def one_rack(cook: Cook | None = None) -> tuple[Cook, Piece]:
    """Return a cook and one piece of it."""
    made = cook or a_cook()
    return made, Piece(cook_id=made.id, position=0, label="A1", cut="back ribs")


def weighed(cook: Cook, piece: Piece, **masses: float) -> tuple[Weighing, ...]:
    """Return weighings, g, by stage."""
    return tuple(
        Weighing(cook_id=cook.id, piece_id=piece.id, stage=Stage(stage), mass=mass)
        for stage, mass in masses.items()
    )


def fed(cook: Cook, **masses: float) -> tuple[FuelLoad, ...]:
    """Return loads of lump, g: `put_in`, `added`, `left`, `ash`."""
    names = {"put_in": FuelStage.IN}
    return tuple(
        FuelLoad(cook_id=cook.id, stage=names.get(name) or FuelStage(name), fuel="lump", mass=mass)
        for name, mass in masses.items()
    )


def felt(cook: Cook, piece: Piece, *checks: tuple[float, int]) -> tuple[DonenessCheck, ...]:
    """Return doneness checks: minutes after noon, and feel."""
    return tuple(
        DonenessCheck(
            cook_id=cook.id, piece_id=piece.id, at=NOON + timedelta(minutes=minutes), feel=feel
        )
        for minutes, feel in checks
    )


def happened(cook: Cook, **minutes: float) -> tuple[Event, ...]:
    """Return events by kind, minutes after noon."""
    return tuple(an_event(cook.id, EventKind(kind), minutes=at) for kind, at in minutes.items())
