"""Trends: ask all the cooks. The sentence and the controls say the same."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.trends.answer import Answer
from pitjournal.analysis.trends.brush import of_groups, of_range
from pitjournal.analysis.trends.columns.row_selection import edges_of, select_rows
from pitjournal.analysis.trends.inference.agreement import agreement_words, scored_twice
from pitjournal.analysis.trends.inference.explanation import Explanation
from pitjournal.analysis.trends.inference.significance import Inference, Sitting, infer
from pitjournal.analysis.trends.question import Picture, Question, Where, joined
from pitjournal.analysis.trends.starters import STARTERS, Starter
from pitjournal.errors import JournalError
from pitjournal.journal import Changes
from pitjournal.journal.jobs import Job, Progress
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card, NoteCard
from pitjournal.ui.look.parts.overlay import Action, open_alone, put_away_all
from pitjournal.ui.look.parts.reflow import Beside
from pitjournal.ui.look.parts.words import column, row, rule, words
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.ui.trends.answer_card import AnswerCard
from pitjournal.ui.trends.answer_words import (
    chance_words,
    explaining_words,
    sample_words,
    spread_words,
    to_test,
)
from pitjournal.ui.trends.ask_line import AskLine
from pitjournal.ui.trends.controls import Controls
from pitjournal.ui.trends.cooks_card import CooksCard
from pitjournal.ui.trends.drawing import CooksOfMark
from pitjournal.ui.trends.export_panel import ExportPanel, Taken
from pitjournal.ui.trends.how_panel import HowPanel
from pitjournal.ui.trends.matters_card import MattersCard
from pitjournal.ui.trends.saved_card import SavedCard, SavePanel

FIRST = STARTERS[0].question

ASKING = (
    "A measure, by what it may go with, of which cooks: yield by wrap where cut is brisket since "
    "2025. Or take one of these; what you typed stays until you do."
)


class TrendsPage(Page):
    """A measure by any variables over all cooks, with the cooks behind each mark."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.question = self._asked = FIRST
        self.answer: Answer | None = None
        self.judged: Inference | None = None
        self.sitting = Sitting()
        self._looks = 0
        self._judging: Job[Inference] | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        header = Header("Trends")
        header.right.addWidget(button("What matters most", self._matter, tip="Ctrl+M"))
        header.right.addWidget(button("Save this question", self._save, tip="Ctrl+S"))
        header.right.addWidget(button("Export", self._export, tip="Ctrl+E"))
        outer.addWidget(header)
        self.ask_line = AskLine(desk)
        self.controls = Controls(desk, FIRST)
        self.saved = SavedCard(desk)
        self.answer_card = AnswerCard(desk)
        self.hint = NoteCard("", "Show it held", self._hold)
        self.hint.hide()
        self.matters = MattersCard(desk)
        self.cooks_card = CooksCard(desk)
        for asking in (self.ask_line, self.controls, self.saved):
            asking.asked.connect(self.ask)
        self.matters.asked.connect(self._begun)
        self.answer_card.picked.connect(self._picked)
        self.answer_card.brushed.connect(self._brushed)
        self.answer_card.drawn_as.connect(self._draw_as)
        left = column(self.controls, self.saved, self._starters_card(), None, space=tokens.M)
        self.ask_line.refused.connect(self._no_answer)
        self._answers = QWidget()
        below = column(
            self.answer_card,
            self.hint,
            self._words_card(),
            self.cooks_card,
            self._table_card(),
            space=tokens.M,
        )
        self._answers.setLayout(below)
        self.unasked = self._unasked_card()
        right = column(self.matters, self.unasked, self._answers, None, space=tokens.M)
        self.none_yet = NoteCard("", "Bring old cooks along", lambda: desk.go("old cooks"))
        body = column(
            self.none_yet,
            self.ask_line,
            Beside(left, right, (3, 8), right_first=True),
            None,
            space=tokens.M,
        )
        self._area = scrolled(body, "trends")
        outer.addWidget(self._area, 1)

    def _starters_card(self) -> Card:
        how = button("How to ask", self._how, "link", tip="Ctrl+H")
        card = Card("Ask", side=how)
        for starter in STARTERS:
            card.body.addWidget(button(starter.words, self._starter(starter), "link"))
            card.body.addWidget(rule())
        return card

    def _unasked_card(self) -> Card:
        """Return what stands in the place of an answer while there is none."""
        card = Card("What can be asked")
        card.body.addWidget(words(ASKING))
        for starter in STARTERS:
            line = button(starter.words, self._starter(starter), "link", about="instead")
            card.body.addLayout(row(line, None))
        card.hide()
        return card

    def _table_card(self) -> Card:
        card = Card()
        card.body.addWidget(self.answer_card.table)
        card.body.addWidget(self.answer_card.rest)
        return card

    def _words_card(self) -> Card:
        card = Card()
        self.words, self.chance, self.said = words(), words("", "quiet"), words("", "strong")
        self.plan = button("Plan a cook that would test it", self._plan, "link")
        these = button("These cooks in the list", self._list, "link")
        card.body.addWidget(self.said)
        card.body.addWidget(self.words)
        card.body.addWidget(self.chance)
        card.body.addLayout(row(self.plan, None, these, space=tokens.L))
        return card

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Type a question", "Ctrl+F", self.ask_line.begin),
            Action("Group by another variable", "Ctrl+G", self.controls.add_by),
            Action("Add a filter", "Ctrl+Shift+F", self.controls.add_where),
            Action("How to ask", "Ctrl+H", self._how),
            Action("What matters most", "Ctrl+M", self._matter),
            Action("Save this question", "Ctrl+S", self._save),
            Action("Export", "Ctrl+E", self._export),
        )

    # asking

    def concerned(self, changes: Changes) -> bool:
        """Whether an answer may be another."""
        if changes.kinds == {"saved_question"}:
            self.saved.refresh()
            return False
        return bool(changes.cooks) or "shelf_item" in changes.kinds

    def take(self, there: Destination) -> None:
        """Ask the saved question, or of the filters, that led here."""
        if there.where is not None:
            self.ask(replace(self.question, where=there.where, picture=None))
        if there.question_id:
            self.saved.ask(there.question_id)

    def leave(self) -> None:
        """Put away what lies over the page."""
        super().leave()
        put_away_all(self.window())

    def read_ahead(self) -> None:
        """Have all cooks read, and asked the first question, unless much is still worked out."""
        trends, question, system = self.desk.journal.trends, self.question, self.desk.system

        def work(progress: Progress) -> None:
            trends.arm_looks()
            if trends.up_to_date:
                trends.frame(progress)
                trends.ask(question, system)

        def over(_: object) -> None:
            """Say nothing: nobody asked yet."""

        self.desk.bridge.run("Read ahead", work, over, over, asker=self, quiet=True)

    def refresh(self) -> None:
        """Ask again."""
        self.controls.offer_measures()
        self.saved.refresh()
        none = not self.desk.journal.cooks.count()
        self.none_yet.say(
            "No cook is kept yet. Is there a spreadsheet with the cooks of years before?"
            if none
            else ""
        )
        self.ask(self.question)

    def ask(self, question: Question) -> None:
        """Ask a question and show the answer; what it reads for the first time, in a job."""
        self._asked = question
        if self.desk.reads_at_once(question.keys):
            self._answer(question)
            return
        trends, system = self.desk.journal.trends, self.desk.system
        if not trends.warm:
            self.words.setText("Reading all the cooks…")

        def work(progress: Progress) -> None:
            trends.frame(progress)
            trends.ask(question, system)

        def over(_: object) -> None:
            if self._asked is question:
                self._answer(question)  # what was refused is refused again, and said there

        self.desk.bridge.run("Read all the cooks", work, over, over, asker=self)

    def _answer(self, question: Question) -> None:
        trends = self.desk.journal.trends
        try:
            found = trends.ask(question, self.desk.system)
            self.answer_card.show_answer(found)
        except JournalError as error:
            self.ask_line.say(str(error))
            self._no_answer()
            return
        self.unasked.hide()
        self._answers.show()
        self.question, self.answer, self.judged = question, found, None
        self._looks = self.sitting.look(question)
        self.ask_line.show_question(question)
        self.controls.show_question(question)
        self.matters.keep_for(question)
        self.cooks_card.hide()
        self.hint.say("")
        self.plan.setVisible(not scored_twice(question, self.desk.catalogue))
        self._say(found)
        self._judge(found)

    def _no_answer(self) -> None:
        """Take the answer before away: it is none to what stands in the line now."""
        self.answer = self.judged = None
        if self._judging is not None:
            self._judging.cancel()
        self._answers.hide()
        self.unasked.show()

    def _say(self, found: Answer) -> None:
        self.words.setText(sample_words(found, self._looks))
        self.chance.setText("")
        drawing = self.answer_card.drawing
        spread = ""
        if drawing is not None and drawing.picture is Picture.SPREAD and found.groups:
            spread = spread_words(found, self.desk.catalogue, self.desk.system)
        self.said.setText(spread)
        self.said.setVisible(bool(spread))

    def _judge(self, found: Answer) -> None:
        """Work out what takes longer than a frame, and add it when it is there."""
        question, sitting = found.question, self.sitting
        catalogue, system = self.desk.catalogue, self.desk.system

        def work(_progress: Progress) -> Inference:
            return infer(found.frame, question, catalogue, system, sitting)

        def done(judged: Inference) -> None:
            if self.answer is found:
                self._show_judged(found, judged)

        if self._judging is not None:
            self._judging.cancel()  # its answer is no longer seen
        self._judging = self.desk.bridge.run("Judge an answer", work, done, asker=self, quiet=True)

    def _show_judged(self, found: Answer, judged: Inference) -> None:
        self.judged, system = judged, self.desk.system
        if found.by:
            self.chance.setText(chance_words(judged, self._looks))
        said = [self.answer_card.show_lines(found, judged.lines)]
        if scored_twice(found.question, self.desk.catalogue):
            said.insert(0, agreement_words(judged.agreement, found.measure, found.by[0], system))
        if any(said):
            self.said.setText(" ".join(part for part in said if part))
            self.said.show()
        if judged.explaining is not None:
            self.hint.say(explaining_words(judged.explaining, found.measure, system))

    # what is tapped

    def _starter(self, starter: Starter) -> Callable[[], None]:
        def take() -> None:
            self.ask(starter.question)
            if starter.sources:
                self._matter()

        return take

    def _begun(self, question: object) -> None:
        """Ask what a ranking led to, and show the answer below it."""
        assert isinstance(question, Question)
        self.ask(question)
        QTimer.singleShot(0, self, lambda: self._area.ensureWidgetVisible(self.answer_card))

    def _hold(self) -> None:
        explaining: Explanation | None = self.judged.explaining if self.judged else None
        if explaining is not None:
            held = (*self.question.held, explaining.variable.key)
            self.ask(replace(self.question, held=held, picture=None))

    def _draw_as(self, picture: object) -> None:
        assert isinstance(picture, Picture)
        self.ask(replace(self.question, picture=picture))

    def _brushed(self, behind: object) -> None:
        """Ask again of what was brushed only."""
        assert isinstance(behind, tuple)
        where = self._filters(behind)
        if where:
            self.ask(replace(self.question, where=joined(self.question.where, where)))
        elif behind:
            ids = tuple(cook_id for one in behind for cook_id in one.cook_ids)
            self._picked(CooksOfMark("what was brushed", ids))

    def _filters(self, behind: tuple[CooksOfMark, ...]) -> tuple[Where, ...]:
        drawing = self.answer_card.drawing
        spans = [one.span for one in behind if one.span is not None]
        if drawing is not None and drawing.along and spans:
            low, high = min(s[0] for s in spans), max(s[1] for s in spans)
            return of_range(drawing.along, low, high)
        answer, catalogue = self.answer, self.desk.catalogue
        if answer is None:
            return ()
        frame = answer.frame
        rows = select_rows(frame, self.question, catalogue, self.desk.system)
        found: list[Where] = []
        for place, by in enumerate(self.question.by):
            names = rows.groups[place].names
            there = {group.key[place] for group in answer.groups}
            wanted = {one.key[place] for one in behind}
            if wanted >= there:
                continue
            edges = edges_of(frame, by, self.question, catalogue, self.desk.system)
            found += of_groups(by, catalogue, names, wanted, edges)
        return tuple(found)

    def _picked(self, behind: object) -> None:
        """Show the cooks of a mark, where they can be seen."""
        assert isinstance(behind, CooksOfMark)
        self.cooks_card.show_cooks(behind)
        QTimer.singleShot(0, self, lambda: self._area.ensureWidgetVisible(self.cooks_card))

    def _how(self) -> None:
        open_alone(HowPanel(self.window()))

    def _matter(self) -> None:
        self._area.verticalScrollBar().setValue(0)
        self.matters.look(replace(self.question, held=(), picture=None))

    def _list(self) -> None:
        self.desk.go_to(Destination(place="cooks", where=self.question.where))

    def _plan(self) -> None:
        if self.answer is not None:
            self.desk.go_to(Destination(place="new cook", test=to_test(self.answer)))

    def _save(self) -> None:
        open_alone(SavePanel(self.window(), self.desk, self.question))

    def _export(self) -> None:
        if self.answer is None:
            return
        foot = self.words.text()
        sentence = self.ask_line.line.text()
        taken = Taken(self.answer, self.desk.system, self.answer_card.charts, sentence, foot)
        open_alone(ExportPanel(self.window(), self.desk, taken))
