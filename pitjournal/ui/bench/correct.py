"""Say when something that was logged really happened."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pitjournal.domain.event import DonenessCheck, Event, Note
from pitjournal.domain.record import Record
from pitjournal.journal.commands.bench import CorrectEvent
from pitjournal.journal.commands.records import Change
from pitjournal.ui.bench.model import event_words
from pitjournal.ui.bench.panels import When, WhenPanel
from pitjournal.ui.desk import Desk

LABEL = "Correct the time"


def correct_panel(over: QWidget, desk: Desk, zone: str, record: Record) -> WhenPanel | None:
    """Return the panel that corrects a record's time; None for one that has none to correct."""
    if isinstance(record, Event):
        heading = f"When was it? {event_words(record)}"
        take = _mover(desk, over, record)
        at, uncertainty = record.happened_at, record.uncertainty
        return WhenPanel(over, desk, heading, zone, take, at=at, uncertainty=uncertainty)
    if isinstance(record, DonenessCheck | Note):
        take = _mover(desk, over, record)
        return WhenPanel(over, desk, "When was it?", zone, take, at=record.at)
    return None


def _mover(
    desk: Desk, initiator: QWidget, record: Event | DonenessCheck | Note
) -> Callable[[When], str]:
    def move(when: When) -> str:
        if isinstance(record, Event):
            event = CorrectEvent(record.id, when.at, when.uncertainty, LABEL)
            return desk.bridge.attempt(event, initiator)
        change = Change(type(record), record.id, {"at": when.at}, LABEL)
        return desk.bridge.attempt(change, initiator)

    return move
