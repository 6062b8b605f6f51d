"""When the meat of a plan comes off, with its chances, for the day's ribbon."""

from collections.abc import Mapping
from datetime import datetime

from pitjournal.analysis.plan.schedule import Spans, began
from pitjournal.domain.day.ribbon import Fan
from pitjournal.domain.event import EventKind
from pitjournal.domain.whole_cook import WholeCook

SHARE = 0.8
"""The ribbon shows so much of the chances, between the tenth and the nine tenths."""


def fan_of(whole: WholeCook, spans: Spans, moves: Mapping[str, datetime]) -> Fan | None:
    """Return when the meat comes off, by how long such meat took.

    None where there are several cuts, where nobody knows how long it takes, where no meat is
    planned to go on, and once any is off.

    Parameters
    ----------
    whole
        The cook.
    spans
        How long everything takes.
    moves
        Other times of planned steps by their ids.
    """
    if len(spans.groups) != 1 or whole.first(EventKind.OFF) is not None:
        return None
    (group,) = spans.groups
    on = began(whole, group) or min(
        (
            moves.get(event.id, event.planned_at)
            for event in whole.events
            if event.kind == EventKind.ON and event.happened_at is None and event.planned_at
        ),
        default=None,
    )
    if on is None or group.time_on is None:
        return None
    start, takes = on.timestamp(), group.time_on
    early, late = (takes.within(chance) for chance in ((1 - SHARE) / 2, (1 + SHARE) / 2))
    return Fan(start + early, start + takes.usual, start + late, SHARE)
