"""Commands of the bench: log, correct, weigh, check, photograph."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from pitjournal.domain.alarm import Alarm, impossible_alarm
from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.day.other_day import STARTS, day_shift, moved_cook, moved_step
from pitjournal.domain.day.schedule import is_open
from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.rules import impossible_mass
from pitjournal.domain.shelf import Setting
from pitjournal.errors import JournalError
from pitjournal.journal.commands.plan import as_planned
from pitjournal.journal.commands.recipes import keep_recipes
from pitjournal.journal.commands.records import refuse_impossible
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class LogEvent:
    """Log that something happened to some pieces, or to the whole cook (no pieces named)."""

    event: Event
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep the event; lighting the fire or putting meat on starts the cook."""
        event = self.event
        if event.happened_at is None:
            transaction.add(event)
            return
        event = as_planned(transaction, event)
        cook = transaction.get(Cook, event.cook_id)
        shift = day_shift(cook, event)
        if shift is not None:  # begun on another day: the plan is of that day now
            for step in transaction.find(Event, cook_id=event.cook_id):
                if is_open(step):
                    transaction.put(step, moved_step(step, shift))
            event = moved_step(event, shift)
        transaction.add(event)
        if event.kind in STARTS and cook.status is CookStatus.PLANNED:
            begun = cook if shift is None else moved_cook(cook, shift)
            transaction.put(cook, replace(begun, status=CookStatus.RUNNING))
            keep_recipes(transaction, cook.id)


@dataclass(frozen=True)
class CorrectEvent:
    """Say when an event really happened, and how sure that is."""

    event_id: str
    happened_at: datetime
    uncertainty: float | None = 0.0
    label: str = "Correct the time"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Change the time; when it was entered stays."""
        fields = {"happened_at": self.happened_at, "uncertainty": self.uncertainty}
        transaction.change(Event, self.event_id, fields)


@dataclass(frozen=True)
class Weigh:
    """Set, change or (with no mass) clear a piece's weight at a stage, g."""

    cook_id: str
    piece_id: str
    stage: Stage
    mass: float | None
    at: datetime | None = None
    typed: Mapping[str, str] = field(default_factory=dict)
    label: str = "Weigh"

    @property
    def merge_key(self) -> str:
        """Typing one weight is one step."""
        return f"{self.piece_id}:{self.stage}"

    def run(self, transaction: Transaction) -> None:
        """Keep the weight, unless it cannot be."""
        others = transaction.find(Weighing, piece_id=self.piece_id)
        known = {weighing.stage: weighing for weighing in others}
        old = known.get(self.stage)
        if self.mass is None:
            if old is not None:
                transaction.remove(Weighing, old.id)
            return
        masses = {stage: weighing.mass for stage, weighing in known.items()}
        why = impossible_mass(masses, self.stage, self.mass)
        if why:
            raise JournalError(why, "Weigh it again, or mend the other weight first.")
        if old is None:
            new = Weighing(
                cook_id=self.cook_id,
                piece_id=self.piece_id,
                stage=self.stage,
                mass=self.mass,
                at=self.at,
                typed=self.typed,
            )
            transaction.add(new)
        else:
            transaction.put(old, replace(old, mass=self.mass, at=self.at, typed=self.typed))


@dataclass(frozen=True)
class CheckDoneness:
    """Keep a probe of one piece: internal temperature and feel."""

    check: DonenessCheck
    label: str = "Check doneness"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep it; a check that says nothing is refused."""
        _refuse_empty(self.check)
        refuse_impossible(replace(self.check, internal=None), {"internal": self.check.internal})
        transaction.get(Piece, self.check.piece_id)
        transaction.add(self.check)


@dataclass(frozen=True)
class CorrectCheck:
    """Mend what a probe said: its time, piece, temperature, feel, point."""

    check_id: str
    fields: Mapping[str, Any]
    typed: Mapping[str, str] = field(default_factory=dict)
    label: str = "Correct a probe"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Change it; a check that says nothing any more is refused."""
        old = transaction.get(DonenessCheck, self.check_id)
        new = replace(old, **self.fields, typed={**old.typed, **self.typed})
        _refuse_empty(new)
        refuse_impossible(old, self.fields)
        transaction.get(Piece, new.piece_id)
        transaction.put(old, new)


def _refuse_empty(check: DonenessCheck) -> None:
    if check.internal is None and check.feel is None:
        message = "A check needs a temperature or a feel."
        raise JournalError(message, "Type one, such as 195 °F, or tap 1 to 7.")
    if check.feel is not None and not 1 <= check.feel <= 7:
        message = f"A feel is 1 to 7, not {check.feel}."
        raise JournalError(message, "1 and 2 are under, 3 to 5 right, 6 and 7 over.")


@dataclass(frozen=True)
class FinishCook:
    """Say that a cook is over, or (`again`) that it is running after all."""

    cook_id: str
    again: bool = False
    label: str = "Finish the cook"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Change where the cook is in its life."""
        status = CookStatus.RUNNING if self.again else CookStatus.DONE
        transaction.change(Cook, self.cook_id, {"status": status})


@dataclass(frozen=True)
class Choose:
    """Keep a choice with the journal, by its name; an empty value forgets it."""

    name: str
    value: str
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Add, change or remove it."""
        found = transaction.find(Setting, id=self.name)
        if not found and self.value:
            transaction.add(Setting(id=self.name, value=self.value))
        elif found and self.value:
            transaction.put(found[0], replace(found[0], value=self.value))
        elif found:
            transaction.remove(Setting, self.name)


@dataclass(frozen=True)
class SetAlarms:
    """Set alarms as one step."""

    alarms: tuple[Alarm, ...]
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Keep them; one that could never be due is refused."""
        for alarm in self.alarms:
            why = impossible_alarm(alarm)
            if why:
                raise JournalError(why, "Then set it again.")
        transaction.add(*self.alarms)


def _keep_made(transaction: Transaction, made: tuple[Alarm, ...]) -> None:
    """Keep alarms that nobody set, such as those of a turn-in window, once they are answered."""
    transaction.add(*(alarm for alarm in made if not transaction.find(Alarm, id=alarm.id)))


@dataclass(frozen=True)
class HearAlarms:
    """Acknowledge alarms, each with the moment it was due: they fall silent, and are not done.

    `made` are those that have no record of their own yet; so with the two commands below.
    """

    due: Mapping[str, datetime]
    made: tuple[Alarm, ...] = ()
    label: str = "Hear an alarm"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Note what was heard."""
        _keep_made(transaction, self.made)
        for alarm_id, due in self.due.items():
            transaction.change(Alarm, alarm_id, {"heard": due})


@dataclass(frozen=True)
class FinishAlarms:
    """Say that what alarms were for is done, each with the moment it was due."""

    due: Mapping[str, datetime]
    made: tuple[Alarm, ...] = ()
    label: str = "Done"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Note what was done."""
        _keep_made(transaction, self.made)
        for alarm_id, due in self.due.items():
            transaction.change(Alarm, alarm_id, {"heard": due, "done": due})


@dataclass(frozen=True)
class PutOffAlarms:
    """Let alarms be silent until a moment."""

    alarm_ids: tuple[str, ...]
    until: datetime
    made: tuple[Alarm, ...] = ()
    label: str = "Put an alarm off"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Note until when."""
        _keep_made(transaction, self.made)
        for alarm_id in self.alarm_ids:
            transaction.change(Alarm, alarm_id, {"later": self.until})
