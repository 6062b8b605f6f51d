"""The invented season: six contests of four categories each, with six judges' cards."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.tasting.totals import total_of
from pitjournal.domain.contest import Category, Contest
from pitjournal.domain.cook import Arm, Cook, CookKind, CookStatus
from pitjournal.domain.cuts import means
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import Sample, Score, Tasting
from pitjournal.files.schemes import shipped
from pitjournal.journal.commands.contests import CarryInto, EnterCards, JudgeBy
from pitjournal.journal.commands.records import Add, Change, Together
from pitjournal.journal.demonstration.contest import SCHEME
from pitjournal.journal.journal import Journal

Card = dict[str, float]

SEED = 41
WINDOW = timedelta(minutes=5)
FIELD_MEAN, FIELD_SPREAD, MOST = 157.0, 8.0, np.float64(179.4)
"""Of the totals of all others, and the most that one gets, points."""

_GOOD: Mapping[str, tuple[float, float]] = {
    "chicken": (7.6, 0.10),
    "pork ribs": (7.8, 0.12),
    "pork butt": (7.9, 0.02),
    "brisket": (7.3, 0.16),
}
"""What a judge gives at the first contest, and how much more at each one after it."""

_BOX: Mapping[str, tuple[str, str]] = {
    "chicken": ("Six portions or more, each its own", "Foil, skewers, stuffing"),
    "pork ribs": ("Six ribs, bone in", "Foil, bones without meat"),
    "pork butt": ("Six portions, pulled or sliced or chunks", "Foil, a pool of sauce"),
    "brisket": ("Six slices; burnt ends besides", "Foil, slices that hang together"),
}
_FIRST, _EVERY = time(12, 0), timedelta(minutes=30)


@dataclass(frozen=True)
class Held:
    """A contest of the season: the cook that was for it, its field, money and weather.

    `announced` says that its places were announced, and not the totals of all others.
    """

    cook: str
    field: int
    cost: float
    paid: float | None
    weather: str
    announced: bool = False


SEASON = (
    Held("Spring contest, ribs", 24, 310.0, None, "cold, wind from the west", announced=True),
    Held("Second spring contest, brisket", 31, 340.0, None, "rain until ten"),
    Held("Early summer contest, ribs", 28, 325.0, 75.0, "sun"),
    Held("Summer contest, brisket", 36, 360.0, None, "hot and still", announced=True),
    Held("Midsummer contest, brisket", 27, 335.0, 150.0, "hot, a shower at noon"),
    Held("Harvest contest, ribs", 33, 350.0, 300.0, "mist, then sun"),
)


def hold(journal: Journal) -> None:
    """Add the season to a journal that has the cooks for it."""
    lot = np.random.default_rng(SEED)
    cooks = {cook.title: cook for cook in journal.find(Cook)}
    for number, held in enumerate(SEASON):
        _hold(journal, cooks[held.cook], held, number, lot)


def _hold(journal: Journal, cook: Cook, held: Held, number: int, lot: np.random.Generator) -> None:
    rules = shipped(SCHEME).reads
    day = cook.starts_at.astimezone(ZoneInfo(cook.zone)).date()
    first = datetime.combine(day, _FIRST, ZoneInfo(cook.zone))
    contest = Contest(
        name=held.cook.split(",")[0],
        starts_at=first.astimezone(cook.starts_at.tzinfo),
        zone=cook.zone,
        place="contest field, invented",
        field=held.field,
        cost=held.cost,
        paid=held.paid,
        weather=held.weather,
    )
    categories = [
        _category(contest, place, name, cook, journal) for place, name in enumerate(_GOOD)
    ]
    cards = [_cards(journal, category, number, lot) for category in categories]
    own = [total_of(rules, card).value or 0.0 for card in cards]
    drawn: NDArray[np.float64] = lot.normal(FIELD_MEAN, FIELD_SPREAD, (held.field - 1, len(own)))
    others = np.minimum(drawn, MOST).round(4)
    steps = [
        Add((contest, *categories), f"Enter {contest.name}"),
        *(JudgeBy(category.id, shipped(SCHEME)) for category in categories),
        *(EnterCards(c.id, tuple(card)) for c, card in zip(categories, cards, strict=True)),
        *_told(contest, categories, own, others, announced=held.announced),
        *_carried(journal, categories),
    ]
    journal.do(Together(tuple(steps), f"Hold {contest.name}"))


def _carried(journal: Journal, categories: Sequence[Category]) -> Iterator[CarryInto]:
    """Return what the newest comparison before it brought to each category that was cooked for."""
    for category in categories:
        assert category.ideal is not None
        if category.cook_id is None:
            continue
        before = [
            cook
            for cook in journal.find(Cook, kind=CookKind.PRACTICE, status=CookStatus.DONE)
            if cook.starts_at < category.ideal
            and {means(p.cut, category.meat) for p in journal.find(Piece, cook_id=cook.id)}
            == {True}
        ]
        newest = max(before, key=lambda cook: (cook.starts_at, cook.id), default=None)
        arms = journal.find(Arm, cook_id=newest.id) if newest is not None else []
        tried = next((arm.name for arm in arms if not arm.control), "")
        if newest is not None and tried:
            yield CarryInto(category.id, newest.id, tried)


def _category(contest: Contest, place: int, name: str, cook: Cook, journal: Journal) -> Category:
    ideal = contest.starts_at + place * _EVERY
    must, must_not = _BOX[name]
    cuts = [piece.cut for piece in journal.whole(cook.id).pieces]
    return Category(
        contest_id=contest.id,
        position=place,
        name=name,
        meat=name,
        opens=ideal - WINDOW,
        ideal=ideal,
        closes=ideal + WINDOW,
        must=must,
        must_not=must_not,
        cook_id=cook.id if cuts and all(means(cut, name) for cut in cuts) else None,
    )


def _cards(
    journal: Journal, category: Category, number: int, lot: np.random.Generator
) -> list[Card]:
    """Return six cards: those of the best piece where the judges scored the cook, else by lot."""
    begun, gains = _GOOD[category.name]
    seen = begun + number * gains + lot.normal(0.0, 0.35)
    criteria = shipped(SCHEME).reads.names
    words = np.clip(np.rint(seen + lot.normal(0.0, 0.6, (6, len(criteria)))), 5, 9)
    by_lot = [dict(zip(criteria, map(float, line), strict=True)) for line in words]
    return (_best(journal, category.cook_id) if category.cook_id else []) or by_lot


def _best(journal: Journal, cook_id: str) -> list[Card]:
    """Return the judges' cards of the piece they liked best."""
    rules = shipped(SCHEME).reads
    cards: dict[str, dict[str, Card]] = {}
    for session in journal.find(Tasting, cook_id=cook_id):
        if session.scheme_id != SCHEME:
            continue
        pieces = {one.id: one.piece_id for one in journal.find(Sample, tasting_id=session.id)}
        for score in journal.find(Score, tasting_id=session.id):
            of_piece = cards.setdefault(pieces[score.sample_id], {})
            of_piece.setdefault(score.taster, {})[score.criterion] = score.value
    whole = [list(by_judge.values()) for by_judge in cards.values()]
    return max(whole, key=lambda one: total_of(rules, one).value or 0.0, default=[])


def _told(
    contest: Contest,
    categories: Sequence[Category],
    own: Sequence[float],
    others: NDArray[np.float64],
    *,
    announced: bool,
) -> Iterator[Change]:
    """Return what was read out: the totals of all others, or only the places."""
    for place, category in enumerate(categories):
        column = others[:, place]
        fields: dict[str, object] = {"others": tuple(sorted(map(float, column), reverse=True))}
        if announced:
            fields = {"given_place": 1 + int(np.sum(column > round(own[place], 4)))}
        yield Change(Category, category.id, fields)
    sums = np.round(others.sum(axis=1), 4)
    overall = 1 + int(np.sum(sums > round(sum(own), 4)))
    yield Change(Contest, contest.id, {"overall_place": overall})
