"""A series of invented cooks, put into a journal as a cook puts them there."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.journal import Journal
from pitjournal.journal.commands.records import AddCook
from tests.analysis.makers import compared

INJECTED = (TreatmentKind.NONE, TreatmentKind.INJECTED)
NEEDLED = TreatmentKind.NEEDLED


def add_cook(
    journal: Journal,
    values: Sequence[Sequence[float]],
    *,
    cut: str = "St. Louis ribs",
    kinds: Sequence[TreatmentKind] = INJECTED,
    worth: float | None = None,
    packs: bool = True,
) -> str:
    """Add a cook that is done, tasted and revealed, a week after the last; return its id."""
    names = [str(kind).capitalize() for kind in kinds]
    whole = compared(names, values, packs=packs)
    later = timedelta(days=7 * len(journal.cooks.page(most=500)))
    cook = replace(
        whole.cook,
        status=CookStatus.DONE,
        starts_at=whole.cook.starts_at + later,
        worth_knowing=worth,
    )
    treatments = tuple(
        Treatment(cook_id=cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, kinds, strict=True)
    )
    pieces = tuple(replace(piece, cut=cut) for piece in whole.pieces)
    tasting = (*whole.tastings, *whole.samples, *whole.scores)
    journal.do(AddCook(cook, (*whole.arms, *pieces, *treatments, *tasting)))
    return cook.id


def add_two_by_two(journal: Journal, values: Sequence[Sequence[float]]) -> str:
    """Add a cook of neither, injected, needled and both, as `add_cook`; return its id."""
    whole = compared(("Left alone", "Injected", "Needled", "Both"), values)
    later = timedelta(days=7 * len(journal.cooks.page(most=500)))
    cook = replace(whole.cook, status=CookStatus.DONE, starts_at=whole.cook.starts_at + later)
    kinds = ((0, INJECTED[0]), (1, INJECTED[1]), (2, NEEDLED), (3, INJECTED[1]), (3, NEEDLED))
    treatments = tuple(
        Treatment(cook_id=cook.id, arm_id=whole.arms[place].id, kind=kind) for place, kind in kinds
    )
    tasting = (*whole.tastings, *whole.samples, *whole.scores)
    journal.do(AddCook(cook, (*whole.arms, *whole.pieces, *treatments, *tasting)))
    return cook.id


def differing(effect: float, *left: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return scores of pieces left alone and of others, pack by pack, that differ by so much."""
    return tuple(5.0 for _ in left), tuple(5.0 + effect + step for step in left)
