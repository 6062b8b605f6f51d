"""What to practise before the next contest: what costs most there, and what is least known.

A category's criterion costs what the judges held back: the points under the best they could give,
by the weights of the rule, a contest on average. It is worth practising the more, the fewer
comparisons have asked about that cut and that criterion. Places that scatter say that the cooking
does, whatever the mean.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean, pstdev

from pitjournal.analysis.contests.beside import SAID_AS
from pitjournal.analysis.contests.season import Season
from pitjournal.analysis.tasting.totals import total_of
from pitjournal.domain.contest import TurnIn
from pitjournal.domain.cuts import means
from pitjournal.domain.scheme import Criterion


@dataclass(frozen=True)
class Compared:
    """A comparison that was cooked: its cuts, and what it declared to count."""

    cuts: tuple[str, ...]
    outcome: str


@dataclass(frozen=True)
class Practice:
    """A cook that is worth planning.

    Attributes
    ----------
    category, meat, criterion
        What it is for, and what it would ask about.
    lost
        Points held back on that criterion at a contest, on average.
    weight
        The criterion's weight in the rule.
    places
        The places of the category over the season, the first contest first.
    scatter
        The standard deviation of the share of the others beaten; 0 for fewer than two.
    asked
        How many comparisons asked about it.
    """

    category: str
    meat: str
    criterion: str
    lost: float
    weight: float
    places: tuple[int, ...]
    scatter: float
    asked: int

    @property
    def worth(self) -> float:
        """What it is ranked by: points a contest, more where places scatter, less once known."""
        return self.lost * (1.0 + self.scatter) / (1.0 + self.asked)


def worth_practising(season: Season, compared: Iterable[Compared]) -> tuple[Practice, ...]:
    """Return the practice cooks of a season, the one that is worth most first.

    Parameters
    ----------
    season
        Its contests with their cards.
    compared
        All comparisons that were cooked, of any year.
    """
    known = list(compared)
    groups: dict[str, list[TurnIn]] = {}
    for one in season.standings:
        for turn_in, _ in one.results:
            groups.setdefault(turn_in.category.name.casefold(), []).append(turn_in)
    results = {
        turn_in.category.id: result for one in season.standings for turn_in, result in one.results
    }
    found: list[Practice] = []
    for turn_ins in groups.values():
        own = [results[turn_in.category.id] for turn_in in turn_ins]
        beaten = [share for result in own if (share := result.beaten) is not None]
        places = tuple(result.place for result in own if result.place is not None)
        scatter = pstdev(beaten) if len(beaten) > 1 else 0.0
        found += _of_category(turn_ins, places, scatter, known)
    return tuple(sorted(found, key=lambda one: (-one.worth, one.category, one.criterion)))


def _of_category(
    turn_ins: Sequence[TurnIn],
    places: tuple[int, ...],
    scatter: float,
    compared: Sequence[Compared],
) -> Iterable[Practice]:
    newest = turn_ins[-1].category
    meat = newest.meat or newest.name
    for criterion in newest.asked.criteria:
        if not criterion.weight:
            continue
        lost = [points for t in turn_ins if (points := points_lost(t, criterion.name)) is not None]
        if not lost:
            continue
        own = [one for one in compared if _asks(one, meat, criterion)]
        yield Practice(
            newest.name,
            meat,
            criterion.name,
            fmean(lost),
            criterion.weight,
            places,
            scatter,
            len(own),
        )


def points_lost(turn_in: TurnIn, name: str) -> float | None:
    """Return the points that the cards which count held back on a criterion; None without a total.

    A card that is left out of the total costs nothing.
    """
    rules = turn_in.category.asked
    criterion = rules.criterion(name)
    total = total_of(rules, [card.scores for card in turn_in.cards])
    if criterion is None or not criterion.weight or total.value is None:
        return None
    heaviest = sorted(rules.weighted, key=lambda one: one.weight or 0.0, reverse=True)
    given = total.best_by[heaviest.index(criterion)]
    counted = len(total.cards) - rules.drop
    return criterion.weight * (criterion.high * counted - given)


def _asks(one: Compared, meat: str, criterion: Criterion) -> bool:
    asked = one.outcome.removeprefix("score.").partition(" (")[0]
    if SAID_AS.get(asked, asked) != criterion.name:
        return False
    return any(means(cut, meat) for cut in one.cuts)
