"""Findings: words first, then the picture, then the table; and the cook that would tell most."""

import secrets
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from PySide6.QtCore import QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QStackedLayout, QVBoxLayout

from pitjournal.analysis.findings.like import EVERY_CUT
from pitjournal.analysis.findings.next_cook import NextPlan, start
from pitjournal.analysis.findings.plate import cooks_behind, verdicts
from pitjournal.analysis.findings.plate_words import concluded
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.analysis.trade_words import in_letters
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import Photo
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.commands.conclude import Conclude
from pitjournal.journal.commands.records import AddCook
from pitjournal.journal.jobs import Progress
from pitjournal.journal.preferences import note_drawers, open_drawers
from pitjournal.ui.bench.photos.photo_panel import PhotoPanel
from pitjournal.ui.bench.photos.photo_strip import PhotoStrip
from pitjournal.ui.bridge import is_there
from pitjournal.ui.charts.plate.plate_view import PlateView
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.findings import model
from pitjournal.ui.findings.answer_lines import ButLine, ConclusionLine, NextLine
from pitjournal.ui.findings.carried_line import CarriedLine
from pitjournal.ui.findings.drawer_cards import DrawerCards
from pitjournal.ui.findings.how_panel import HowFoundPanel
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.amber_line import AmberLine
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card, EmptyState
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.saved_bar import SavedBar
from pitjournal.ui.look.parts.scroll import show_within_area
from pitjournal.ui.look.parts.words import clear, column, row, words
from pitjournal.ui.look.theme import px, sized
from pitjournal.ui.page import scrolled

FOUND, NOTHING, WORKING = range(3)
"""What stands where on the page: findings, nothing to find, being worked out."""
WAIT_FOR_MORE = 500
"""Milliseconds for which the page waits for what takes longer, so that it need not grow."""


NEXT = "next"
"""The key of what other cooks would tell, among the drawers that are remembered."""

CLOSE = 6
"""Between the lines of the page, px: all of it is to stand in one window."""

PICTURES_HIGH = 236
"""A line of pictures with their words, px."""

AGAIN = "as it was, or with one thing changed"
SAVED_ROOM = 150
"""What is said of the last thing that was saved has so much room, px."""


class FindingsPage(CookPage):
    """What the cook showed, and what it can't."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._shown: model.Shown | None = None
        self._asked = 0
        self._stack = QStackedLayout(self)
        self.plate = PlateView()
        facts = button("Safety facts", lambda: self.drawers.open("safety"), "link")
        self.below = AmberLine(facts)
        self.but = ButLine(lambda: self.drawers.open("else"))
        self.bar = SavedBar(desk.bridge)
        self.bar.shown.connect(lambda: QTimer.singleShot(0, self, self._show_what_is_said))
        self.next_line = NextLine(self._plan_first, self._show_more)
        self.share = button("Share a summary", self._share, tip="Ctrl+E")
        for part in (self.bar, self.share):
            self.next_line.line.addWidget(part)
        self.next_card = self._next_card()
        self.concluded = ConclusionLine(self._conclude)
        self.drawers = DrawerCards(desk, self._join_cuts, self._how)
        self.drawers.turned.connect(self._remember)
        self.pictures = PhotoStrip(desk, self._open_photo)
        sized(self.pictures, height=PICTURES_HIGH)
        self.carried = CarriedLine(desk)
        parts = (
            *(self.plate, self.pictures, self.below, self.but, self.next_line, self.next_card),
            *(self.concluded, self.carried, self.drawers),
        )
        layout = column(*parts, None, space=CLOSE)
        self.bar.full.stand_in(layout, self.next_line)
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

    def _next_card(self) -> Card:
        card = Card("Other cooks that would tell")
        self.next = QVBoxLayout()
        self.next.setSpacing(6)
        card.body.addLayout(self.next)
        card.hide()
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

    def _show_what_is_said(self) -> None:
        """Scroll to what is said of the last step, where it is out of sight."""
        if self.bar.full.isVisible():
            show_within_area(self.bar.full)
        elif self.bar.isVisible() and self.bar.visibleRegion().isEmpty():
            show_within_area(self.bar)

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
            opened = open_drawers(whole.cook.id)
            self.drawers.open_only(opened)
            self.next_card.setVisible(NEXT in opened)
            self.concluded.field.forget()
        self.drawers.show_day(whole, self.desk.now())
        alone = len(whole.arms) < 2  # a cook for itself: its pictures are the story
        self.pictures.setVisible(alone and bool(whole.photos))
        if alone:
            self.pictures.show_cook(whole)
        self.carried.show_cook(whole)
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
        self.plate.show_plate(shown.plate)
        self.below.say(" ".join(shown.found.below))
        self.but.say(*shown.but)
        self._show_conclusion(shown)
        self._show_next(shown)
        self.drawers.show_found(shown)
        self._show_deeper(shown)

    def _show_deeper(self, shown: model.Shown) -> None:
        """Show what takes longer, or that it is being worked out."""
        self._shown = shown
        if self.whole is not None:
            self.drawers.show_deeper(shown, self.whole)

    def _show_conclusion(self, shown: model.Shown) -> None:
        if self.whole is None:
            return
        kept = self.whole.conclusion
        when = ""
        if kept is not None:
            behind, said = cooks_behind(shown.found), verdicts(shown.plate)
            when = concluded(kept, self.whole.cook.zone, behind, said)
        self.concluded.show_conclusion("" if kept is None else kept.text, when)

    def _show_next(self, shown: model.Shown) -> None:
        clear(self.next)
        first, *others = shown.next[:3] or (None,)
        alone = self.whole is not None and len(self.whole.arms) < 2
        plain = (
            ("Cook it again", AGAIN) if alone else ("Two arms side by side", "in the same packs")
        )
        self.next_line.heading.setText(plain[0] if first is None else first.heading)
        why = plain[1] if first is None else first.words
        self.next_line.why.setText(why)
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
        elif self.whole is not None and len(self.whole.arms) < 2:
            self.desk.go("new cook", self.whole.cook.id)
        else:
            self.desk.go("new cook")

    def _open_photo(self, photo: Photo) -> None:
        if self.whole is not None:
            PhotoPanel(self.window(), self.desk, self.whole, photo).open_panel()

    def _show_more(self) -> None:
        self.next_card.setVisible(self.next_card.isHidden())
        self._remember()

    def _remember(self) -> None:
        """Remember what is open, for this cook."""
        if self.whole is not None:
            opened = (*self.drawers.opened, *([] if self.next_card.isHidden() else [NEXT]))
            note_drawers(self.whole.cook.id, opened)

    def _conclude(self, value: object, _typed: str) -> str:
        """Keep what the cook concludes, beside what was known when it was written."""
        shown, whole = self._shown, self.whole
        if shown is None or whole is None:
            return ""
        text, now = str(value or ""), self.desk.now()
        known = cooks_behind(shown.found), verdicts(shown.plate)
        return self.desk.bridge.attempt(Conclude(whole.cook.id, text, now, *known), self)

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
