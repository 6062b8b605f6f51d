"""The season: its contests and practice cooks, how it went, what it took, what is open to test."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.contests.next_practice import Practice
from pitjournal.analysis.contests.season import Season, lines_of, season_of, years_of
from pitjournal.domain.contest import Category, Contest
from pitjournal.domain.cook import CookKind
from pitjournal.domain.times.moments import date_words, show_date
from pitjournal.files.schemes import shipped
from pitjournal.journal import Changes
from pitjournal.journal.commands.contests import JudgeBy
from pitjournal.journal.commands.records import Add, Together
from pitjournal.journal.jobs import Progress
from pitjournal.journal.queries.left_out import left_out_words
from pitjournal.journal.queries.season import YearOfCooks, year_of_cooks
from pitjournal.journal.sharing.season_figures import cook_lines, fact_lines
from pitjournal.local_zone import local_zone
from pitjournal.ui.charts.season_chart import SeasonChart
from pitjournal.ui.contest.page import NEWEST
from pitjournal.ui.contest_words import overall_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card, EmptyState
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.reflow import Reflow
from pitjournal.ui.look.parts.sort_table import Cell, Heading, SortTable
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import clear, column, row, words
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.ui.season.practice_words import (
    balance_lines,
    practice_heading,
    practice_title,
    practice_words,
    to_practise,
)
from pitjournal.ui.season.report_panel import ReportPanel

KINDS = frozenset({"contest", "category", "judge_card", "cook"})
CATEGORIES = ("chicken", "pork ribs", "pork butt", "brisket")
"""What a new contest is asked in, until the cook says otherwise: common practice, no source."""

OF_SEASON = "contest and practice cooks"

MOST_PRACTICE = 3
"""So many practice cooks are suggested."""

BREAK = 1000
"""A page that is narrower has its cards below each other, px."""


@dataclass(frozen=True)
class Entry:
    """A line of the calendar: a contest, or a cook."""

    at: datetime
    zone: str
    name: str
    sort: str
    came: str
    there: Destination


class SeasonPage(Page):
    """One year of contests, and of the cooks for them."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._year: int | None = None
        self._season: Season | None = None
        self._asked: object = None
        self._cooks: YearOfCooks | None = None
        self._entries: list[Entry] = []
        self.header = Header("Season")
        self.years = Choice("years")
        self.years.chosen.connect(self.turn)
        self.header.right.addWidget(self.years)
        self.report = button("Report…", self.write_report)
        self.header.right.addWidget(self.report)
        self.header.right.addWidget(button("New contest", self.begin, "primary"))
        self.empty = EmptyState(
            "No contest yet",
            "A contest holds its categories with their turn-in times, what the box must hold, and "
            "the judges' cards as they are read out. Its season then stands here.",
            ("New contest", self.begin),
        )
        self.chart = SeasonChart()
        self.chart.chosen.connect(self._open_mark)
        self.facts, self.took = FactTable("the season in figures"), FactTable("what it took")
        self.gone = words("", "quiet")
        self.list = SortTable("contests and cooks of the season")
        self.list.chosen.connect(self._open)
        self._open_lines = QVBoxLayout()
        self._practice = [QVBoxLayout() for _ in range(MOST_PRACTICE)]
        self._all = self._laid()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(tokens.M)
        outer.addWidget(self.header)
        outer.addWidget(self.empty, 1)
        outer.addWidget(self._all, 1)

    def _laid(self) -> QWidget:
        went = Card("Share of the others beaten, contest after contest")
        went.body.addWidget(self.chart, 1)
        figures = Card("The season in figures")
        figures.body.addWidget(self.facts)
        figures.body.addWidget(self.took)
        figures.body.addWidget(self.gone)
        figures.body.addStretch(1)
        calendar = Card("Contests and practice cooks")
        calendar.body.addWidget(self.list, 1)
        practise = self._test = Card("What to practise next")
        holders = [QWidget() for _ in self._practice]
        for holder, lines in zip(holders, self._practice, strict=True):
            lines.setContentsMargins(0, 0, 0, 0)
            holder.setLayout(lines)
        practise.body.addWidget(
            Reflow(
                {holder: (0, 4 * place, 1, 4) for place, holder in enumerate(holders)},
                {holder: (place, 0, 1, 12) for place, holder in enumerate(holders)},
                break_at=BREAK,
            )
        )
        test = Card("What is open to test")
        test.body.addLayout(self._open_lines)
        test.body.addStretch(1)
        cards = Reflow(
            {
                went: (0, 0, 1, 8),
                figures: (0, 8, 1, 4),
                practise: (1, 0, 1, 12),
                calendar: (2, 0, 1, 8),
                test: (2, 8, 1, 4),
            },
            {
                went: (0, 0, 1, 12),
                figures: (1, 0, 1, 12),
                practise: (2, 0, 1, 12),
                calendar: (3, 0, 1, 12),
                test: (4, 0, 1, 12),
            },
            break_at=BREAK,
        )
        return scrolled(column(cards, space=tokens.M), "season")

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        there = (Action("New contest", "Ctrl+Shift+N", self.begin),)
        report = Action("Write the season as a report", "Ctrl+E", self.write_report)
        return there if self._season is None else (*there, report)

    def concerned(self, changes: Changes) -> bool:
        """Whether a contest or a cook changed."""
        return bool(KINDS & changes.kinds)

    def refresh(self) -> None:
        """Show the chosen year: the newest, until another is chosen."""
        contests = self.desk.journal.contests.all()
        years = years_of(contests)
        self.empty.setVisible(not years)
        self._all.setVisible(bool(years))
        self.years.setVisible(len(years) > 1)
        self.report.setVisible(bool(years))
        if not years:
            return
        if self._year not in years:
            self._year = years[0]
        assert self._year is not None
        self.years.offer((year, str(year), -1) for year in years)
        self.years.choose(self._year)
        self._season = season_of(contests, self._year)
        self.header.show_title(f"Season {self._year}")
        named = [
            (one.contest.name, date_words(one.contest.day, with_year=False))
            for one in self._season.standings
        ]
        self.chart.show_season(named, lines_of(self._season))
        self.facts.show_rows([], [(name, (text,)) for name, text in fact_lines(self._season)])
        self._show_cooks(None)
        self._ask(self._year)

    def _ask(self, year: int) -> None:
        """Have the worker look through the year's cooks."""
        journal, system = self.desk.journal, self.desk.system
        asked = self._asked = object()

        def work(progress: Progress) -> YearOfCooks:
            return year_of_cooks(journal, year, system, progress)

        def done(found: YearOfCooks) -> None:
            if self._asked is asked:
                self._show_cooks(found)

        self.desk.bridge.run("Look through the season", work, done, asker=self, quiet=True)

    def _show_cooks(self, found: YearOfCooks | None) -> None:
        """Show what the cooks took and what they left open; None before that is known."""
        self._cooks = found
        lines = cook_lines(found.took, self.desk.system, called=OF_SEASON) if found else []
        if found is not None and self._season is not None:
            lines += balance_lines(self._season, found.took)
        self.took.show_rows([], [(name, (text,)) for name, text in lines])
        self.took.setVisible(bool(lines))
        self.gone.setText(left_out_words(self.desk.journal))
        self.gone.setVisible(bool(self.gone.text()))
        self._show_calendar(found)
        self._show_practice(found)
        clear(self._open_lines)
        for one in found.open if found else ():
            self._open_lines.addWidget(words(one.heading, "strong"))
            self._open_lines.addWidget(words(one.words))
            there = Destination(place="cook", cook_id=one.cook.id, page="findings")
            link = button(f"Cook {one.cook.number}: {one.cook.title}", self._goer(there), "link")
            self._open_lines.addLayout(row(link, None))
        if found is None or not found.open:
            said = "Nothing that was compared this year is left open." if found else "Looking…"
            self._open_lines.addWidget(words(said, "quiet"))

    def _show_practice(self, found: YearOfCooks | None) -> None:
        """Show what is worth practising, the best first, and before which contest."""
        for lines in self._practice:
            clear(lines)
        assert self._season is not None
        self._test.heading.setText(practice_heading(self._season, self.desk.now()))
        shown = found.practice[:MOST_PRACTICE] if found is not None else ()
        for lines, one in zip(self._practice, shown, strict=False):
            lines.addWidget(words(practice_title(one), "strong"))
            lines.addWidget(words(practice_words(one)))
            plan = button("Plan it", self._planner(one), "link", about=practice_title(one))
            lines.addLayout(row(plan, None))
            lines.addStretch(1)
        if not shown:
            said = "Enter the judges’ cards: what they hold back says what to practise."
            self._practice[0].addWidget(words(said if found else "Looking…", "quiet"))

    def _planner(self, one: Practice) -> Callable[[], None]:
        return lambda: self.desk.go_to(Destination(place="new cook", test=to_practise(one)))

    def _show_calendar(self, found: YearOfCooks | None) -> None:
        assert self._season is not None
        entries = [
            Entry(
                one.contest.starts_at,
                one.contest.zone,
                one.contest.name,
                "contest",
                overall_words(one.overall),
                Destination(place="contest", contest_id=one.contest.id),
            )
            for one in self._season.standings
        ]
        entries += [
            Entry(
                line.starts_at,
                line.zone,
                f"{line.number} · {line.title}",
                "its cook" if line.kind is CookKind.CONTEST else "practice",
                found.showed.get(line.id, "") if found else "",
                Destination(place="cook", cook_id=line.id),
            )
            for line in (found.cooks if found else ())
        ]
        self._entries = sorted(entries, key=lambda entry: entry.at, reverse=True)
        heads = (
            Heading("day"),
            Heading("what"),
            Heading("sort"),
            Heading("what came of it", roomy=True),
        )
        self.list.show_rows(
            heads,
            [
                (
                    Cell(show_date(one.at, one.zone), one.at.timestamp()),
                    Cell(one.name, one.name),
                    Cell(one.sort, one.sort),
                    Cell(one.came, one.came),
                )
                for one in self._entries
            ],
        )

    # what its taps do

    def turn(self, year: object) -> None:
        """Show another year."""
        assert isinstance(year, int)
        self._year = year
        self.refresh()

    def write_report(self) -> None:
        """Offer the chosen year as a report."""
        if self._year is not None:
            ReportPanel(self.desk, self.window(), self._year).open_panel()

    def begin(self) -> None:
        """Begin a contest with four categories, and go to it."""
        now = self.desk.now()
        contest = Contest(name="A contest", starts_at=now, zone=local_zone())
        categories = [
            Category(contest_id=contest.id, position=place, name=name, meat=name)
            for place, name in enumerate(CATEGORIES)
        ]
        scheme = shipped(NEWEST)
        step = Together(
            (
                Add((contest, *categories), "A contest"),
                *(JudgeBy(category.id, scheme) for category in categories),
            ),
            "Begin a contest",
        )
        if self.desk.bridge.do(step, self) is not None:
            self.desk.go_to(Destination(place="contest", contest_id=contest.id))

    def _goer(self, there: Destination) -> Callable[[], None]:
        return lambda: self.desk.go_to(there)

    def _open(self, number: int) -> None:
        self.desk.go_to(self._entries[number].there)

    def _open_mark(self, mark: int) -> None:
        assert self._season is not None
        one = self._season.standings[self.chart.contest_of(mark)]
        self.desk.go_to(Destination(place="contest", contest_id=one.contest.id))
