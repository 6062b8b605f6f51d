"""How a tasting is asked and scored: a scheme of criteria with its rules, by version."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from enum import StrEnum
from typing import Any, ClassVar

from pitjournal.domain.record import Record
from pitjournal.errors import JournalError
from pitjournal.units.figures import trimmed


class Asks(StrEnum):
    """What a taster is asked for."""

    SCORES = "scores"
    TRIANGLE = "triangle"
    DUO_TRIO = "duo–trio"
    PAIR = "paired comparison"


class Scale(StrEnum):
    """How one criterion is answered."""

    WHOLE = "whole numbers"
    HALF = "half points"
    LINE = "line"
    JUST_RIGHT = "just about right"
    RANK = "ranking"
    YES_NO = "yes or no"


class Ties(StrEnum):
    """What becomes of samples that come out equal."""

    SHARED = "share the place"
    SETTLED = "settled by the heaviest criterion"
    REFUSED = "not allowed"


ANSWER = "answer"
"""The criterion under which the answer of a triangle, duo–trio or pair is kept."""

PLAIN = (1.0, 9.0)
"""Ends of the scale whose scores need no other name than the criterion's."""

MOST_SHOWN = 30
"""Longest name of a criterion."""


@dataclass(frozen=True, kw_only=True)
class Criterion:
    """One thing that is scored.

    Attributes
    ----------
    low, high
        Ends of the scale; a ranking runs from 1 to the number of samples instead.
    weight
        Its share in a weighted total; None is not counted in.
    penalty
        One score outside the scale that stands for a fault; None is none.
    """

    name: str
    scale: Scale = Scale.WHOLE
    low: float = 1.0
    high: float = 9.0
    weight: float | None = None
    penalty: float | None = None

    @property
    def ideal(self) -> float | None:
        """The middle of a just-about-right scale; None on every other."""
        return (self.low + self.high) / 2 if self.scale is Scale.JUST_RIGHT else None

    def top(self, samples: int) -> float:
        """Return the highest score for a taster who meets so many samples."""
        return float(samples) if self.scale is Scale.RANK else self.high

    def bottom(self) -> float:
        """Return the lowest score that is no penalty."""
        return 1.0 if self.scale is Scale.RANK else self.low

    def words(self, samples: int = 0) -> str:
        """Return which scores there are, such as "2 to 9, or 1 as a penalty"."""
        if self.scale is Scale.YES_NO:
            return "yes or no"
        if self.scale is Scale.RANK:
            return f"places 1 to {samples}, 1 is best" if samples else "places, 1 is best"
        said = f"{trimmed(self.low)} to {trimmed(self.high)}"
        if self.scale is Scale.HALF:
            said += " in half points"
        if self.scale is Scale.LINE:
            said += " along the line"
        if self.ideal is not None:
            said += f", {trimmed(self.ideal)} is just right"
        if self.penalty is not None:
            said += f", or {trimmed(self.penalty)} as a penalty"
        return said

    def refusal(self, value: float, samples: int) -> str:
        """Return why a score can't be, or an empty text."""
        if value == self.penalty:
            return ""
        if self.scale is Scale.YES_NO:
            return "" if value in {0.0, 1.0} else "the answer is yes or no"
        if not self.bottom() <= value <= self.top(samples):
            return f"{trimmed(value)} is not on the scale: {self.words(samples)}"
        steps = {Scale.LINE: None, Scale.HALF: 2.0}.get(self.scale, 1.0)
        if steps is not None and value * steps != round(value * steps):
            return f"{trimmed(value)} lies between two scores: {self.words(samples)}"
        return ""

    def read(self, text: str) -> float | None:
        """Return what was typed or read out as a number; None where there is nothing.

        Raises
        ------
        JournalError
            If it is no answer to this criterion.
        """
        said = text.strip().casefold().replace(",", ".")
        if not said:
            return None
        if self.scale is Scale.YES_NO and said in {"y", "yes", "1", "n", "no", "0"}:
            return 1.0 if said in {"y", "yes", "1"} else 0.0
        try:
            return float(said)
        except ValueError:
            raise JournalError(f"“{text.strip()}” is no score: {self.words()}.") from None

    def shown(self, value: float | None) -> str:
        """Return a score as it is read out."""
        if value is None:
            return ""
        if self.scale is Scale.YES_NO:
            return "yes" if value else "no"
        return trimmed(value)

    def cannot_become(self, text: str, samples: int) -> bool:
        """Whether no score begins with what is typed."""
        said = text.strip().replace(",", ".")
        if self.scale is Scale.YES_NO:
            return False
        whole, point, part = said.partition(".")
        if point and part.isdecimal() and (not whole or whole.isdecimal()):
            return bool(self.refusal(float(said), samples))
        if not said.isdecimal():
            return False
        value = float(said)
        if not self.refusal(value, samples):
            return False
        if self.scale in {Scale.HALF, Scale.LINE}:
            return value > self.top(samples)
        return not value or value * 10 > self.top(samples)

    def ends_at_once(self, text: str, samples: int) -> bool:
        """Whether what is typed can only be this score, so that the next may be ready."""
        said = text.strip().casefold()
        if self.scale is Scale.YES_NO:
            return said in {"y", "n", "yes", "no"}
        if self.scale in {Scale.HALF, Scale.LINE} or not said.isdecimal():
            return False
        value = float(said)
        return not self.refusal(value, samples) and value * 10 > self.top(samples)


@dataclass(frozen=True, kw_only=True)
class Rules:
    """What a scheme asks, and how its scores are added up.

    Attributes
    ----------
    question
        What tasters are asked, where they choose a sample instead of scoring.
    judges
        How many whole cards a total takes; None where there is no total.
    drop
        How many of the lowest weighted totals are left out.
    """

    asks: Asks = Asks.SCORES
    question: str = ""
    criteria: tuple[Criterion, ...] = ()
    judges: int | None = None
    drop: int = 0
    ties: Ties = Ties.SHARED

    @property
    def scored(self) -> bool:
        """Whether samples are scored, rather than told apart or chosen."""
        return self.asks is Asks.SCORES

    @property
    def names(self) -> tuple[str, ...]:
        """The criteria by name."""
        return tuple(criterion.name for criterion in self.criteria)

    @property
    def weighted(self) -> tuple[Criterion, ...]:
        """The criteria that count in a total."""
        return tuple(criterion for criterion in self.criteria if criterion.weight is not None)

    @property
    def most(self) -> float | None:
        """The highest total there can be; None where there is no total."""
        if self.judges is None or not self.weighted:
            return None
        card = sum((c.weight or 0.0) * c.high for c in self.weighted)
        return (self.judges - self.drop) * card

    def criterion(self, name: str) -> Criterion | None:
        """Return a criterion by name."""
        return next((c for c in self.criteria if c.name == name), None)

    def only(self, names: tuple[str, ...]) -> "Rules":
        """Return the rules with only these criteria; a total needs all that are weighted."""
        kept = tuple(c for c in self.criteria if c.name in names)
        whole = all(c in kept for c in self.weighted)
        return replace(self, criteria=kept, judges=self.judges if whole else None)

    def as_map(self) -> dict[str, Any]:
        """Return the rules as they are kept with a scheme and with each session."""
        return {
            **asdict(self),
            "asks": str(self.asks),
            "ties": str(self.ties),
            "criteria": [{**asdict(c), "scale": str(c.scale)} for c in self.criteria],
        }

    def fault(self) -> str:
        """Return what is wrong with the rules, in words, or an empty text."""
        if not self.scored:
            return "" if self.question.strip() else "Say what the tasters are asked."
        names = [name.strip().casefold() for name in self.names]
        if not names:
            return "A scheme needs something to score."
        if not all(names):
            return "Each criterion needs a name."
        if len(set(names)) < len(names):
            return "Two criteria have the same name."
        if self.judges is not None and self.judges <= self.drop:
            return f"A total of {self.judges} cards can't leave out {self.drop}."
        return next((words for c in self.criteria if (words := _fault_of(c))), "")


def _fault_of(criterion: Criterion) -> str:
    low, high, ideal = criterion.low, criterion.high, criterion.ideal
    fault = ""
    if len(criterion.name) > MOST_SHOWN:
        fault = f"its name has {MOST_SHOWN} letters at most."
    elif criterion.scale in {Scale.RANK, Scale.YES_NO}:
        return ""
    elif not low < high:
        fault = f"the scale must end above {trimmed(low)}."
    elif criterion.penalty is not None and low <= criterion.penalty <= high:
        fault = "a penalty lies outside the scale."
    elif criterion.scale is not Scale.LINE and (low, high) != (round(low), round(high)):
        fault = "the ends of the scale are whole numbers."
    elif ideal is not None and ideal != round(ideal):
        fault = f"{trimmed(low)} to {trimmed(high)} has no middle to be just right."
    return f"{criterion.name.capitalize()}: {fault}" if fault else ""


@dataclass(frozen=True)
class Scored:
    """A score as Trends knows it.

    Attributes
    ----------
    name
        What it goes by there.
    criterion
        What is scored; "" for a sum of several.
    ends
        The least and the most there is, a penalty counted in.
    """

    name: str
    criterion: str
    ends: tuple[float, float]


def scored_as(criterion: Criterion, scheme: str) -> Scored:
    """Return a criterion of a scheme as Trends knows it.

    Scores on the scale of the home panel share one name; those of another scale bear the
    name of their scheme, so that a 60 on a line is never averaged with a 6.
    """
    low, high = criterion.low, criterion.high
    plain = criterion.scale in {Scale.WHOLE, Scale.HALF}
    name = criterion.name if plain and (low, high) == PLAIN else f"{criterion.name} ({scheme})"
    least = low if criterion.penalty is None else min(low, criterion.penalty)
    return Scored(name, criterion.name, (least, high))


def total_name(scheme: str) -> str:
    """Return the name that the weighted total of a scheme goes by."""
    return f"total ({scheme})"


def rules_from(kept: Mapping[str, Any]) -> Rules:
    """Return rules from how they are kept."""
    criteria = tuple(
        Criterion(**{**part, "scale": Scale(part.get("scale", Scale.WHOLE))})
        for part in kept.get("criteria", ())
    )
    return Rules(
        asks=Asks(kept.get("asks", Asks.SCORES)),
        question=kept.get("question", ""),
        criteria=criteria,
        judges=kept.get("judges"),
        drop=kept.get("drop", 0),
        ties=Ties(kept.get("ties", Ties.SHARED)),
    )


@dataclass(frozen=True, kw_only=True)
class Scheme(Record):
    """A scheme under a name and a version. Once a tasting has used it, it stays as it is."""

    KIND: ClassVar[str] = "scheme"

    name: str
    version: int = 1
    note: str = ""
    rules: Mapping[str, Any] = field(default_factory=dict)
    retired: bool = False

    @property
    def reads(self) -> Rules:
        """The rules, read."""
        return rules_from(self.rules)

    @property
    def scored(self) -> tuple[Scored, ...]:
        """Its total in Trends, and what that is made of; none where it has no total."""
        rules = self.reads
        if rules.most is None:
            return ()
        parts = tuple(scored_as(criterion, self.name) for criterion in rules.weighted)
        return (*parts, Scored(total_name(self.name), "", (0.0, rules.most)))

    @property
    def title(self) -> str:
        """Name and version."""
        return f"{self.name}, version {self.version}"
