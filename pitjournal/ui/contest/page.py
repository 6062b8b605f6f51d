"""A contest: what it is, what is turned in, and the cards as they are read out."""

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout

from pitjournal.analysis.contests.results import overall_of, result_of
from pitjournal.domain.contest import Category, Contest, JudgeCard, TurnIn, WholeContest
from pitjournal.domain.times.moments import show_day
from pitjournal.errors import JournalError
from pitjournal.files.schemes import shipped
from pitjournal.journal import Changes
from pitjournal.journal.commands.contests import EnterScore, JudgeBy
from pitjournal.journal.commands.records import Add, Together
from pitjournal.journal.contest_day import day_of
from pitjournal.journal.queries.left_out import left_out_words
from pitjournal.ui.contest.box_photo import BoxPhoto
from pitjournal.ui.contest.cards_grid import CardsGrid, spread_words
from pitjournal.ui.contest.details import CategoryCard, ContestCard
from pitjournal.ui.contest.practice_card import PracticeCard
from pitjournal.ui.contest_words import chip_words, overall_words, result_lines, window_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Action, put_away_all
from pitjournal.ui.look.parts.reflow import Reflow
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.look.parts.words_field import WordsField
from pitjournal.ui.page import Header, Page, scrolled

NEWEST = "contest-2"
"""What a new category is judged by until something else is chosen."""

BREAK = 1000
"""A page that is narrower has its cards below each other, px."""

KINDS = frozenset({"contest", "category", "judge_card", "carried", "cook", "photo"})


class ContestPage(Page):
    """One contest."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._contest_id = self._category_id = ""
        self.whole: WholeContest | None = None
        self.header = Header(ruled=True)
        self.header.right.addWidget(button("All contests", lambda: desk.go("season"), tip="Alt+Up"))
        self.contest = ContestCard(desk)
        self.category = CategoryCard(desk)
        self.photo = BoxPhoto(desk)
        self.practice = PracticeCard(desk)
        self.chosen = Choice("categories")
        self.chosen.chosen.connect(self.turn)
        more = button("Add a category", self.add, "link")
        self.whole_day = button("Plan the whole day", self.plan_day)
        self.whole_day.setToolTip("One cook with the meat of every category, each with its window")
        self.grid = CardsGrid()
        self.cards = Card("The judges' cards, as they are read out")
        self.problem = Problem()
        self.result = words("", "large")
        self.spread = words("", "quiet")
        hint = "Type digit after digit: each goes on by itself, Enter to the next judge."
        for widget in (words(hint, "quiet"), self.grid, self.problem, self.result, self.spread):
            self.cards.body.addWidget(widget)
        self.cards.body.addStretch(1)
        self.grid.said.connect(self.problem.say)
        self.grid.finished.connect(self._next)
        cards = Reflow(
            {
                self.cards: (0, 0, 1, 6),
                self.category: (0, 6, 1, 6),
                self.practice: (1, 0, 1, 6),
                self.photo: (1, 6, 1, 6),
                self.contest: (2, 0, 1, 12),
            },
            {
                self.cards: (0, 0, 1, 12),
                self.category: (1, 0, 1, 12),
                self.practice: (2, 0, 1, 12),
                self.photo: (3, 0, 1, 12),
                self.contest: (4, 0, 1, 12),
            },
            break_at=BREAK,
        )
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(self.header)
        chips = row(self.chosen, more, self.whole_day, space=tokens.M)
        chips.setStretch(0, 1)
        scrolled(column(chips, cards, None, space=tokens.M), "contest", outer)

    def meet(self, there: Destination) -> None:
        """Show the contest that is gone to.

        Raises
        ------
        JournalError
            If it is gone.
        """
        wanted = there.contest_id or self._contest_id
        found = self.desk.journal.contests.whole(wanted)
        if found is None:
            raise JournalError("That contest is no longer in the journal.", "Undo brings it back.")
        self._contest_id = wanted
        self._category_id = there.page or self._category_id
        self._show(found)

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Enter the cards", "Ctrl+E", self.grid.begin),
            Action("The next category", "Ctrl+PgDown", self._next),
            Action("Add a category", "Ctrl+Shift+A", self.add),
            Action("Plan the whole day as one cook", "Ctrl+Shift+T", self.plan_day),
            Action("All contests", "Alt+Up", lambda: self.desk.go("season")),
        )

    def concerned(self, changes: Changes) -> bool:
        """Whether a contest changed, or what it names."""
        return bool(KINDS & changes.kinds)

    def refresh(self) -> None:
        """Read the contest again and show it."""
        if not self._contest_id:
            return
        found = self.desk.journal.contests.whole(self._contest_id)
        if found is None:
            self._contest_id = ""
            put_away_all(self.window())
            self.desk.go("season")
            return
        self._show(found)

    def _show(self, whole: WholeContest) -> None:
        self.whole = whole
        contest = whole.contest
        over = " · ".join(
            part
            for part in (show_day(contest.starts_at, contest.zone), contest.place, _field(contest))
            if part
        )
        came = overall_words(overall_of(whole))
        self.header.show_title(contest.name + (f": {came}" if came else ""), over)
        self.contest.show_contest(contest)
        self.chosen.offer((one.category.id, chip_words(one), -1) for one in whole.turn_ins)
        known = [one.category.id for one in whole.turn_ins]
        if self._category_id not in known:
            self._category_id = known[0] if known else ""
        self.whole_day.setVisible(any(one.category.cook_id is None for one in whole.turn_ins))
        for widget in (self.chosen, self.cards, self.category, self.photo, self.practice):
            widget.setVisible(bool(known))
        if known:
            self.chosen.choose(self._category_id)
            self._show_category()

    def _turn_in(self) -> TurnIn | None:
        if self.whole is None:
            return None
        return next((t for t in self.whole.turn_ins if t.category.id == self._category_id), None)

    def _show_category(self) -> None:
        turn_in = self._turn_in()
        if turn_in is None:
            return
        result = result_of(turn_in)
        name = turn_in.category.name
        self.cards.heading.setText(f"{name}: the judges' cards, as they are read out")
        window = window_words(turn_in)
        self.category.heading.setText(f"{name}, turned in at {window}" if window else name)
        self.category.show_turn_in(turn_in)
        self.photo.show_turn_in(turn_in)
        self.practice.show_turn_in(turn_in)
        self.grid.show_cards(turn_in, self._keep)
        self.result.setText("\n".join(result_lines(turn_in)))
        self.result.setVisible(bool(self.result.text()))
        said = ". ".join(p for p in (spread_words(result.cards), *result.doubts) if p)
        gone = left_out_words(self.desk.journal, Contest, Category, JudgeCard)
        self.spread.setText("\n".join(filter(None, (said, gone))))

    # what its taps do

    def leave(self) -> None:
        """Save what still stands in a field."""
        super().leave()
        for field in self.findChildren(WordsField):
            field.settle()

    def _keep(self, seat: int, criterion: str, value: float | None) -> str:
        turn_in = self._turn_in()
        if turn_in is None:
            return ""
        label = f"{turn_in.category.name}: judge {seat}, {criterion}"
        command = EnterScore(turn_in.category.id, seat, criterion, value, label)
        return self.desk.bridge.attempt(command, self)

    def turn(self, category_id: object) -> None:
        """Show another category; what is being typed is of the one before."""
        self.leave()
        self._category_id = str(category_id)
        self.problem.say("")
        self._show_category()

    def _next(self) -> None:
        """Go on to the cards of the next category, as they are read out."""
        if self.whole is None:
            return
        known = [one.category.id for one in self.whole.turn_ins]
        place = known.index(self._category_id) + 1 if self._category_id in known else 0
        if place < len(known):
            self.chosen.choose(known[place])
            self.turn(known[place])
            self.grid.begin()

    def add(self) -> None:
        """Add a category, judged as the one before."""
        if self.whole is None:
            return
        before = self.whole.turn_ins[-1].category if self.whole.turn_ins else None
        place = 0 if before is None else before.position + 1
        made = Category(
            contest_id=self.whole.contest.id, position=place, name=f"category {place + 1}"
        )
        schemes = self.desk.journal.shelf.schemes()
        scheme = next(
            (one for one in schemes if before is not None and one.id == before.scheme_id),
            shipped(NEWEST),
        )
        self._category_id = made.id
        self.desk.bridge.do(
            Together((Add((made,), "Add"), JudgeBy(made.id, scheme)), f"Add {made.name}")
        )

    def plan_day(self) -> None:
        """Plan one cook with a piece for every category that has none yet, and go to it."""
        if self.whole is None:
            return
        found = day_of(self.whole)
        if found is not None and self.desk.bridge.do(found.command, self) is not None:
            self.desk.go("cook", found.cook.id, "plan")


def _field(contest: Contest) -> str:
    return "" if contest.field is None else f"{contest.field} take part"
