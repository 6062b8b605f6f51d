"""The day of a cook as a summary shows it: clock times only where they may leave."""

from dataclasses import replace
from datetime import datetime

from pitjournal.domain.day.ribbon import Ribbon, ribbon_of
from pitjournal.domain.day.schedule import WORKED_OUT
from pitjournal.domain.event import EventKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Choice, PrivatePart, RibbonChart

TRADE = frozenset(EventKind) | WORKED_OUT
"""What the trade calls so; any other word is the cook's own, and leaves only with the times."""


def day_chart(whole: WholeCook, choice: Choice) -> RibbonChart | None:
    """Return the day of a cook; None where nothing of it was logged."""
    times = [e.happened_at for e in whole.events if e.happened_at is not None]
    if not times:
        return None
    ribbon = ribbon_of(whole, max(times))
    on = whole.first(EventKind.ON)
    begun = on.happened_at if on is not None and on.happened_at is not None else min(times)
    zone = whole.cook.zone if PrivatePart.TIMES in choice else ""
    marks = tuple(mark for mark in ribbon.marks if zone or mark.kind in TRADE)
    shown = replace(ribbon, marks=marks, now=None)
    title = "The day" if zone else "The day, from when the first piece went on"
    return RibbonChart(
        title, _moved(shown, begun, zone), zone, 0.0 if not zone else begun.timestamp()
    )


def _moved(ribbon: Ribbon, begun: datetime, zone: str) -> Ribbon:
    """Return the ribbon; without clock times it counts from when the first piece went on."""
    if zone:
        return ribbon
    start = begun.timestamp()
    lanes = tuple(
        replace(
            lane,
            courses=tuple(
                tuple(replace(s, start=s.start - start, end=s.end - start) for s in course)
                for course in lane.courses
            ),
        )
        for lane in ribbon.lanes
    )
    marks = tuple(
        replace(
            mark,
            at=mark.at - start,
            until=mark.until - start,
            wanted=None if mark.wanted is None else mark.wanted - start,
        )
        for mark in ribbon.marks
    )
    turn_in = None if ribbon.turn_in is None else ribbon.turn_in - start
    return replace(ribbon, lanes=lanes, marks=marks, turn_in=turn_in)
