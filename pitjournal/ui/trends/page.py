"""Trends: ask all the cooks. The sentence and the controls say the same."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtCore import QStringListModel, Qt
from PySide6.QtWidgets import QCompleter, QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.trends.answer import Answer, Group
from pitjournal.analysis.trends.question import (
    MOST_BY,
    By,
    Part,
    Question,
    Sign,
    Where,
    make_where,
)
from pitjournal.analysis.trends.sentence import (
    completions,
    parse_sentence,
    write_filter,
    write_sentence,
)
from pitjournal.analysis.trends.starters import STARTERS
from pitjournal.domain.catalogue import Kind
from pitjournal.errors import JournalError
from pitjournal.journal import Changes
from pitjournal.journal.jobs import Progress
from pitjournal.ui.charts.groups_chart import GroupMark, GroupsChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Chip, Choice, Flow
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.overlay import Action, Overlay
from pitjournal.ui.look.parts.sort_table import Cell, Heading, SortTable
from pitjournal.ui.look.parts.words import Problem, clear, column, row, rule, words
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.units import difference_of, show, show_interval, to_display, unit_label

FIRST = STARTERS[0][1]

MOST_COOKS = 20
"""So many cooks are named under the chart; the list of cooks shows the rest."""

AT_ONCE = 300
"""So many cooks are read faster than a worker could be asked to."""


class TrendsPage(Page):
    """A measure by any variables over all cooks, with the cooks behind each mark."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.question = FIRST
        self.answer: Answer | None = None
        self._looks = 0
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(Header("Trends"))
        body = column(self._sentence_line(), space=tokens.M)
        left = column(self._controls_card(), self._starters_card(), None, space=tokens.M)
        right = column(
            self._chart_card(), self._words_card(), self._cooks_card(), None, space=tokens.M
        )
        parts = row(left, right, space=tokens.M)
        parts.setStretch(0, 3)
        parts.setStretch(1, 8)
        body.addLayout(parts)
        outer.addWidget(scrolled(body, "trends"), 1)

    # what is on it

    def _sentence_line(self) -> QWidget:
        holder = QWidget()
        lines = QVBoxLayout(holder)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.setSpacing(2)
        self.sentence = QLineEdit()
        self.sentence.setProperty("role", "sentence")
        self.sentence.setAccessibleName("question")
        self.sentence.setPlaceholderText("yield by wrap where cut is brisket")
        self.sentence.returnPressed.connect(self._asked)
        self.sentence.textEdited.connect(self._complete)
        self._known = QStringListModel(self)
        completer = QCompleter(self._known, self)
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.sentence.setCompleter(completer)
        self.problem = Problem()
        lines.addWidget(self.sentence)
        lines.addWidget(self.problem)
        return holder

    def _controls_card(self) -> Card:
        card = Card()
        self.show_box = ChoiceBox("Show", (), self._show_measure)
        card.body.addWidget(self.show_box)
        card.body.addWidget(words("By", "heading"))
        self.by_chips = Flow()
        card.body.addLayout(self.by_chips)
        card.body.addWidget(words("Where", "heading"))
        self.where_chips = Flow()
        card.body.addLayout(self.where_chips)
        self.within = Choice("within the same cook")
        self.within.offer(((True, "only inside cooks that have both", -1),))
        self.within.chosen.connect(self._toggle_within)
        card.body.addWidget(self.within)
        return card

    def _starters_card(self) -> Card:
        card = Card("Ask")
        for text, question in STARTERS:
            card.body.addWidget(button(text, self._starter(question), "link"))
            card.body.addWidget(rule())
        return card

    def _chart_card(self) -> Card:
        card = Card("")
        self.title = words("", "heading")
        self.legend = Flow()
        top = column(self.title, self.legend)
        card.body.addLayout(top)
        self.chart = GroupsChart()
        self.chart.chosen.connect(self._pick)
        card.body.addWidget(self.chart, 1)
        self.table = SortTable("groups of cooks", hidden=("spread", "median"))
        self.table.chosen.connect(self._pick)
        card.body.addWidget(self.table)
        return card

    def _words_card(self) -> Card:
        card = Card()
        self.words = words()
        card.body.addLayout(
            row(self.words, button("Plan a cook that would test it", self._plan, "link"))
        )
        return card

    def _cooks_card(self) -> Card:
        self.cooks_card = Card("Cooks behind it")
        self.cooks = QVBoxLayout()
        self.cooks_card.body.addLayout(self.cooks)
        self.cooks_card.hide()
        return self.cooks_card

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Type a question", "Ctrl+F", self._type),
            Action("Group by another variable", "Ctrl+G", self._add_by),
            Action("Add a filter", "Ctrl+Shift+F", self._add_where),
        )

    # asking

    def concerned(self, changes: Changes) -> bool:
        """Whether an answer may be another."""
        return bool(changes.cooks) or "shelf_item" in changes.kinds

    def refresh(self) -> None:
        """Ask again."""
        measures = [(v.key, v.label) for v in self.desk.catalogue.values() if v.measure]
        self.show_box.offer(sorted(measures, key=lambda one: one[1]))
        trends = self.desk.journal.trends
        if trends.warm or self.desk.journal.cook_count() < AT_ONCE:
            self.ask(self.question)
            return
        self.words.setText("Reading all the cooks…")

        def work(_progress: Progress) -> None:
            trends.frame()

        def done(_nothing: None) -> None:
            self.ask(self.question)

        self.desk.bridge.run("Read all the cooks", work, done)

    def ask(self, question: Question) -> None:
        """Ask a question and show the answer."""
        if question != self.question or self.answer is None:
            self._looks += 1
        try:
            found = self.desk.journal.trends.ask(question, self.desk.system)
        except JournalError as error:
            self.problem.say(str(error))
            return
        self.problem.say("")
        self.question, self.answer = question, found
        self.sentence.setText(write_sentence(question, self.desk.catalogue, self.desk.system))
        self.sentence.setCursorPosition(0)
        self.cooks_card.hide()
        self._show_controls()
        self._show(found)

    def _asked(self) -> None:
        try:
            question = parse_sentence(self.sentence.text(), self.desk.catalogue, self.desk.system)
        except JournalError as error:
            self.problem.say(str(error))
            return
        self.ask(question)

    def _complete(self, text: str) -> None:
        self._known.setStringList(completions(text, self.desk.catalogue))

    def _starter(self, question: Question) -> Callable[[], None]:
        return lambda: self.ask(question)

    def _type(self) -> None:
        self.sentence.setFocus()
        self.sentence.selectAll()

    # controls

    def _show_controls(self) -> None:
        catalogue, question = self.desk.catalogue, self.question
        self.show_box.set_value(question.measure)
        clear(self.by_chips)
        for place, by in enumerate(question.by):
            label = str(by.part) if by.part else catalogue[by.key].label
            self._chip(self.by_chips, label, self._without_by(place))
        if len(question.by) < MOST_BY:
            self._plus(self.by_chips, "group by", self._add_by)
        clear(self.where_chips)
        for place, where in enumerate(question.where):
            label = write_filter(where, catalogue, self.desk.system)
            self._chip(self.where_chips, label, self._without_where(place))
        self._plus(self.where_chips, "filter", self._add_where)
        self.within.choose(*([True] if question.within else []))
        self.within.setVisible(bool(question.by))

    @staticmethod
    def _chip(flow: Flow, text: str, run: Callable[[], None]) -> None:
        chip = Chip(text, cross=True)
        chip.clicked.connect(lambda *_: run())
        flow.addWidget(chip)

    @staticmethod
    def _plus(flow: Flow, text: str, run: Callable[[], None]) -> None:
        chip = Chip(f"+ {text}")
        chip.clicked.connect(lambda *_: run())
        flow.addWidget(chip)

    def _show_measure(self, key: object) -> str:
        self.ask(replace(self.question, measure=str(key)))
        return ""

    def _toggle_within(self, _value: object) -> None:
        self.ask(replace(self.question, within=not self.question.within))

    def _without_by(self, place: int) -> Callable[[], None]:
        by = tuple(b for n, b in enumerate(self.question.by) if n != place)
        return lambda: self.ask(replace(self.question, by=by))

    def _without_where(self, place: int) -> Callable[[], None]:
        where = tuple(w for n, w in enumerate(self.question.where) if n != place)
        return lambda: self.ask(replace(self.question, where=where))

    def _add_by(self) -> None:
        options: list[tuple[object, str]] = [(part, str(part)) for part in Part]
        options += sorted(
            ((v.key, v.label) for v in self.desk.catalogue.values() if v.kind is not Kind.TIME),
            key=lambda one: one[1],
        )
        panel = Overlay(self.window(), "Group by", 560)
        choice = Choice("group by")
        choice.offer((value, text, -1) for value, text in options)

        def take(value: object) -> None:
            by = By("date", value) if isinstance(value, Part) else By(str(value))
            panel.close_panel()
            self.ask(replace(self.question, by=(*self.question.by, by)))

        choice.chosen.connect(take)
        inner = column(choice, None)
        panel.body.addWidget(scrolled(inner, "variables"))
        panel.setMinimumHeight(tokens.PANEL_HEIGHT)
        panel.open_panel(choice)

    def _add_where(self) -> None:
        FilterPanel(self.window(), self.desk, self._with_where).open_panel()

    def _with_where(self, where: Where) -> None:
        self.ask(replace(self.question, where=(*self.question.where, where)))

    # answers

    def _show(self, found: Answer) -> None:
        what, system = found.measure, self.desk.system
        unit = unit_label(what.dimension, system)
        label = f"{what.label[:1].upper()}{what.label[1:]}"
        self.title.setText(
            f"{label}{', ' + unit if unit else ''} · mean and 95 % interval over cooks"
        )
        series = self._series(found)
        clear(self.legend)
        for name, look in series.items():
            if name:
                self.legend.addWidget(Chip(name, mark=look))

        def there(value: float | None) -> float | None:
            return None if value is None else float(to_display(value, what.dimension, system))

        marks = []
        for group in found.groups:
            place, name = self._place(group)
            marks.append(
                GroupMark(
                    place,
                    name,
                    series.get(name, 0),
                    there(group.mean) or 0.0,
                    there(group.low),
                    there(group.high),
                    group.cooks,
                    group.few,
                )
            )
        self.chart.show_groups(marks[:60], unit)
        self._show_table(found)
        self.words.setText(self._said(found))

    @staticmethod
    def _place(group: Group) -> tuple[str, str]:
        """Return where a group stands along the foot, and its series: the first variable's."""
        if len(group.key) < 2:
            return (group.key[0] if group.key else "all cooks"), ""
        return ", ".join(group.key[1:]), group.key[0]

    def _series(self, found: Answer) -> dict[str, int]:
        names = dict.fromkeys(self._place(group)[1] for group in found.groups)
        return {name: place for place, name in enumerate(names)}

    def _show_table(self, found: Answer) -> None:
        what, system = found.measure, self.desk.system
        rows = []
        for group in found.groups:
            bounds = show_interval(group.low, group.high, what.dimension, system)
            spread = show(group.sd, difference_of(what.dimension), system)
            rows.append(
                (
                    Cell(", ".join(group.key) or "all cooks", ", ".join(group.key)),
                    Cell(show(group.mean, what.dimension, system), group.mean),
                    Cell(bounds, group.low),
                    Cell("–" if group.sd is None else spread, group.sd),
                    Cell(show(group.median, what.dimension, system), group.median),
                    Cell(str(group.cooks), float(group.cooks)),
                    Cell(str(group.pieces), float(group.pieces)),
                )
            )
        heads = ("mean", "95 % interval", "spread", "median", "cooks", "pieces")
        self.table.show_rows((Heading("group"), *(Heading(h, number=True) for h in heads)), rows)

    def _said(self, found: Answer) -> str:
        looks = f"Question {self._looks} of this sitting. " if self._looks > 1 else ""
        few = sum(group.few for group in found.groups)
        grey = f" Grey groups rest on fewer than three cooks ({few})." if few else ""
        return (
            f"Exploratory: a hint, not a test. {looks}{found.cooks} cooks and {found.pieces} "
            f"pieces counted; not recorded: {found.not_recorded} pieces.{grey}"
        )

    def _pick(self, place: int) -> None:
        if self.answer is None or place >= len(self.answer.groups):
            return
        group = self.answer.groups[place]
        clear(self.cooks)
        name = ", ".join(group.key) or "all cooks"
        self.cooks_card.heading.setText(f"Cooks behind {name}")
        lines = self.desk.journal.lines_of(list(group.cook_ids))
        for line in lines[:MOST_COOKS]:
            self.cooks.addWidget(
                button(f"{line.number}: {line.title}", self._opener(line.id), "link")
            )
        if len(lines) > MOST_COOKS:
            self.cooks.addWidget(
                button(f"All {len(lines)} in the list of cooks", self._lister(group), "link")
            )
        self.cooks_card.show()

    def _opener(self, cook_id: str) -> Callable[[], None]:
        return lambda: self.desk.go("cook", cook_id, "findings")

    def _lister(self, group: Group) -> Callable[[], None]:
        words = ", ".join(group.key) or "all cooks"
        return lambda: self.desk.listing.emit(list(group.cook_ids), words)

    def _plan(self) -> None:
        self.desk.go("new cook")


class FilterPanel(Overlay):
    """Choose a variable, how it compares, and with what."""

    def __init__(self, over: QWidget, desk: Desk, take: Callable[[Where], None]) -> None:
        super().__init__(over, "Only cooks where", 560)
        self._desk, self._take = desk, take
        variables = sorted(((v.key, v.label) for v in desk.catalogue.values()), key=lambda v: v[1])
        self.variable = ChoiceBox("Variable", variables, self._offer)
        self.variable.set_value("cut")
        self.signs = Choice("compared")
        self.signs.offer(
            (sign, text, -1)
            for sign, text in (
                (Sign.IS, "is"),
                (Sign.IS_NOT, "is not"),
                (Sign.MORE, "above"),
                (Sign.LESS, "below"),
                (Sign.AT_LEAST, "at least"),
                (Sign.AT_MOST, "at most"),
            )
        )
        self.signs.choose(Sign.IS)
        self.value = TextField("Value", lambda *_: "", hint="several with commas between")
        self.body.addWidget(self.variable)
        self.body.addWidget(self.signs)
        self.body.addWidget(self.value)
        self.body.addLayout(row(button("Add the filter", self._keep, "primary"), None))
        self.value.line.returnPressed.connect(self._keep)
        self._offer("cut")

    def _key(self) -> str:
        catalogue = self._desk.catalogue
        label = self.variable.box.currentText()
        return next((v.key for v in catalogue.values() if v.label == label), "cut")

    def _offer(self, key: object) -> str:
        variable = self._desk.catalogue[str(key)]
        frame = self._desk.journal.trends.frame()
        names = [] if variable.kind is Kind.NUMBER else sorted(frame.choices(variable.key)[1])
        self.value.offer(names)
        return ""

    def _keep(self) -> None:
        variable = self._desk.catalogue[self._key()]
        sign = next(iter(self.signs.values()), Sign.IS)
        assert isinstance(sign, Sign)
        texts = [text for text in self.value.line.text().split(",") if text.strip()]
        try:
            where = make_where(variable, sign, texts, self._desk.system)
        except JournalError as error:
            self.value.say(str(error))
            return
        self.close_panel()
        self._take(where)
