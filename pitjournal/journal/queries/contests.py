"""Read contests, whole."""

from collections.abc import Iterable

from pitjournal.domain.contest import Category, Contest, JudgeCard, TurnIn, WholeContest
from pitjournal.store.database import Database


class Contests:
    """The contests of an open journal."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def all(self) -> tuple[WholeContest, ...]:
        """Return every contest with its categories and cards, the newest first."""
        found = sorted(self._database.find(Contest), key=lambda one: (one.starts_at, one.id))
        categories = self._database.find(Category)
        cards = self._database.find(JudgeCard)
        return tuple(
            WholeContest(contest, _turn_ins(contest, categories, cards))
            for contest in reversed(found)
        )

    def whole(self, contest_id: str) -> WholeContest | None:
        """Return a contest; None when it is gone."""
        found = self._database.find(Contest, id=contest_id)
        if not found:
            return None
        categories = self._database.find(Category, contest_id=contest_id)
        cards = self._database.find(JudgeCard, contest_id=contest_id)
        return WholeContest(found[0], _turn_ins(found[0], categories, cards))


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
    contest: Contest, categories: Iterable[Category], cards: Iterable[JudgeCard]
) -> tuple[TurnIn, ...]:
    given: dict[str, list[JudgeCard]] = {}
    for card in cards:
        given.setdefault(card.category_id, []).append(card)
    own = [category for category in categories if category.contest_id == contest.id]
    return tuple(
        TurnIn(
            contest, category, tuple(sorted(given.get(category.id, ()), key=lambda card: card.seat))
        )
        for category in sorted(own, key=lambda category: (category.position, category.id))
    )
