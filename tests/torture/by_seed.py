"""Ids and times of steps that come from a seed alone, so that a failing round can be repeated."""

import random
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime, timedelta
from itertools import count
from types import SimpleNamespace
from unittest.mock import patch

from pitjournal.domain import record
from pitjournal.store import history, staleness

BEGIN = datetime(2026, 5, 1, tzinfo=UTC)


@contextmanager
def by_seed(seed: int) -> Iterator[None]:
    """Make what is written within depend on nothing but the seed."""
    draw, steps = random.Random(seed), count()

    class AnyTime(type(datetime)):  # type: ignore[misc]
        def __instancecheck__(cls, one: object) -> bool:
            return isinstance(one, datetime)

    class Steady(datetime, metaclass=AnyTime):
        @classmethod
        def now(cls, _: object = None) -> datetime:  # type: ignore[override]
            return BEGIN + timedelta(seconds=next(steps))

    lots = SimpleNamespace(randbits=draw.getrandbits)
    clock = SimpleNamespace(time_ns=lambda: int(BEGIN.timestamp()) * 10**9)
    with ExitStack() as stack:
        for module, name, instead in (
            (record, "secrets", lots),
            (record, "time", clock),
            (record, "_last", 0),
            (staleness, "secrets", lots),
            (history, "datetime", Steady),
        ):
            stack.enter_context(patch.object(module, name, instead))
        yield
