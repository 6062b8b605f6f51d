"""Findings: words first, then the picture, then the table; and the cook that would tell most."""

import secrets
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QStackedLayout, QVBoxLayout, QWidget

from pitjournal.analysis.findings.like import EVERY_CUT
from pitjournal.analysis.findings.next_cook import NextPlan, start
from pitjournal.analysis.findings.places import OwnScale
from pitjournal.analysis.findings.plate import cooks_behind, verdicts
from pitjournal.analysis.findings.plate_words import concluded
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.analysis.safety.cautions import FIRE, after_the_cook
from pitjournal.analysis.trade_words import in_letters
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.day.ribbon import ribbon_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.commands.conclude import Conclude
from pitjournal.journal.commands.records import AddCook
from pitjournal.journal.jobs import Progress
from pitjournal.journal.preferences import note_drawers, open_drawers
from pitjournal.ui.bridge import is_there
from pitjournal.ui.charts.difference_chart import DifferenceChart
from pitjournal.ui.charts.plate.plate_view import PlateView
from pitjournal.ui.charts.points_chart import PointsChart
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip
from pitjournal.ui.cook.day_chart import DayChart
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.findings import model
from pitjournal.ui.findings.across_card import AcrossCard
from pitjournal.ui.findings.answer_lines import ButLine, ConclusionLine, NextLine
from pitjournal.ui.findings.drawer_words import drawer_words
from pitjournal.ui.findings.how_panel import HowFoundPanel
from pitjournal.ui.findings.leeway import LeewayCard
from pitjournal.ui.findings.targets import TargetsCard
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card, EmptyState
from pitjournal.ui.look.parts.drawers import Drawers, inside
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.reflow import Reflow
from pitjournal.ui.look.parts.saved_bar import SavedBar
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import clear, column, row, rule, unbroken, words
from pitjournal.ui.look.theme import px, sized
from pitjournal.ui.page import scrolled

FOUND, NOTHING, WORKING = range(3)
"""What stands where on the page: findings, nothing to find, being worked out."""
WAIT_FOR_MORE = 500
"""Milliseconds for which the page waits for what takes longer, so that it need not grow."""
SPREAD = "One standard deviation of each, over the cooks of this comparison with this cut."


CLOSE = 6
"""Between the lines of the page, px: all of it is to stand in one window."""

SAVED_ROOM = 150
"""What is said of the last thing that was saved has so much room, px."""


def _beside(one: QWidget, two: QWidget) -> Reflow:
    """Return two things side by side, or one under the other where it is narrow."""
    return Reflow(
        {one: (0, 0, 1, 6), two: (0, 6, 1, 6)}, {one: (0, 0, 1, 12), two: (1, 0, 1, 12)}, 760
    )


class FindingsPage(CookPage):
    """What the cook showed, and what it can't."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._shown: model.Shown | None = None
        self._asked = 0
        self._stack = QStackedLayout(self)
        self.plate = PlateView()
        self.but = ButLine(lambda: self.drawers.open("else"))
        self.bar = SavedBar(desk.bridge)
        self.next_line = NextLine(self._plan_first, self._show_more)
        self.share = button("Share a summary", self._share, tip="Ctrl+E")
        for part in (self.bar, self.share):
            self.next_line.line.addWidget(part)
        self.next_card = self._next_card()
        self.concluded = ConclusionLine(self._conclude)
        self.drawers = self._drawers()
        self.drawers.turned.connect(self._remember)
        parts = (self.plate, self.but, self.next_line, self.next_card, self.concluded, self.drawers)
        layout = column(*parts, None, space=CLOSE)
        self._stack.addWidget(scrolled(layout, "findings"))
        layout.setContentsMargins(tokens.XL, tokens.XS, tokens.XL, tokens.S)
        self._stack.addWidget(
            EmptyState(
                "Nothing to find yet",
                "Findings come from what is weighed, probed, timed and tasted. Log the cook on "
                "the bench first.",
                ("Go to the bench", self.to_bench),
            )
        )
        self._stack.addWidget(EmptyState("Working it out…", "From what was recorded."))

    # what is on it

    def _drawers(self) -> Drawers:
        """Return all else that there is to see, folded away."""
        self.points_card, self.difference_card = self._points_card(), self._difference_card()
        self.ledger_card, self.leeway_card = self._ledger_card(), LeewayCard()
        about, day = self._about_card(), self._chart_card()
        self.across_card, self.spread_card = AcrossCard(self._join_cuts), self._spread_card()
        self.explored_card, safety = self._explored_card(), self._safety_card()
        self.scales_card, self.targets_card = self._scales_card(), TargetsCard(self.desk)
        return Drawers(
            (
                ("else", "What else differed", inside(self.ledger_card)),
                ("cooks", "Over all cooks", inside(_beside(self.across_card, self.spread_card))),
                (
                    "pieces",
                    "Each piece",
                    inside(_beside(self.points_card, self.difference_card), about),
                ),
                ("right", "How long right", inside(self.leeway_card, self.targets_card)),
                ("explored", "Exploratory", inside(self.explored_card)),
                ("panel", "The panel", inside(self.scales_card)),
                ("safety", "Safety facts", inside(safety)),
                ("day", "The day", inside(day)),
                ("how", "How it was worked out", inside(self._words_card())),
            )
        )

    def _words_card(self) -> Card:
        card = Card("What was found, in full")
        self.words = QVBoxLayout()
        self.words.setSpacing(6)
        card.body.addLayout(self.words)
        self.how = button("How was this worked out?", self._how, "link", tip="Ctrl+W")
        card.body.addLayout(row(self.how, None))
        return card

    def _next_card(self) -> Card:
        card = Card("Other cooks that would tell")
        self.next = QVBoxLayout()
        self.next.setSpacing(6)
        card.body.addLayout(self.next)
        card.hide()
        return card

    def _points_card(self) -> Card:
        card = Card("Each piece, packs joined")
        self.points = PointsChart()
        card.body.addWidget(self.points, 1)
        return card

    def _difference_card(self) -> Card:
        card = Card("Difference, 95 % interval")
        self.differences = DifferenceChart()
        card.body.addWidget(self.differences, 1)
        return card

    def _ledger_card(self) -> Card:
        card = Card("What else differed")
        self.ledger = FactTable("what else differed")
        self.beside = words("", "quiet")
        self.beside.setAlignment(Qt.AlignmentFlag.AlignTop)
        card.body.addWidget(_beside(self.ledger, self.beside))
        card.body.addStretch(1)
        return card

    def _scales_card(self) -> Card:
        card = Card("On the scale it was tasted on")
        self.scales = QVBoxLayout()
        self.scales.setSpacing(4)
        card.body.addLayout(self.scales)
        return card

    def _about_card(self) -> Card:
        card = Card("The cook")
        self.about = FactTable("the cook")
        card.body.addWidget(self.about)
        self.fuel = words("", "quiet")
        card.body.addWidget(self.fuel)
        card.body.addStretch(1)
        return card

    def _chart_card(self) -> Card:
        card = Card("The day")
        self.chart = DayChart(self.desk)
        sized(self.chart, least_height=tokens.CHART_HEIGHT)
        self.strip = RibbonStrip()
        card.body.addWidget(self.strip)
        card.body.addWidget(self.chart)
        return card

    def _spread_card(self) -> Card:
        card = Card("Where the spread comes from")
        self.spread = FactTable("where the spread comes from")
        card.body.addWidget(self.spread)
        self.spread_words = words("", "quiet")
        card.body.addWidget(self.spread_words)
        card.body.addStretch(1)
        return card

    def _explored_card(self) -> Card:
        card = Card("Exploratory: not declared before, corrected for many looks (Holm)")
        self.explored = FactTable("exploratory differences")
        card.body.addWidget(self.explored)
        card.body.addStretch(1)
        return card

    def _safety_card(self) -> Card:
        card = Card("Safety facts")
        self.safety = QVBoxLayout()
        self.safety.setSpacing(4)
        card.body.addLayout(self.safety)
        card.body.addWidget(words(unbroken("\n".join((*after_the_cook(), FIRE))), "quiet"))
        card.body.addWidget(
            words("Local codes and licensed practice come first. No fact here says more.", "quiet")
        )
        card.body.addStretch(1)
        return card

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Share a summary", "Ctrl+E", self._share),
            Action("How was this worked out?", "Ctrl+W", self._how),
        )

    @property
    def own_bar(self) -> MessageBar:
        """Return where it says what was saved: beside the next cook."""
        return self.bar

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave what was saved the room there is."""
        super().resizeEvent(event)
        self.bar.room = px(SAVED_ROOM)

    # what it shows

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook; what takes long is worked out by a worker."""
        tasted = any(tasting.revealed for tasting in whole.tastings)
        nothing = whole.cook.status is CookStatus.PLANNED and not whole.checks and not tasted
        another = self._shown is None or self._shown.found.cook_id != whole.cook.id
        self._stack.setCurrentIndex(NOTHING if nothing else WORKING if another else FOUND)
        self._asked += 1
        if nothing:
            return
        if another:
            self._shown = None
            self.drawers.open_only(open_drawers(whole.cook.id))
            self.concluded.field.forget()
        self.chart.show_cook(whole)
        self.chart.setVisible(bool(whole.traces))
        self.strip.show_ribbon(ribbon_of(whole, self.desk.now()), whole.cook.zone)
        asked, system, journal = self._asked, self.desk.system, self.desk.journal

        def work(_progress: Progress) -> model.Shown:
            return model.work_out(journal, whole, system)

        def done(shown: model.Shown) -> None:
            if asked == self._asked:
                before = self._shown.deeper if self._shown is not None else None
                self._show(replace(shown, deeper=before))
                self._look_deeper(asked, whole.cook.id)
                QTimer.singleShot(WAIT_FOR_MORE, lambda: self._reveal(asked))

        self.desk.bridge.run("Work out what the cook showed", work, done, asker=self)

    def _look_deeper(self, asked: int, cook_id: str) -> None:
        """Work out what takes longer: the model of leeway, and where the spread comes from."""
        journal = self.desk.journal

        def work(_progress: Progress) -> SlowFindings:
            return journal.findings.slow(cook_id)

        def done(deeper: SlowFindings) -> None:
            if asked == self._asked and self._shown is not None:
                self._show_deeper(replace(self._shown, deeper=deeper))
                self._reveal(asked)

        self.desk.bridge.run("Work out how long it stays right", work, done, asker=self, quiet=True)

    def _reveal(self, asked: int) -> None:
        """Show the page once all is on it, or what there is after a short while."""
        if asked == self._asked and self._shown is not None and is_there(self):
            self._stack.setCurrentIndex(FOUND)

    @property
    def shown(self) -> model.Shown | None:
        """What is shown, once it is worked out."""
        return self._shown

    def _show(self, shown: model.Shown) -> None:
        self._shown = shown
        found = shown.found
        clear(self.words)
        for sentence in found.words:
            self.words.addWidget(words(sentence, "large"))
        self.plate.show_plate(shown.plate)
        self.but.say(*shown.but)
        self._show_conclusion(shown)
        compared = len(found.arms) > 1
        declared = compared and found.outcome is not None and not found.blind
        self.how.setVisible(bool(declared and found.declared))
        self._show_next(shown)
        for card in (self.points_card, self.difference_card):
            card.setVisible(bool(declared))
        self.ledger_card.setVisible(compared)
        if found.outcome is not None:
            label = found.outcome.label
            self.points_card.heading.setText(f"{label[:1].upper()}{label[1:]}, each piece")
        self.points.show_arms(*model.arm_points(shown))
        self.differences.show_rows(model.difference_rows(shown), model.caption(shown))
        control = next((arm.name for arm in found.arms if arm.control), "")
        self.ledger_card.heading.setText(f"What else differed from {control.casefold()}")
        heads, rows = model.ledger(shown)
        self.ledger.setVisible(bool(rows))
        self.ledger.show_rows(heads, rows)
        beside = model.beside(shown) if rows else [model.NOTHING_BESIDE]
        self.beside.setText("\n".join(beside))
        self.beside.setVisible(bool(beside))
        self._show_deeper(shown)
        self.targets_card.show_targets(shown)
        self.about.show_rows(*model.about(shown))
        self.fuel.setText(model.fuel_line(shown))
        self.across_card.show_across(shown)
        explored = model.explored(shown)
        self.explored_card.setVisible(bool(explored))
        heads = [("difference", None), ("95 % interval", None), ("pieces", None), ("", None)]
        self.explored.show_rows(heads, explored)
        self._show_safety(shown)

    def _show_scales(self, scales: Sequence[OwnScale]) -> None:
        clear(self.scales)
        self.scales_card.setVisible(bool(scales))
        for scale in scales:
            self.scales.addWidget(words(scale.title, "strong"))
            for sentence in scale.words:
                self.scales.addWidget(words(sentence))

    def _show_deeper(self, shown: model.Shown) -> None:
        """Show what takes longer, or that it is being worked out."""
        self._shown = shown
        known = shown.deeper is not None
        self._show_scales(shown.deeper.scales if shown.deeper else ())
        if not known and shown.found.seen:  # its place is kept, so that nothing moves down later
            self.scales.addWidget(words("Working it out…", "quiet"))
            self.scales_card.show()
        self.leeway_card.show_leeway(shown)
        heads, rows = model.spread_rows(shown)
        self.spread.show_rows(heads if rows else [], rows)
        self.spread_card.setVisible(bool(rows or shown.found.across))
        none = "Too few readings to split it." if known else "Working it out…"
        self.spread_words.setText(SPREAD if rows else none)
        self._tell_drawers(shown)

    def _show_conclusion(self, shown: model.Shown) -> None:
        if self.whole is None:
            return
        kept = self.whole.conclusion
        when = ""
        if kept is not None:
            behind, said = cooks_behind(shown.found), verdicts(shown.plate)
            when = concluded(kept, self.whole.cook.zone, behind, said)
        self.concluded.show_conclusion("" if kept is None else kept.text, when)

    def _tell_drawers(self, shown: model.Shown) -> None:
        if self.whole is not None:
            for key, line in drawer_words(shown, self.whole).items():
                self.drawers.tell(key, line)

    def _show_next(self, shown: model.Shown) -> None:
        clear(self.next)
        first, *others = shown.next[:3] or (None,)
        self.next_line.heading.setText("Two arms side by side" if first is None else first.heading)
        why = "in the same packs" if first is None else first.words
        self.next_line.why.show_text(why)
        self.next_line.plan.setVisible(first is None or first.plan is not None)
        self.next_line.plan.tell_about("" if first is None or not first.plan else first.plan.title)
        self.next_line.more.setVisible(bool(others))
        many = "another" if len(others) == 1 else f"{in_letters(len(others))} others"
        self.next_line.more.setText(f"Or {many}")
        if not others:
            self.next_card.hide()
        for suggestion in others:
            self.next.addWidget(words(suggestion.heading, "strong"))
            self.next.addWidget(words(suggestion.words))
            if suggestion.plan is not None:
                self.next.addLayout(row(self._planner(suggestion.plan), None))

    def _planner(self, plan: NextPlan) -> QPushButton:
        return button("Plan it", lambda: self._plan(plan), about=plan.title)

    def _plan_first(self) -> None:
        """Start the cook that is named in the line; a comparison where there is none yet."""
        first = next(iter(self._shown.next), None) if self._shown is not None else None
        if first is not None and first.plan is not None:
            self._plan(first.plan)
        else:
            self.desk.go("new cook")

    def _show_more(self) -> None:
        self.next_card.setVisible(self.next_card.isHidden())
        self._remember()

    def _remember(self) -> None:
        """Remember what is open, for this cook."""
        if self.whole is not None:
            opened = (*self.drawers.opened, *(["next"] if not self.next_card.isHidden() else []))
            note_drawers(self.whole.cook.id, opened)

    def _conclude(self, value: object, _typed: str) -> str:
        """Keep what the cook concludes, beside what was known when it was written."""
        shown, whole = self._shown, self.whole
        if shown is None or whole is None:
            return ""
        text, now = str(value or ""), self.desk.now()
        known = cooks_behind(shown.found), verdicts(shown.plate)
        return self.desk.bridge.attempt(Conclude(whole.cook.id, text, now, *known), self)

    def _show_safety(self, shown: model.Shown) -> None:
        clear(self.safety)
        for fact, state, source in model.safety_lines(shown.found.safety):
            role = {"reached": "right", "not reached": "ember"}.get(state, "quiet")
            told = words(unbroken(fact))
            line = row(told, words(state, role, wrap=False), space=tokens.L)
            line.setStretch(0, 1)
            self.safety.addLayout(line)
            self.safety.addWidget(words(source, "quiet"))
            self.safety.addWidget(rule())

    # what its taps do

    def _share(self) -> None:
        if self.whole is not None:
            self.desk.go("share", self.whole.cook.id)

    def _join_cuts(self, every: bool) -> None:
        """Join other cuts too, or keep to this cook's own; kept with the journal."""
        whole = self.whole
        if whole is not None:
            label = "Join other cuts" if every else "Keep to the same cut"
            choice = Choose(EVERY_CUT + whole.cook.id, "yes" if every else "", label)
            self.desk.bridge.do(choice, self)
            self.show_cook(whole)

    def _plan(self, plan: NextPlan) -> None:
        """Start the cook that would tell most, a week on, and go to its plan."""
        if self.whole is None:
            return
        later = max(self.whole.cook.starts_at, self.desk.now()) + timedelta(days=7)
        cook, parts = start(plan, self.whole, later, secrets.randbelow(9000) + 1000)
        problem = self.desk.bridge.attempt(AddCook(cook, parts, f"Start {cook.title}"), self)
        if problem:
            self.desk.bridge.refused.emit(problem)
            return
        self.desk.go("cook", cook.id, "plan")

    def _how(self) -> None:
        shown = self._shown
        if shown is not None:
            HowFoundPanel(self.window(), shown).open_panel()
