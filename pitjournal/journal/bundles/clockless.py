"""Cooks without their clock times: each begins at noon of its day, and all of it moves along.

What is worked out of times, how long and how far apart, stays as it was; the hour, the zone and so
the part of the world are gone, from records and from readings alike.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from typing import Any, TypeVar

from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.domain.samples import Samples
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.trace import Trace
from pitjournal.store.columns import fields_of

R = TypeVar("R", bound=Record)

NOON = time(12, 0)

_AND: Mapping[str, tuple[str, ...]] = {"cook": ("zone",), "trace": ("samples", "left_out")}
"""What moves besides, or becomes something else."""


def clock_fields(kind: type[Record]) -> tuple[str, ...]:
    """Return the fields of a kind that say when, and so are moved."""
    moments = (n for n, (plain, _) in fields_of(kind).items() if issubclass(plain, datetime))
    return (*moments, *_AND.get(kind.KIND, ()))


class Clockless:
    """Moves what belongs to cooks so that each begins at noon.

    Parameters
    ----------
    cooks
        All whose records are to be moved.
    """

    def __init__(self, cooks: Iterable[Cook]) -> None:
        self._moves = {cook.id: _to_noon(cook) for cook in cooks}

    def moved(self, record: R) -> R:
        """Return a record at its moved times; one of no cook stays as it is."""
        cook_id = record.id if isinstance(record, Cook) else getattr(record, "cook_id", None)
        move = self._moves.get(str(cook_id))
        if move is None:
            return record
        changed: dict[str, Any] = {}
        for name in clock_fields(type(record)):
            value = getattr(record, name)
            if isinstance(value, datetime):
                changed[name] = value + move
        if isinstance(record, Cook):
            changed["zone"] = "UTC"
        if isinstance(record, Trace):
            far = move.total_seconds()
            changed["left_out"] = tuple((one + far, other + far) for one, other in record.left_out)
        typed = getattr(record, "typed", None)
        if typed:
            changed["typed"] = {name: said for name, said in typed.items() if name not in changed}
        return replace(record, **changed)

    def readings(self, samples: Samples, cook_id: str) -> Samples:
        """Return readings at their moved times."""
        far = self._moves[cook_id].total_seconds()
        return Samples(samples.times + far, samples.values)


def _to_noon(cook: Cook) -> timedelta:
    """Return how far a cook is moved: to noon, UTC, of the day it began on by its own clock."""
    day = cook.starts_at.astimezone(time_zone(cook.zone)).date()
    return datetime.combine(day, NOON, tzinfo=UTC) - cook.starts_at


def day_alone(moment: datetime) -> datetime:
    """Return the day of a moment, at midnight."""
    return datetime.combine(moment.astimezone(UTC).date(), time.min, tzinfo=UTC)
