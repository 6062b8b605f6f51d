"""Blind tasting: a session, its coded samples, the scores, and what went wrong on the day."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import StrEnum
from functools import cached_property
from typing import Any, ClassVar

from pitjournal.domain.record import Measured, Record
from pitjournal.domain.scheme import (
    Criterion,
    Rules,
    Scored,
    rules_from,
    scored_as,
    total_name,
)


class TastingState(StrEnum):
    """A session is scored, then locked, then revealed."""

    OPEN = "open"
    LOCKED = "locked"
    REVEALED = "revealed"


class Blindness(StrEnum):
    """What was known of the arms at the table.

    Blind: nobody there knew which code was which arm. Coded: the tasters saw codes, but who
    served, or one who tasted, knew. Open: everyone knew.
    """

    BLIND = "blind"
    CODED = "coded"
    OPEN = "eyes open"


HOME_PANEL = ("tenderness", "juiciness", "flavour", "appearance")
"""The criteria of a home panel, 1 to 9 each."""


@dataclass(frozen=True, kw_only=True)
class Tasting(Measured):
    """A session.

    Attributes
    ----------
    scheme, scheme_id, version, rules
        The scheme it was drawn with, and its rules as they were then.
    orders
        Each taster's serving order as sample ids.
    seed
        What the draw was made from, so that it can be made again.
    warm_up
        The piece everyone tastes first without scoring it; "" is none.
    served_temperature
        Of the samples, °C.
    portion
        The place on each piece that is served, such as "bone 4".
    seen
        What was known of the arms at the table; None is not recorded.
    """

    KIND: ClassVar[str] = "tasting"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook"}

    cook_id: str
    scheme: str
    criteria: tuple[str, ...]
    low: float
    high: float
    state: TastingState = TastingState.OPEN
    served_at: datetime | None = None
    seed: int = 0
    tasters: tuple[str, ...] = ()
    orders: Mapping[str, list[str]] = field(default_factory=dict)
    note: str = ""
    scheme_id: str = ""
    version: int = 1
    rules: Mapping[str, Any] = field(default_factory=dict)
    warm_up: str = ""
    served_temperature: float | None = None
    portion: str = ""
    seen: Blindness | None = None

    @property
    def revealed(self) -> bool:
        """Whether its scores exist for anyone who asks."""
        return self.state is TastingState.REVEALED

    @cached_property
    def asked(self) -> Rules:
        """The rules it was drawn with; a session older than schemes has whole numbers."""
        if self.rules:
            return rules_from(self.rules)
        plain = (Criterion(name=name, low=self.low, high=self.high) for name in self.criteria)
        return Rules(criteria=tuple(plain))

    def variable(self, name: str) -> str:
        """Return the name under which a criterion's scores are known to Trends."""
        return self._scored(name).name

    def _scored(self, name: str) -> Scored:
        if not self.rules:  # older than schemes: what it scored has no other name
            return Scored(name, name, (self.low, self.high))
        criterion = self.asked.criterion(name)
        if criterion is None:
            return Scored(f"{name} ({self.scheme})", name, (self.low, self.high))
        return scored_as(criterion, self.scheme)

    @property
    def total_variable(self) -> str:
        """The name of the weighted total."""
        return total_name(self.scheme)

    @property
    def variables(self) -> tuple[str, ...]:
        """The names of all that this session may give a piece."""
        return tuple(one.name for one in self.scored)

    @property
    def scored(self) -> tuple[Scored, ...]:
        """All that this session may give a piece, as Trends knows it."""
        rules = self.asked
        if not rules.scored:
            return ()
        most = rules.most
        total = () if most is None else (Scored(self.total_variable, "", (0.0, most)),)
        return (*(self._scored(name) for name in self.criteria), *total)

    def meets(self, taster: str) -> int:
        """Return how many samples a taster is served."""
        return len(self.orders.get(taster, ()))

    def some_each(self, samples: int) -> bool:
        """Whether tasters are served only some of so many samples."""
        return any(self.meets(taster) < samples for taster in self.orders)


@dataclass(frozen=True, kw_only=True)
class Sample(Record):
    """A piece under a three-digit code; `reference` is the portion others are held against."""

    KIND: ClassVar[str] = "sample"
    PARENTS: ClassVar[Mapping[str, str]] = {
        "cook_id": "cook",
        "tasting_id": "tasting",
        "piece_id": "piece",
    }

    cook_id: str
    tasting_id: str
    piece_id: str
    code: str
    reference: bool = False


@dataclass(frozen=True, kw_only=True)
class Score(Record):
    """What one taster gave one sample on one criterion. `taster` is a name on the Shelf."""

    KIND: ClassVar[str] = "score"
    PARENTS: ClassVar[Mapping[str, str]] = {
        "cook_id": "cook",
        "tasting_id": "tasting",
        "sample_id": "sample",
    }
    UNIQUE: ClassVar[tuple[str, ...]] = ("sample_id", "taster", "criterion")

    cook_id: str
    tasting_id: str
    sample_id: str
    taster: str
    criterion: str
    value: float


class Mishap(StrEnum):
    """What was noted about a session."""

    ABSENT = "absent"
    LEFT = "left"
    SPILLED = "spilled"
    SWAPPED = "swapped"
    CORRECTED = "corrected"


@dataclass(frozen=True, kw_only=True)
class TastingNote(Record):
    """Something that happened to the scores of a session, kept beside them.

    `sample_id` and `other_id` are "" where no sample, or no second one, is concerned. `said`
    is the change in words, `why` what the cook wrote about it.
    """

    KIND: ClassVar[str] = "tasting_note"
    PARENTS: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "tasting_id": "tasting"}

    cook_id: str
    tasting_id: str
    at: datetime
    mishap: Mishap
    taster: str
    sample_id: str = ""
    other_id: str = ""
    said: str = ""
    why: str = ""


@dataclass(frozen=True)
class Session:
    """A session with all that belongs to it, for one who may see it."""

    tasting: Tasting
    samples: tuple[Sample, ...]
    scores: tuple[Score, ...]
    notes: tuple[TastingNote, ...] = ()

    @cached_property
    def absent(self) -> frozenset[str]:
        """The tasters who did not come."""
        return frozenset(note.taster for note in self.notes if note.mishap is Mishap.ABSENT)

    @cached_property
    def left(self) -> frozenset[str]:
        """The tasters who left before the end: their blanks are not waited for."""
        return frozenset(note.taster for note in self.notes if note.mishap is Mishap.LEFT)

    @cached_property
    def spilled(self) -> frozenset[tuple[str, str]]:
        """Sample id and taster of each portion that was lost."""
        lost = (note for note in self.notes if note.mishap is Mishap.SPILLED)
        return frozenset((note.sample_id, note.taster) for note in lost)

    @cached_property
    def given(self) -> dict[tuple[str, str, str], float]:
        """The scores by sample id, taster and criterion."""
        return {(s.sample_id, s.taster, s.criterion): s.value for s in self.scores}

    @cached_property
    def by_id(self) -> dict[str, Sample]:
        """The samples by id."""
        return {sample.id: sample for sample in self.samples}

    @property
    def present(self) -> tuple[str, ...]:
        """The tasters who came."""
        return tuple(name for name in self.tasting.tasters if name not in self.absent)

    def served(self, taster: str) -> tuple[Sample, ...]:
        """Return what a taster is served, in order, without what was lost."""
        everyone = sorted(self.by_id, key=lambda i: self.by_id[i].code)
        order = self.tasting.orders.get(taster, everyone)
        return tuple(
            self.by_id[sample_id]
            for sample_id in order
            if sample_id in self.by_id and (sample_id, taster) not in self.spilled
        )

    def expected(self, taster: str) -> int:
        """Return how many scores, or answers, a taster who came and stayed is to give."""
        if taster in self.absent:
            return 0
        if taster in self.left:
            return self.count(taster)
        if not self.tasting.asked.scored:
            return 0 if self.broken(taster) else 1
        return len(self.served(taster)) * len(self.tasting.criteria)

    def broken(self, taster: str) -> bool:
        """Whether a portion of a set to choose from was lost, so that nothing can be chosen."""
        lost = any(name == taster for _, name in self.spilled)
        return lost and not self.tasting.asked.scored

    def count(self, taster: str) -> int:
        """Return how many he has given."""
        return sum(score.taster == taster for score in self.scores)

    def sealed(self) -> "Session":
        """Return the session without its scores unless they were revealed."""
        return self if self.tasting.revealed else replace(self, scores=())
