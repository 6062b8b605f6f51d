"""A season: the contests of a year, what they came to, and what they cost."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean

from pitjournal.analysis.contests.results import Overall, Result, overall_of, result_of
from pitjournal.domain.contest import Contest, TurnIn, WholeContest


@dataclass(frozen=True)
class Standing:
    """A contest with what came of it, over all and by category."""

    contest: Contest
    overall: Overall
    results: tuple[tuple[TurnIn, Result], ...]

    @property
    def judged(self) -> bool:
        """Whether anything came of it yet."""
        return self.overall.place is not None or any(
            result.total is not None or result.place is not None for _, result in self.results
        )


@dataclass(frozen=True)
class Season:
    """A year's contests, the first one first.

    Attributes
    ----------
    best
        The best place over all, or None.
    firsts, tens
        How many categories were won, and how many came in the first ten.
    beaten
        The mean share of the others that stood behind, over all categories whose field is known.
    paid, cost
        Sums of what is recorded; None where nothing is.
    """

    year: int
    standings: tuple[Standing, ...]
    categories: int
    best: int | None
    firsts: int
    tens: int
    beaten: float | None
    paid: float | None
    cost: float | None


def years_of(contests: Iterable[WholeContest]) -> list[int]:
    """Return the years in which there are contests, the newest first."""
    return sorted({whole.contest.day.year for whole in contests}, reverse=True)


def season_of(contests: Iterable[WholeContest], year: int) -> Season:
    """Return the season of a year."""
    return over_contests((one for one in contests if one.contest.day.year == year), year)


def over_contests(contests: Iterable[WholeContest], year: int) -> Season:
    """Return what these contests came to, of whatever years, under the name of one."""
    own = sorted(contests, key=lambda whole: (whole.contest.starts_at, whole.contest.id))
    standings = tuple(
        Standing(
            whole.contest,
            overall_of(whole),
            tuple((turn_in, result_of(turn_in)) for turn_in in whole.turn_ins),
        )
        for whole in own
    )
    results = [result for one in standings for _, result in one.results]
    places = [result.place for result in results if result.place is not None]
    overall = [one.overall.place for one in standings if one.overall.place is not None]
    beaten = [share for result in results if (share := result.beaten) is not None]
    return Season(
        year,
        standings,
        categories=sum(result.place is not None or result.total is not None for result in results),
        best=min(overall, default=None),
        firsts=places.count(1),
        tens=sum(place <= TEN for place in places),
        beaten=fmean(beaten) if beaten else None,
        paid=_sum(one.contest.paid for one in standings),
        cost=_sum(one.contest.cost for one in standings),
    )


TEN = 10
"""A call to the front is common for the first ten (common practice, no source)."""


def _sum(values: Iterable[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return sum(known) if known else None


def lines_of(season: Season) -> Mapping[str, Sequence[float | None]]:
    """Return the share of the others beaten at each contest, by category in order of first use.

    Categories of one name are one line; where a contest has none of it, or its place or field is
    not known, there is None.
    """
    names: dict[str, str] = {}
    for one in season.standings:
        for turn_in, _ in one.results:
            names.setdefault(turn_in.category.name.casefold(), turn_in.category.name)
    return {
        name: [
            next(
                (
                    result.beaten
                    for turn_in, result in one.results
                    if turn_in.category.name.casefold() == key
                ),
                None,
            )
            for one in season.standings
        ]
        for key, name in names.items()
    }
