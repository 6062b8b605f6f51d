"""The record of a contest and of one of its categories: fields that save themselves."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.contest import Category, Contest, TurnIn
from pitjournal.domain.cuts import cut_names
from pitjournal.domain.scheme import Scheme
from pitjournal.domain.times.moments import show_date
from pitjournal.journal.commands.contests import JudgeBy, SetWindow
from pitjournal.journal.commands.records import AddCook, Change, Remove, Together
from pitjournal.journal.contest_day import cook_for
from pitjournal.store.cook_list import CookLine
from pitjournal.ui.contest.numbers_field import NumbersField
from pitjournal.ui.contest_words import money_words, rules_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox, Form
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.fields import Save
from pitjournal.ui.look.parts.near_field import NearField
from pitjournal.ui.look.parts.words import row, words
from pitjournal.units import Dimension

NEAR = timedelta(days=4)
"""Cooks that begin so near to a contest may be for it."""


class ContestCard(Card):
    """Name, day, place, field, what it cost and paid, weather and notes."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._contest: Contest | None = None
        super().__init__("The contest")
        form = self._form = Form(desk, "the contest")
        self.name = form.text("name", "Name", empty="A contest")
        self.day = NearField("Day, and when the first box is due", desk.now, self._move)
        self.field = form.quantity("field", "How many take part", Dimension.COUNT, whole=True)
        self.place = form.quantity(
            "overall_place", "Place over all, as announced", Dimension.COUNT, whole=True
        )
        self.others = NumbersField("Sums of all others", self._keep_others, hint="652.4 649.12 …")
        where = form.text("place", "Where")
        paid = form.quantity("paid", "It paid", Dimension.MONEY)
        cost = form.quantity("cost", "It cost", Dimension.MONEY)
        for part in (
            self.name,
            row(self.day, where),
            row(self.field, self.place),
            self.others,
            row(cost, paid),
            form.text("weather", "Weather"),
            form.lines("note", "Notes", lines=3),
        ):
            if isinstance(part, QWidget):
                self.body.addWidget(part)
            else:
                self.body.addLayout(part)
        self.body.addLayout(row(None, button("Remove this contest", self._remove, "link")))
        self.body.addStretch(1)

    def show_contest(self, contest: Contest) -> None:
        """Show one."""
        if self._contest is None or self._contest.id != contest.id:
            self.others.forget()
        self._contest = contest
        self._form.show(contest)
        self.day.zone, self.day.near = contest.zone, contest.starts_at
        self.day.set_value(contest.starts_at)
        self.others.set_value(contest.overall_others)
        self.heading.setText(", ".join(p for p in ("The contest", money_words(contest)) if p))

    def _change(self, fields: dict[str, object], label: str) -> str:
        if self._contest is None:
            return ""
        return self._desk.bridge.attempt(Change(Contest, self._contest.id, fields, label), self)

    def _move(self, value: object, _typed: str) -> str:
        if not isinstance(value, datetime):
            return "Say which day it is."
        return self._change({"starts_at": value}, "Change the day of the contest")

    def _keep_others(self, sums: tuple[float, ...]) -> str:
        return self._change({"overall_others": sums}, "Sums of all others")

    def _remove(self) -> None:
        if self._contest is not None:
            name = self._contest.name
            self._desk.bridge.do(Remove(Contest, self._contest.id, f"Remove the contest {name}"))


class CategoryCard(Card):
    """What is turned in: meat, window, rules, box, cook, and the place."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._turn_in: TurnIn | None = None
        super().__init__("What is turned in")
        form = self._form = Form(desk, "the category")
        self.times = {
            name: NearField(label, desk.now, self._timer(name), hint=hint)
            for name, label, hint in (
                ("opens", "Window opens", "11:55"),
                ("ideal", "Best turned in", "12:00"),
                ("closes", "Window closes", "12:05"),
            )
        }
        self.scheme = ChoiceBox("Judged by", (), self._judge)
        self.rules = words("", "quiet")
        self.cook = ChoiceBox("Cooked as", (), self._take_cook)
        self.plan = button("Plan its cook", self._plan_cook)
        self.others = NumbersField(
            "Totals of all others here", self._keep_others, hint="171.25 168.9 …"
        )
        holder = QWidget()
        inner = QVBoxLayout(holder)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(tokens.S)
        judged = row(self.scheme, self.cook, self.plan)
        judged.setAlignment(self.plan, Qt.AlignmentFlag.AlignBottom)
        for line in (
            row(form.text("name", "Category"), form.text("meat", "Meat", used=cut_names())),
            row(*self.times.values()),
            judged,
        ):
            inner.addLayout(line)
        inner.addWidget(self.rules)
        inner.addLayout(
            row(
                form.lines("must", "The box has to hold", hint="six portions, parsley or none"),
                form.lines("must_not", "The box may not hold", hint="foil, sticks, sauce apart"),
            )
        )
        inner.addLayout(
            row(
                form.quantity("given_place", "Place, as announced", Dimension.COUNT, whole=True),
                form.quantity("given_total", "Total, as announced", Dimension.SCORE),
                form.quantity("entries", "Boxes here, if not all", Dimension.COUNT, whole=True),
            )
        )
        inner.addWidget(self.others)
        inner.addWidget(form.lines("note", "Notes on the box", lines=2))
        self.body.addWidget(holder)
        self.body.addLayout(row(None, button("Remove this category", self._remove, "link")))
        self.body.addStretch(1)

    def show_turn_in(self, turn_in: TurnIn) -> None:
        """Show one."""
        if self._turn_in is None or self._turn_in.category.id != turn_in.category.id:
            self.others.forget()
        self._turn_in = turn_in
        category, contest = turn_in.category, turn_in.contest
        self._form.show(category)
        for name, field in self.times.items():
            field.zone, field.near = contest.zone, contest.starts_at
            field.set_value(getattr(category, name))
        schemes = self._schemes()
        shown: list[tuple[object, str]] = [(one.id, one.title) for one in schemes]
        if category.scheme_id and all(one.id != category.scheme_id for one in schemes):
            shown.append((category.scheme_id, category.title))
        self.scheme.offer(shown)
        self.scheme.set_value(category.scheme_id or None)
        self.rules.setText(rules_words(turn_in))
        cooks = self._cooks(turn_in)
        self.cook.offer(((None, "no cook yet"), *((line.id, _cook_words(line)) for line in cooks)))
        self.cook.set_value(category.cook_id)
        self.plan.setText("Open its cook" if category.cook_id else "Plan its cook")
        self.others.set_value(category.others)

    def _schemes(self) -> list[Scheme]:
        found = self._desk.journal.shelf.schemes()
        return [one for one in found if one.reads.most is not None and not one.retired]

    def _cooks(self, turn_in: TurnIn) -> Sequence[CookLine]:
        lines = self._desk.journal.cooks.page(most=max(1, self._desk.journal.cooks.count()))
        day, own = turn_in.contest.starts_at, turn_in.category.cook_id
        return [line for line in lines if line.id == own or abs(line.starts_at - day) <= NEAR]

    def _change(self, fields: dict[str, object], label: str) -> str:
        if self._turn_in is None:
            return ""
        category = self._turn_in.category
        return self._desk.bridge.attempt(Change(Category, category.id, fields, label), self)

    def _timer(self, name: str) -> Save:
        def keep(value: object, _typed: str) -> str:
            why = self._out_of_order(name, value)
            if why or self._turn_in is None:
                return why
            moment = value if isinstance(value, datetime) else None
            command = SetWindow(self._turn_in.category.id, {name: moment})
            return self._desk.bridge.attempt(command, self)

        return keep

    def _out_of_order(self, name: str, value: object) -> str:
        """Return why a time of the window cannot be, beside the others."""
        if self._turn_in is None or not isinstance(value, datetime):
            return ""
        category = self._turn_in.category
        times = {key: getattr(category, key) for key in self.times} | {name: value}
        known = [moment for moment in times.values() if moment is not None]
        return (
            "" if known == sorted(known) else "It opens, then comes the best time, then it closes."
        )

    def _judge(self, scheme_id: object) -> str:
        scheme = next((one for one in self._schemes() if one.id == scheme_id), None)
        if self._turn_in is not None and scheme is not None:
            self._desk.bridge.do(JudgeBy(self._turn_in.category.id, scheme), self._desk)
        return ""

    def _take_cook(self, cook_id: object) -> str:
        return self._change({"cook_id": cook_id}, "Cooked as")

    def _keep_others(self, totals: tuple[float, ...]) -> str:
        return self._change({"others": totals}, "Totals of all others")

    def _plan_cook(self) -> None:
        """Go to the cook of this category; one that is not there yet is planned for it."""
        if self._turn_in is None:
            return
        category, contest = self._turn_in.category, self._turn_in.contest
        if category.cook_id:
            self._desk.go("cook", category.cook_id, "plan")
            return
        cook = cook_for(contest, (self._turn_in,), f"{contest.name}, {category.name}")
        label = f"Plan {cook.title}"
        both = Together((AddCook(cook), Change(Category, category.id, {"cook_id": cook.id})), label)
        if self._desk.bridge.do(both) is not None:
            self._desk.go("cook", cook.id, "plan")

    def _remove(self) -> None:
        if self._turn_in is not None:
            category = self._turn_in.category
            self._desk.bridge.do(Remove(Category, category.id, f"Remove {category.name}"))


def _cook_words(line: CookLine) -> str:
    return f"{line.number} · {line.title} · {show_date(line.starts_at, line.zone)}"
