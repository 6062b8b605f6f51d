"""States of a contest day that is still to come: shared out to three hands, with their cards."""

from collections.abc import Callable, Iterator
from datetime import timedelta

from PySide6.QtWidgets import QScrollArea

from pitjournal.analysis.plan.hands import dealt
from pitjournal.analysis.plan.schedule import work_out
from pitjournal.domain.contest import Category, Contest
from pitjournal.domain.cook import Cook
from pitjournal.files.schemes import shipped
from pitjournal.journal.commands.contests import JudgeBy, SetWindow
from pitjournal.journal.commands.plan import GiveSteps, KeepSchedule, NameHands
from pitjournal.journal.commands.records import Add
from pitjournal.journal.contest_day import day_of
from pitjournal.journal.queries.planning import past
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look.parts.overlay import put_away_all
from pitjournal.ui.plan.page import PlanPage
from pitjournal.ui.window import Window

NAME = "The next contest"
CREW = ("Ana", "Ben", "Cy")
MEATS = ("chicken thighs", "pork butt")
WINDOW = timedelta(minutes=5)


def contest_day_states(window: Window) -> Iterator[tuple[str, Callable[[], object], int]]:
    """Return its plan, that plan further down, and the cards of the hands."""
    yield "contest-day", lambda: _plan(window), 3000
    yield "contest-day-below", lambda: _down(window), 400
    yield "contest-day-cards", lambda: _cards(window), 400
    put_away_all(window)


def _plan(window: Window) -> None:
    put_away_all(window)
    window.go("cook", _cook(window), "plan")


def _page(window: Window) -> PlanPage:
    place = window.place
    assert isinstance(place, CookPlace)
    assert isinstance(place.current, PlanPage)
    return place.current


def _down(window: Window) -> None:
    page = _page(window)
    area = page.findChild(QScrollArea)
    if area is not None:
        area.ensureWidgetVisible(page.hands)


def _cards(window: Window) -> None:
    _page(window).hands.show_cards()


def _cook(window: Window) -> str:
    """Return the cook of the day, planned where it is not there yet."""
    journal, now = window.desk.journal, window.desk.now()
    there = [cook.id for cook in journal.find(Cook) if cook.title == NAME]
    if there:
        return there[0]
    first = now + timedelta(days=9)
    contest = Contest(name=NAME, starts_at=first, zone="America/Chicago", field=30)
    categories = [
        Category(contest_id=contest.id, position=place, name=meat, meat=meat)
        for place, meat in enumerate(MEATS)
    ]
    journal.do(Add((contest, *categories), NAME))
    for category in categories:
        at = first + timedelta(minutes=30 * category.position)
        journal.do(JudgeBy(category.id, shipped("contest-2")))
        times = {"opens": at - WINDOW, "ideal": at, "closes": at + WINDOW}
        journal.do(SetWindow(category.id, times))
    found = journal.contests.whole(contest.id)
    day = day_of(found) if found is not None else None
    assert day is not None
    journal.do(day.command)
    whole = journal.whole(day.cook.id)
    journal.do(KeepSchedule(day.cook.id, work_out(whole, past(journal, whole).spans, now)))
    journal.do(NameHands(day.cook.id, CREW))
    journal.do(GiveSteps(dealt(journal.whole(day.cook.id))))
    return day.cook.id
