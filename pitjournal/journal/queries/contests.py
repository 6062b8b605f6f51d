"""Read contests, whole."""

from collections.abc import Iterable

from pitjournal.domain.contest import Carried, Category, Contest, JudgeCard, TurnIn, WholeContest
from pitjournal.store.database import Database


class Contests:
    """The contests of an open journal."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def all(self) -> tuple[WholeContest, ...]:
        """Return every contest with its categories and cards, the newest first."""
        found = sorted(self._database.find(Contest), key=lambda one: (one.starts_at, one.id))
        categories = self._database.find(Category)
        cards, carried = self._database.find(JudgeCard), self._database.find(Carried)
        return tuple(
            WholeContest(contest, _turn_ins(contest, categories, cards, carried))
            for contest in reversed(found)
        )

    def whole(self, contest_id: str) -> WholeContest | None:
        """Return a contest; None when it is gone."""
        found = self._database.find(Contest, id=contest_id)
        if not found:
            return None
        categories = self._database.find(Category, contest_id=contest_id)
        cards = self._database.find(JudgeCard, contest_id=contest_id)
        carried = [
            one
            for category in categories
            for one in self._database.find(Carried, category_id=category.id)
        ]
        return WholeContest(found[0], _turn_ins(found[0], categories, cards, carried))

    def carried_from(self, cook_id: str) -> tuple[tuple[Carried, TurnIn], ...]:
        """Return where what a cook found was carried, the earliest contest first."""
        found = [
            (carried, turn_in)
            for carried in self._database.find(Carried, cook_id=cook_id)
            for category in self._database.find(Category, id=carried.category_id)
            for whole in (self.whole(category.contest_id),)
            for turn_in in (whole.turn_ins if whole is not None else ())
            if turn_in.category.id == category.id
        ]
        return tuple(sorted(found, key=lambda one: (one[1].contest.starts_at, one[0].id)))


def turn_ins_of(
    database: Database, categories: Iterable[Category]
) -> dict[str, tuple[TurnIn, ...]]:
    """Return what was turned in from each cook, by its id."""
    found: dict[str, tuple[TurnIn, ...]] = {}
    contests: dict[str, WholeContest | None] = {}
    reader = Contests(database)
    for category in categories:
        if category.contest_id not in contests:
            contests[category.contest_id] = reader.whole(category.contest_id)
        whole = contests[category.contest_id]
        own = () if whole is None else tuple(t for t in whole.turn_ins if t.category == category)
        cook_id = category.cook_id or ""
        found[cook_id] = (*found.get(cook_id, ()), *own)
    return found


def _turn_ins(
    contest: Contest,
    categories: Iterable[Category],
    cards: Iterable[JudgeCard],
    carried: Iterable[Carried],
) -> tuple[TurnIn, ...]:
    given: dict[str, list[JudgeCard]] = {}
    for card in cards:
        given.setdefault(card.category_id, []).append(card)
    into: dict[str, list[Carried]] = {}
    for one in carried:
        into.setdefault(one.category_id, []).append(one)
    own = [category for category in categories if category.contest_id == contest.id]
    return tuple(
        TurnIn(
            contest,
            category,
            tuple(sorted(given.get(category.id, ()), key=lambda card: card.seat)),
            tuple(into.get(category.id, ())),
        )
        for category in sorted(own, key=lambda category: (category.position, category.id))
    )
