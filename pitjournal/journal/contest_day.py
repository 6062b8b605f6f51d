"""The cook of a contest: one for a category, or one for the whole day with a piece for each."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from pitjournal.domain.contest import Category, Contest, TurnIn, WholeContest
from pitjournal.domain.cook import Cook, CookKind
from pitjournal.domain.day.turn_in import due_at
from pitjournal.domain.piece import Piece
from pitjournal.journal.commands.records import AddCook, Change, Together

BEFORE = timedelta(hours=6)
"""Meat goes on about so long before the first box is due, until the day is worked out."""


@dataclass(frozen=True)
class PlannedDay:
    """A cook that is planned for a contest, and the command that plans it."""

    cook: Cook
    command: Together


def cook_for(contest: Contest, turn_ins: Sequence[TurnIn], title: str) -> Cook:
    """Return a contest cook for some categories, on the day of the first of their windows."""
    due = [at for one in turn_ins if (at := due_at(one.category)) is not None]
    first, last = min(due, default=contest.starts_at), max(due, default=contest.starts_at)
    return Cook(
        number=0,
        title=title,
        starts_at=first - BEFORE,
        zone=contest.zone,
        kind=CookKind.CONTEST,
        place=contest.place,
        serve_at=last,
    )


def day_of(whole: WholeContest) -> PlannedDay | None:
    """Return one cook for all categories that have none, a piece each; None where all have one."""
    contest = whole.contest
    turn_ins = [one for one in whole.turn_ins if one.category.cook_id is None]
    if not turn_ins:
        return None
    cook = cook_for(contest, turn_ins, contest.name)
    pieces = tuple(
        Piece(
            cook_id=cook.id,
            position=place,
            label=f"{'ABCDEFGHIJKLMNOPQRSTUVWXYZ'[place % 26]}1",
            cut=one.category.meat or one.category.name,
        )
        for place, one in enumerate(turn_ins)
    )
    takes = (Change(Category, one.category.id, {"cook_id": cook.id}) for one in turn_ins)
    return PlannedDay(cook, Together((AddCook(cook, pieces), *takes), f"Plan {cook.title}"))
