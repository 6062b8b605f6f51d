"""What lies in the drawers of the findings: a card for all that is not the answer itself."""

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.findings.places import OwnScale
from pitjournal.analysis.safety.cautions import FIRE, after_the_cook
from pitjournal.domain.day.ribbon import ribbon_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.charts.difference_chart import DifferenceChart
from pitjournal.ui.charts.points_chart import PointsChart
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip
from pitjournal.ui.cook.day_chart import DayChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.findings import model
from pitjournal.ui.findings.across_card import AcrossCard
from pitjournal.ui.findings.drawer_words import drawer_words
from pitjournal.ui.findings.graded_line import GradedLine
from pitjournal.ui.findings.leeway import LeewayCard
from pitjournal.ui.findings.targets import TargetsCard
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.drawers import Drawers, inside
from pitjournal.ui.look.parts.reflow import Reflow
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import clear, row, rule, unbroken, words
from pitjournal.ui.look.theme import sized
from pitjournal.units.first_letter import capital

SPREAD = "One standard deviation of each, over the cooks of this comparison with this cut."


def _beside(one: QWidget, two: QWidget) -> Reflow:
    """Return two things side by side, or one under the other where it is narrow."""
    return Reflow(
        {one: (0, 0, 1, 6), two: (0, 6, 1, 6)}, {one: (0, 0, 1, 12), two: (1, 0, 1, 12)}, 760
    )


class DrawerCards(Drawers):
    """The drawers of a cook's findings.

    Parameters
    ----------
    desk
        What every page works with.
    join_cuts
        Hears whether other cuts are to be joined too.
    how
        Opens how it was worked out.
    """

    def __init__(
        self, desk: Desk, join_cuts: Callable[[bool], None], how: Callable[[], object]
    ) -> None:
        self.desk = desk
        self.points_card, self.difference_card = self._points_card(), self._difference_card()
        self.ledger_card, self.leeway_card = self._ledger_card(), LeewayCard()
        about, day = self._about_card(), self._chart_card()
        self.across_card, self.spread_card = AcrossCard(join_cuts), self._spread_card()
        self.explored_card, safety = self._explored_card(), self._safety_card()
        self.scales_card, self.targets_card = self._scales_card(), TargetsCard(desk)
        self.how = button("How was this worked out?", how, "link", tip="Ctrl+W")
        super().__init__(
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
        card.body.addLayout(row(self.how, None))
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
        self.graded = GradedLine(self.desk)
        for part in (self.strip, self.graded, self.chart):
            card.body.addWidget(part)
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

    # what they show

    def show_day(self, whole: WholeCook, now: datetime) -> None:
        """Show the day of a cook: its ribbon, and its traces where there are any."""
        self.chart.show_cook(whole)
        self.chart.setVisible(bool(whole.traces))
        self.strip.show_ribbon(ribbon_of(whole, now), whole.cook.zone)
        self.graded.show_cook(whole)

    def show_found(self, shown: model.Shown) -> None:
        """Show what was found at once."""
        found = shown.found
        clear(self.words)
        for sentence in found.words:
            self.words.addWidget(words(sentence, "large"))
        compared = len(found.arms) > 1
        declared = compared and found.outcome is not None and not found.blind
        self.how.setVisible(bool(declared and found.declared))
        for card in (self.points_card, self.difference_card):
            card.setVisible(bool(declared))
        self.ledger_card.setVisible(compared)
        if found.outcome is not None:
            label = found.outcome.label
            self.points_card.heading.setText(f"{capital(label)}, each piece")
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
        self.targets_card.show_targets(shown)
        self.about.show_rows(*model.about(shown))
        self.fuel.setText(model.fuel_line(shown))
        self.across_card.show_across(shown)
        explored = model.explored(shown)
        self.explored_card.setVisible(bool(explored))
        heads = [("difference", None), ("95 % interval", None), ("pieces", None), ("", None)]
        self.explored.show_rows(heads, explored)
        self._show_safety(shown)

    def show_deeper(self, shown: model.Shown, whole: WholeCook) -> None:
        """Show what takes longer, or that it is being worked out."""
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
        for key, line in drawer_words(shown, whole).items():
            self.tell(key, line)

    def _show_scales(self, scales: Sequence[OwnScale]) -> None:
        clear(self.scales)
        self.scales_card.setVisible(bool(scales))
        for scale in scales:
            self.scales.addWidget(words(scale.title, "strong"))
            for sentence in scale.words:
                self.scales.addWidget(words(sentence))

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
