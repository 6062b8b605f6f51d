"""From what is odd in a log to the command that mends it."""

from datetime import datetime

from pitjournal.domain.event import DonenessCheck, Event, EventKind
from pitjournal.domain.log_checks import Mend, Oddity
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.bench import CorrectEvent, LogEvent
from pitjournal.journal.commands.records import Change, Remove


def repair_of(odd: Oddity, now: datetime) -> Command:
    """Return the command that one tap on an oddity gives, at a moment."""
    record, label = odd.record, f"Mend the log: {odd.button.lower()}"
    if isinstance(record, DonenessCheck):
        return Change(DonenessCheck, record.id, {"at": odd.at}, label)
    if odd.mend is Mend.REMOVE:
        return Remove(Event, record.id, label)
    if odd.mend is Mend.NARROW:
        return Change(Event, record.id, {"pieces": odd.pieces}, label)
    if odd.mend is Mend.HAPPENED:
        return Change(Event, record.id, {"happened_at": odd.at, "uncertainty": None}, label)
    assert odd.at is not None
    if odd.mend is Mend.LOG_ON:
        on = Event(
            cook_id=record.cook_id,
            kind=EventKind.ON,
            happened_at=odd.at,
            entered_at=now,
            pieces=odd.pieces,
            uncertainty=None,
        )
        return LogEvent(on, label)
    exact = 0.0 if odd.at == record.entered_at else None
    return CorrectEvent(record.id, odd.at, exact, label)
