"""What a cook concludes in their own words, with what was known when it was written."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

from pitjournal.domain.record import Record


@dataclass(frozen=True, kw_only=True)
class Conclusion(Record):
    """The cook's own conclusion: it stays as written when the numbers change.

    `over` are the ids of the cooks that the answer rested on then, and `said` is what stood as
    the answer of each arm, so that it can be told what has changed since.
    """

    KIND: ClassVar[str] = "conclusion"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    text: str
    at: datetime
    over: tuple[str, ...] = ()
    said: tuple[str, ...] = ()
