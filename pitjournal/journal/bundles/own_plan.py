"""A protocol of somebody else, as planned cooks of one's own."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.record import Record, new_id
from pitjournal.domain.times.moments import time_zone
from pitjournal.journal.bundles.records_out import OF_JOURNAL
from pitjournal.local_zone import local_zone


def own_plan(records: Sequence[Record], now: datetime) -> list[Record]:
    """Return the records of a protocol under ids of their own.

    Each kitchen's cook is another cook: under one id, the results of two would be taken for
    the same. What stands on the Shelf keeps its id.

    Parameters
    ----------
    records
        As they were read, parents first.
    now
        The time; aware. A cook begins at its hour on the next day, by this computer's zone.
    """
    ids = {one.id: new_id() for one in records if not isinstance(one, OF_JOURNAL)}
    return [_own(one, ids, now) for one in records]


def _own(record: Record, ids: dict[str, str], now: datetime) -> Record:
    links = ("id", *record.PARENTS, *record.LOOSE)
    changed: dict[str, Any] = {
        name: ids[value] for name in links if (value := getattr(record, name)) in ids
    }
    if isinstance(record, Cook):
        changed |= {"status": CookStatus.PLANNED, "zone": local_zone(), "number": 0}
        changed["starts_at"] = _tomorrow(record, now)
    return replace(record, **changed)


def _tomorrow(cook: Cook, now: datetime) -> datetime:
    """Return the hour a cook began at, on the next day here."""
    zone = time_zone(local_zone())
    hour = cook.starts_at.astimezone(time_zone(cook.zone)).time()
    return datetime.combine(now.astimezone(zone).date() + timedelta(days=1), hour, tzinfo=zone)
