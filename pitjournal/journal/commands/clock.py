"""Put the times of a cook right together, where they were logged by a wrong clock."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from pitjournal.domain.event import DonenessCheck, Event, Note
from pitjournal.domain.piece import Weighing
from pitjournal.domain.record import Record
from pitjournal.domain.treatment import FuelLoad, WoodAddition
from pitjournal.store.transaction import Transaction

BY_HAND: tuple[type[Record], ...] = (DonenessCheck, Note, Weighing, FuelLoad, WoodAddition)
"""What is logged at a moment, beside events."""


@dataclass(frozen=True)
class MoveTimes:
    """Move what was logged of a cook since a moment; probe files keep their logger's clock."""

    cook_id: str
    since: datetime
    by: timedelta
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Move it."""
        for event in transaction.find(Event, cook_id=self.cook_id):
            if event.happened_at is not None and event.entered_at >= self.since:
                self._put(transaction, event, ("happened_at", "entered_at"))
        for kind in BY_HAND:
            for record in transaction.find(kind, cook_id=self.cook_id):
                at = getattr(record, "at", None)
                if at is not None and at >= self.since:
                    self._put(transaction, record, ("at",))

    def _put(self, transaction: Transaction, record: Record, names: tuple[str, ...]) -> None:
        moved: Mapping[str, Any] = {name: getattr(record, name) + self.by for name in names}
        transaction.put(record, replace(record, **moved))
