"""Totals and places of a contest by its rules, as far as they are known.

Common practice, no source: a total leaves out the lowest weighted cards, equal totals are settled
by the rules. The rules are data with a version; those of the contest itself come first.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import stdev

from pitjournal.analysis.tasting.totals import total_of
from pitjournal.domain.contest import TurnIn, WholeContest
from pitjournal.domain.day.turn_in import turned_in
from pitjournal.domain.scheme import Ties
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import figure

EVEN = 4
"""Totals that agree to so many decimals are equal: as many as the weights have."""


@dataclass(frozen=True, kw_only=True)
class Overall:
    """What came of a contest over its categories, or of one of them.

    Attributes
    ----------
    total
        Points; of a contest, known where each category's is. None is not known.
    place, field
        The place, announced or worked out, and how many took part.
    tied
        How many others have the same total.
    worked_out
        Whether the place comes from the totals of all others rather than from an announcement.
    doubts
        What cannot be true of it, in words.
    """

    total: float | None
    place: int | None
    field: int | None
    tied: int
    worked_out: bool
    doubts: tuple[str, ...] = ()

    @property
    def beaten(self) -> float | None:
        """The share of the others that stand behind: 1 is a win, 0 the last place."""
        if self.place is None or self.field is None or not 2 <= self.field >= self.place:
            return None
        return (self.field - self.place) / (self.field - 1)


@dataclass(frozen=True, kw_only=True)
class Result(Overall):
    """What came of a category.

    Attributes
    ----------
    cards
        The weighted total of each whole card, lowest first: the total is theirs, else as
        announced.
    """

    cards: tuple[float, ...]

    @property
    def spread(self) -> float | None:
        """The standard deviation between whole cards, in points of a card."""
        return stdev(self.cards) if len(self.cards) > 1 else None


def result_of(turn_in: TurnIn) -> Result:
    """Return what came of a category."""
    category, rules = turn_in.category, turn_in.category.asked
    found = total_of(rules, [card.scores for card in turn_in.cards])
    total = found.value if found.value is not None else category.given_total
    place, tied = place_among(total, category.others, turn_in.field)
    announced = category.given_place
    doubts = list(_doubts(announced or place, turn_in.field))
    given = category.given_total
    if found.value is not None and given is not None and _even(found.value) != _even(given):
        said, told = figure(found.value, EVEN), figure(given, EVEN)
        doubts.append(f"The cards add up to {said}, announced were {told}.")
    if announced is not None and place is not None and _off(announced, place, tied):
        doubts.append(f"By the totals of all others it is place {place}, announced {announced}.")
    return Result(
        total=total,
        cards=found.cards,
        place=place if announced is None else announced,
        field=turn_in.field,
        tied=tied,
        worked_out=announced is None and place is not None,
        doubts=tuple(doubts),
    )


def _even(total: float) -> float:
    return round(total, EVEN)


def _off(announced: int, place: int, tied: int) -> bool:
    """Whether an announced place is none of those that equal totals share."""
    return not place <= announced <= place + tied


def place_among(
    total: float | None, others: Sequence[float], field: int | None
) -> tuple[int | None, int]:
    """Return the place of a total, and how many others have the same.

    It is known only where the totals of all others are: the field less one. Equal ones share the
    first of their places, until the rules settle it.

    Parameters
    ----------
    total
        Points; None where it is not known.
    others
        The totals of all others, points, in any order.
    field
        How many took part, with the one asked about; None where nobody said.
    """
    if total is None:
        return None, 0
    own = _even(total)
    tied = sum(_even(other) == own for other in others)
    if field is None or len(others) != field - 1:
        return None, tied
    return 1 + sum(_even(other) > own for other in others), tied


def _doubts(place: int | None, field: int | None) -> Iterable[str]:
    if place is not None and field is not None and place > field:
        yield f"Place {place} of {field} cannot be."


def overall_of(whole: WholeContest) -> Overall:
    """Return what came of a contest over all its categories."""
    contest = whole.contest
    totals = [result_of(turn_in).total for turn_in in whole.turn_ins]
    known = [total for total in totals if total is not None]
    total = sum(known) if known and len(known) == len(totals) else None
    place, tied = place_among(total, contest.overall_others, contest.field)
    announced = contest.overall_place
    return Overall(
        total=total,
        place=place if announced is None else announced,
        field=contest.field,
        tied=tied,
        worked_out=announced is None and place is not None,
        doubts=tuple(_doubts(announced or place, contest.field)),
    )


def tie_words(turn_in: TurnIn, result: Result) -> str:
    """Return what is to know of equal totals, or nothing."""
    if not result.tied:
        return ""
    many = "one other has" if result.tied == 1 else f"{result.tied} others have"
    settled = turn_in.category.asked.ties is Ties.SETTLED
    how = "settled by the heaviest criterion" if settled else "equal ones share the place"
    return f"Tied: {many} the same total; {how}. Type the place that was announced."


NOTHING_CARRIED = "nothing noted"


def carried_words(turn_in: TurnIn) -> str:
    """Return what was carried into a category from practice, as the cook says it; or nothing."""
    said = sorted({one.what.strip() for one in turn_in.carried if one.what.strip()})
    return "; ".join(said)


def values_by_piece(whole: WholeCook) -> dict[str, dict[str, float | str | None]]:
    """Return what the catalogue asks of contests for each piece, by key."""
    results = {turn_in.category.id: result_of(turn_in) for turn_in in whole.turn_ins}
    found: dict[str, dict[str, float | str | None]] = {}
    for piece_id, turn_in in turned_in(whole).items():
        result = results[turn_in.category.id]
        found[piece_id] = {
            "contest": turn_in.contest.name or None,
            "contest_category": turn_in.category.name or None,
            "contest_carried": carried_words(turn_in) or NOTHING_CARRIED,
            "contest_total": result.total,
            "contest_place": None if result.place is None else float(result.place),
            "field_beaten": result.beaten,
            "card_spread": result.spread,
        }
    return found
