"""What was tapped and waits for the disk, laid over the cook as it is on the disk."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import UTC, datetime

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.other_day import STARTS
from pitjournal.domain.day.schedule import is_open
from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.bench import CheckDoneness, LogEvent
from pitjournal.journal.commands.records import Together

NOT_SAVED = "not saved yet"
_BEGINNING = datetime.min.replace(tzinfo=UTC)


def tapped_of(waiting: Iterable[Command], cook_id: str) -> tuple[Event | DonenessCheck, ...]:
    """Return what commands that wait would log of a cook, in their order."""
    found: list[Event | DonenessCheck] = []
    for command in _single(waiting):
        if isinstance(command, LogEvent) and command.event.happened_at is not None:
            found.append(command.event)
        elif isinstance(command, CheckDoneness):
            found.append(command.check)
    return tuple(record for record in found if record.cook_id == cook_id)


def _single(commands: Iterable[Command]) -> Iterator[Command]:
    for command in commands:
        if isinstance(command, Together):
            yield from _single(command.commands)
        else:
            yield command


def with_unsaved(whole: WholeCook, waiting: Iterable[Command]) -> WholeCook:
    """Return a cook as it will be once what waits is saved: the clock and the taps go by it."""
    tapped = tapped_of(waiting, whole.cook.id)
    if not tapped:
        return whole
    events = [record for record in tapped if isinstance(record, Event)]
    checks = [record for record in tapped if isinstance(record, DonenessCheck)]
    cook = whole.cook
    if cook.status is CookStatus.PLANNED and any(event.kind in STARTS for event in events):
        cook = replace(cook, status=CookStatus.RUNNING)
    left = [step for step in whole.events if not any(_does(event, step) for event in events)]
    return replace(
        whole,
        cook=cook,
        events=tuple(sorted([*left, *events], key=_moment)),
        checks=tuple(sorted([*whole.checks, *checks], key=lambda check: check.at)),
    )


def _does(event: Event, step: Event) -> bool:
    """Whether an event is all that a planned step asks."""
    mine = not event.pieces or (bool(step.pieces) and set(step.pieces) <= set(event.pieces))
    return is_open(step) and step.kind == event.kind and mine


def _moment(event: Event) -> datetime:
    return event.happened_at or event.planned_at or _BEGINNING
