"""What each cook showed by itself, small enough for a line of the list."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pitjournal.domain.catalogue import Variable
from pitjournal.units import UnitSystem, difference_of, unit_label

if TYPE_CHECKING:
    from pitjournal.analysis.findings.comparison import Difference

POINTS = "points"


@dataclass(frozen=True)
class Spark:
    """An arm against the control in one cook alone, points; `tells` where that is enough."""

    look: int
    estimate: float
    low: float | None
    high: float | None
    tells: bool


@dataclass(frozen=True)
class Sparks:
    """The arms of a cook in points; for an outcome in another unit only that `unit`."""

    unit: str = ""
    arms: tuple[Spark, ...] = ()


def sparks_of(made: "Sequence[Difference]", outcome: Variable | None, system: UnitSystem) -> Sparks:
    """Return what is drawn of a cook's comparison.

    Parameters
    ----------
    made
        Its arms against the control, storage unit.
    outcome
        The declared outcome; None where there is none.
    system
        The units of the journal.
    """
    known = [d for d in made if d.estimate is not None]
    if outcome is None or not known:
        return Sparks()
    unit = unit_label(difference_of(outcome.dimension), system)
    if unit != POINTS:
        return Sparks(unit or outcome.label)
    arms = (Spark(d.look, d.estimate or 0.0, *d.shown, d.tells) for d in known)
    return Sparks(POINTS, tuple(arms))
