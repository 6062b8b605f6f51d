"""What a year took besides its contests: the cooks for it, their hours, fuel and money."""

from dataclasses import dataclass
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from pitjournal.domain.cook import CookKind, CookStatus
from pitjournal.store.cook_list import CookLine
from pitjournal.units import UnitSystem

if TYPE_CHECKING:
    from pitjournal.analysis.contests.next_practice import Practice
    from pitjournal.journal.jobs import Progress
    from pitjournal.journal.journal import Journal

OF_A_SEASON = frozenset({CookKind.CONTEST, CookKind.PRACTICE})
MOST_OPEN = 3
"""So many things to test are named."""


@dataclass(frozen=True)
class Open:
    """Something that is not answered yet: the cook that asked, and what would tell."""

    cook: CookLine
    heading: str
    words: str


@dataclass(frozen=True)
class CooksTook:
    """What cooks took.

    `hours` is s from lit to last off over those where it is known, `timed` how many those are;
    `fuel` g; `cost` the cooks' own cost, None where none is recorded.
    """

    count: int
    hours: float
    timed: int
    fuel: float
    cost: float | None


@dataclass(frozen=True)
class YearOfCooks:
    """The contest and practice cooks of a year, the newest first: what they showed and took.

    `practice` is what is worth practising next, the best first.
    """

    cooks: tuple[CookLine, ...]
    showed: dict[str, str]
    took: CooksTook
    open: tuple[Open, ...]
    practice: "tuple[Practice, ...]" = ()


def year_of(line: CookLine) -> int:
    """Return the year of a cook on its own clocks."""
    return line.starts_at.astimezone(ZoneInfo(line.zone)).year


def cooks_of_year(
    journal: "Journal", year: int, kinds: frozenset[CookKind] = OF_A_SEASON
) -> list[CookLine]:
    """Return the cooks of these kinds of a year, on their own clocks, the newest first."""
    lines = journal.cooks.page(most=max(1, journal.cooks.count()))
    return [line for line in lines if line.kind in kinds and year_of(line) == year]


def took(journal: "Journal", cook_ids: list[str]) -> CooksTook:
    """Return what these cooks took."""
    values = [said for _, _, level, said in journal.values(cook_ids) if level == "cook"]

    def known(key: str) -> list[float]:
        return [float(one) for said in values if isinstance(one := said.get(key), float)]

    hours, costs = known("cook_time"), known("cost")
    return CooksTook(
        count=len(cook_ids),
        hours=sum(hours),
        timed=len(hours),
        fuel=sum(known("fuel_used")),
        cost=sum(costs) if costs else None,
    )


def year_of_cooks(
    journal: "Journal", year: int, system: UnitSystem, progress: "Progress | None" = None
) -> YearOfCooks:
    """Work out a year of cooks; for a worker."""
    lines = cooks_of_year(journal, year)
    ids = [line.id for line in lines]
    if progress is not None:
        progress.report(None, "what the cooks showed")
    return YearOfCooks(
        tuple(lines),
        journal.findings.headlines(ids, system),
        took(journal, ids),
        tuple(_open(journal, lines, system)),
        _practice(journal, year),
    )


def _practice(journal: "Journal", year: int) -> "tuple[Practice, ...]":
    """Return what is worth practising by a year's cards, and by all comparisons there are."""
    from pitjournal.analysis.contests.next_practice import Compared, worth_practising
    from pitjournal.analysis.contests.season import season_of

    lines = journal.cooks.page(most=max(1, journal.cooks.count()))
    compared = [
        Compared(line.cuts, line.outcome)
        for line in lines
        if line.status is CookStatus.DONE and line.has_control and line.outcome
    ]
    return worth_practising(season_of(journal.contests.all(), year), compared)


def _open(journal: "Journal", lines: list[CookLine], system: UnitSystem) -> list[Open]:
    """Return what the newest comparisons left open, one thing for each cut and outcome."""
    from pitjournal.analysis.findings.next_cook import suggestions

    found: list[Open] = []
    asked: set[tuple[object, ...]] = set()
    for line in lines:
        about = (line.cuts, line.outcome)
        if line.status is not CookStatus.DONE or not line.has_control or about in asked:
            continue
        asked.add(about)
        what = journal.findings.of(line.id, system)
        told = suggestions(what, journal.whole(line.id), system)
        if told:
            found.append(Open(line, told[0].heading, told[0].words))
        if len(found) == MOST_OPEN:
            break
    return found
