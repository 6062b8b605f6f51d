"""A contest: its categories, what is turned in when, the judges' cards, and what came of it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property
from typing import Any, ClassVar

from pitjournal.domain.record import Measured, Record
from pitjournal.domain.scheme import Rules, rules_from
from pitjournal.domain.times.moments import time_zone

CHECK_THE_RULES = "Check the rules of the contest you enter: they come first."


@dataclass(frozen=True, kw_only=True)
class Contest(Measured):
    """A contest.

    Attributes
    ----------
    starts_at, zone
        Its day, aware and UTC, and the IANA name of the zone of its clocks.
    field
        How many take part; None is not recorded.
    overall_place
        The place over all categories, as announced.
    overall_others
        The sums of all others over all categories, as far as they were read out.
    paid, cost
        What it paid and what it cost, in the cook's money.
    """

    KIND: ClassVar[str] = "contest"

    name: str
    starts_at: datetime
    zone: str
    place: str = ""
    field: int | None = None
    overall_place: int | None = None
    overall_others: tuple[float, ...] = ()
    paid: float | None = None
    cost: float | None = None
    weather: str = ""
    note: str = ""

    @property
    def day(self) -> date:
        """Its day on its own clocks."""
        return self.starts_at.astimezone(time_zone(self.zone)).date()


@dataclass(frozen=True, kw_only=True)
class Category(Measured):
    """What is turned in at one time of a contest.

    Attributes
    ----------
    meat
        The cut, as the cook writes it.
    opens, ideal, closes
        The turn-in window, and when the box is best there.
    scheme, scheme_id, version, rules
        The scheme it is judged by, and its rules as they were when it was chosen.
    must, must_not
        What the box has to hold and may not hold, as typed from the rules of the contest.
    entries
        How many turn in here, where that is not the contest's field.
    others
        The totals of all others, as far as they were read out.
    given_total, given_place
        A total that was announced without its cards, and a place that was announced.
    cook_id, photo_id
        The cook whose meat is turned in, and the photo of the box.
    """

    KIND: ClassVar[str] = "category"
    PARENTS: ClassVar[Mapping[str, str]] = {"contest_id": "contest"}
    LOOSE: ClassVar[Mapping[str, str]] = {"cook_id": "cook", "photo_id": "photo"}

    contest_id: str
    position: int
    name: str
    meat: str = ""
    opens: datetime | None = None
    ideal: datetime | None = None
    closes: datetime | None = None
    scheme: str = ""
    scheme_id: str = ""
    version: int = 1
    rules: Mapping[str, Any] = field(default_factory=dict)
    must: str = ""
    must_not: str = ""
    entries: int | None = None
    others: tuple[float, ...] = ()
    given_total: float | None = None
    given_place: int | None = None
    note: str = ""
    cook_id: str | None = None
    photo_id: str | None = None

    @cached_property
    def asked(self) -> Rules:
        """The rules it is judged by."""
        return rules_from(self.rules)

    @property
    def title(self) -> str:
        """The scheme's name and version, or nothing."""
        return f"{self.scheme}, version {self.version}" if self.scheme else ""


@dataclass(frozen=True, kw_only=True)
class JudgeCard(Record):
    """What the judge in one seat gave a category, by criterion; seats count from 1."""

    KIND: ClassVar[str] = "judge_card"
    PARENTS: ClassVar[Mapping[str, str]] = {"contest_id": "contest", "category_id": "category"}
    UNIQUE: ClassVar[tuple[str, ...]] = ("category_id", "seat")

    contest_id: str
    category_id: str
    seat: int
    scores: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Carried(Record):
    """What was found in a practice cook and done again in a category of a contest.

    `what` is that in the cook's words.
    """

    KIND: ClassVar[str] = "carried"
    PARENTS: ClassVar[Mapping[str, str]] = {"category_id": "category", "cook_id": "cook"}
    UNIQUE: ClassVar[tuple[str, ...]] = ("category_id", "cook_id")

    category_id: str
    cook_id: str
    what: str = ""


@dataclass(frozen=True)
class TurnIn:
    """A category with its contest, its cards by seat, and what was carried into it."""

    contest: Contest
    category: Category
    cards: tuple[JudgeCard, ...] = ()
    carried: tuple[Carried, ...] = ()

    @property
    def field(self) -> int | None:
        """How many turned in here."""
        return self.contest.field if self.category.entries is None else self.category.entries


@dataclass(frozen=True)
class WholeContest:
    """A contest with its categories in their order."""

    contest: Contest
    turn_ins: tuple[TurnIn, ...] = ()
