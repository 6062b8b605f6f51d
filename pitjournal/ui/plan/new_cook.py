"""Start a cook: from a question to a layout, drawn by lot and shown before it is kept."""

import secrets
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.plan.again import what_changes
from pitjournal.analysis.plan.layout import (
    NAMES,
    Blocks,
    Draft,
    PlannedArm,
    arms_of,
    warning_of,
)
from pitjournal.domain.cuts import cut_names
from pitjournal.domain.piece import Piece
from pitjournal.domain.shelf import ShelfKind
from pitjournal.domain.times.moments import time_zone
from pitjournal.domain.times.typed_times import parse_moment
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.records import AddCook, Together
from pitjournal.local_zone import local_zone
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import Field, TextField
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.reflow import Beside
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.ui.plan.as_typed import as_typed, is_begun, take_typed
from pitjournal.ui.plan.begun import Begun
from pitjournal.ui.plan.layout_card import LayoutCard
from pitjournal.ui.plan.meat_card import MeatCard
from pitjournal.ui.plan.older import OlderPanel
from pitjournal.ui.plan.starting import (
    AGAIN,
    COMPARE,
    JUST_COOK,
    RECIPE,
    cook_meant,
    cooker_named,
)
from pitjournal.ui.plan.ways import RecipePanel, WaysPanel
from pitjournal.units.first_letter import capital


class NewCookPage(Page):
    """Ask what is to be found out, with what meat, how many pieces, and when."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.zone = local_zone()
        self.seed = _seed()
        self.starts_at = self._tomorrow()
        self.set_at: float | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        header = Header("New cook", ruled=True)
        header.right.addWidget(button("Leave it", lambda: desk.go("cooks"), tip="Esc"))
        self.start = button("Start the plan", self.start_plan, "primary", tip="Ctrl+Enter")
        header.right.addWidget(self.start)
        outer.addWidget(header)
        self.begun = Begun(desk, self._typed, lambda draft: take_typed(self, draft), self._here)
        self.begun.settled.connect(self._to_question)
        outer.addWidget(self.begun)
        left, right = self._question_card(), self._layout_card()
        asked = column(left, self._meat_card(), None, space=tokens.M)
        scrolled(column(Beside(asked, right, (3, 2)), None), "new cook", outer)
        self.clear_fields()
        for line in self.findChildren(QLineEdit):
            line.textEdited.connect(self.begun.typed)
        for choice in self.findChildren(Choice):
            choice.chosen.connect(self.begun.typed)

    def arrive(self) -> None:
        """Be shown, from its head."""
        super().arrive()
        self.to_top()

    # what is on it

    def _question_card(self) -> QWidget:
        card = Card("What is it for?")
        self.sort = Choice("what is it for")
        self.sort.offer(
            (
                (COMPARE, "to compare arms", -1),
                (JUST_COOK, "just a cook", -1),
                (AGAIN, "again, but…", -1),
                (RECIPE, "a recipe of mine", -1),
            )
        )
        self.sort.chosen.connect(lambda *_: self.show_draft())
        card.body.addWidget(self.sort)
        self.question = TextField(
            "Question or title", self._noted, hint="Does injecting change the bite?"
        )
        card.body.addWidget(self.question)
        self.older = OlderPanel(self.desk.journal, self._take_older)
        card.body.addWidget(self.older)
        self.recipe = RecipePanel()
        self.recipe.changed.connect(self.show_draft)
        card.body.addWidget(self.recipe)
        self.what = WaysPanel()
        self.what.changed.connect(self.show_draft)
        self.ways = self.what.treatments
        card.body.addWidget(self.what)
        card.body.addWidget(self._compared())
        return card

    def _compared(self) -> QWidget:
        """Make what only a comparison asks."""
        self.compared = QWidget()
        inside = QVBoxLayout(self.compared)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(words("What counts", "heading"))
        self.outcome = Choice("what counts")
        self.outcome.chosen.connect(lambda *_: self.show_draft())
        inside.addWidget(self.outcome)
        self.stop_rule = TextField(
            "When does each piece come off?", self._noted, hint="each off when it feels right"
        )
        self.held = TextField("Held the same", self._noted, hint="pack, trim, rub, cooker, wrap")
        inside.addLayout(row(self.stop_rule, self.held, space=tokens.M))
        return self.compared

    def _meat_card(self) -> QWidget:
        card = MeatCard(self.desk, self.zone, self._noted, self._heated, self._timed)
        self.cut, self.counting, self.count = card.cut, card.counting, card.count
        self.count_words, self.within_words = card.count_words, card.within_words
        self.within, self.cooker = card.within, card.cooker
        self.set_point, self.when = card.set_point, card.when
        for choice in (self.count, self.within):
            choice.chosen.connect(lambda *_: self.show_draft())
        return card

    def _layout_card(self) -> QWidget:
        card = LayoutCard(self.desk, self.redraw)
        self.layout_card, self.drawing, self.packs = card, card.drawing, card.packs
        self.power, self.warning = card.power, card.warning
        return card

    @property
    def first_field(self) -> QWidget:
        """Return the line of the question."""
        return self.question.line

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Start the plan", "Ctrl+Return", self.start_plan),
            Action("Draw the places again", "Ctrl+D", self.redraw),
            Action("Leave it", "Escape", lambda: self.desk.go("cooks")),
        )

    # what it does

    @property
    def mode(self) -> str:
        """What the cook is for."""
        return str(next(iter(self.sort.values()), JUST_COOK))

    def _to_question(self) -> None:
        self.question.setFocus()

    def _here(self) -> str:
        return self.zone

    def _typed(self) -> dict[str, Any]:
        """Return what stands here; nothing where nobody typed a word."""
        found = as_typed(self)
        return found if is_begun(found) else {}

    def _noted(self, _value: object, _typed: str) -> str:
        self.begun.typed()
        self.show_draft()
        return ""

    def _heated(self, value: object, _typed: str) -> str:
        self.set_at = value if isinstance(value, float) else None
        self.begun.typed()
        self.show_draft()
        return ""

    def _timed(self, value: object, _typed: str) -> str:
        if isinstance(value, datetime):
            self.starts_at = value
            self.begun.typed()
        return ""

    def _tomorrow(self) -> datetime:
        return parse_moment("tomorrow 8:00", self.desk.now(), self.zone).astimezone(UTC)

    def clear(self) -> None:
        """Begin anew; what was begun before is kept."""
        self.begun.begin_anew()
        self.clear_fields()

    def clear_fields(self) -> None:
        """Put everything back as it was at first."""
        self.older.clear()
        self.sort.choose(COMPARE)
        self.what.clear()
        self.count.choose(3)
        self.within.choose(Blocks.PACKS)
        for field in (self.question, self.stop_rule, self.held, self.cut, *self._meant()):
            field.forget()
            field.set_value(None)
        self.set_at = None
        self.zone = self.when.zone = local_zone()
        self.starts_at = self._tomorrow()
        self.when.set_value(self.starts_at)
        self.seed = _seed()

    def show_again(self) -> None:
        """Show what stands here now."""
        self._look_again()

    def leave(self) -> None:
        """Keep what is typed."""
        super().leave()
        self.begun.keep_what_waits()

    def meet(self, there: Destination) -> None:
        """Start from the older cook that led here, if one did."""
        if there.cook_id:
            self.start_from(there.cook_id)

    def start_from(self, cook_id: str) -> None:
        """Start from an older cook: the same again, but for what is changed here."""
        self.clear()
        self.sort.choose(AGAIN)
        self.older.take(cook_id)
        self._look_again()

    def _by_the_clock_of(self, zone: str) -> None:
        """Read and keep times in a zone; the clock shows what it showed."""
        wall = self.starts_at.astimezone(time_zone(self.zone))
        self.zone = self.when.zone = zone
        self.starts_at = wall.replace(tzinfo=time_zone(zone)).astimezone(UTC)
        self.when.set_value(self.starts_at)

    def _take_older(self, whole: WholeCook) -> None:
        self._by_the_clock_of(whole.cook.zone)
        self.question.set_value(whole.cook.title)
        self.cut.set_value(next((piece.cut for piece in whole.pieces), None))
        self.cooker.set_value(whole.cooker.name if whole.cooker else None)
        self.set_point.set_value(whole.cook.set_point)
        self.set_at = whole.cook.set_point
        self.show_draft()

    def take(self, there: Destination) -> None:
        """Fill the page with what is to be tested: a question, its arms, its cut, what counts."""
        test = there.test
        if test is None:
            return
        self.clear()
        self.question.set_value(test.question)
        self.what.choose_ways(test.variable, test.ways)
        self.cut.set_value(test.cut or None)
        self.outcome.choose(test.outcome)
        self.show_draft()

    def refresh(self) -> None:
        """Offer what the journal knows."""
        journal = self.desk.journal
        self.cooker.offer(
            item.name for item in journal.shelf.items(ShelfKind.COOKER) if not item.retired
        )
        self.cut.offer(dict.fromkeys((*self.desk.used(Piece, "cut"), *cut_names())))
        self.older.offer()
        self.recipe.offer(journal.shelf.items(ShelfKind.RECIPE), journal.shelf.densities())
        scores = [v for key, v in self.desk.catalogue.items() if key.startswith("score.")]
        offered = [(v.key, v.label, -1) for v in scores]
        others = ("yield_off", "leeway_at_least", "time_on")
        offered += [(key, self.desk.catalogue[key].label, -1) for key in others]
        chosen = self.outcome.values() or ("score.tenderness",)
        self.outcome.offer(offered)
        self.outcome.choose(*chosen)
        self.begun.offer()
        self.show_draft()

    # the draft

    def arms(self) -> tuple[PlannedArm, ...]:
        """Return the ways that stand on the page."""
        if self.mode == COMPARE:
            return arms_of(self.what.ways())
        if self.mode != RECIPE:
            return ()
        recipe, kind = self.recipe.recipe(), self.recipe.kind
        way = PlannedArm(recipe.name or NAMES[kind], (kind,), recipe=recipe)
        alone = PlannedArm(NAMES[TreatmentKind.NONE], (TreatmentKind.NONE,))
        return (alone, way) if self.recipe.beside.values() else (way,)

    def draft(self) -> Draft:
        """Return what stands on the page."""
        arms = self.arms()
        comparing = len(arms) > 1
        title = str(self.question.line.text()).strip()
        cut = str(self.cut.line.text()).strip()
        outcome = next(iter(self.outcome.values()), None)
        blocks = next(iter(self.count.values()), 1)
        within = next(iter(self.within.values()), Blocks.PACKS)
        return Draft(
            title=title or (capital(cut) if cut else "A cook"),
            question=title if comparing else "",
            cut=cut or "not said",
            arms=arms,
            blocks=blocks if isinstance(blocks, int) else 1,
            seed=self.seed,
            starts_at=self.starts_at,
            zone=self.zone,
            within=within if isinstance(within, Blocks) else Blocks.PACKS,
            outcome=str(outcome) if comparing and outcome else None,
            stop_rule=str(self.stop_rule.line.text()).strip(),
            held=str(self.held.line.text()).strip(),
            set_point=self.set_at,
        )

    def show_draft(self) -> None:
        """Show the layout that stands on the page, and what it can show."""
        mode = self.mode
        if mode != AGAIN and self.zone != local_zone():
            self._by_the_clock_of(local_zone())
        draft = self.draft()
        comparing = len(draft.arms) > 1 or mode == COMPARE
        self.what.setVisible(mode == COMPARE)
        self.recipe.setVisible(mode == RECIPE)
        self.older.setVisible(mode == AGAIN)
        self.compared.setVisible(comparing)
        self.counting.setVisible(mode != AGAIN)
        self.within_words.setVisible(comparing)
        self.within.setVisible(comparing)
        self.count_words.setText("Pieces of each arm" if comparing else "Pieces")
        if mode == AGAIN:
            self._show_older()
            return
        self.layout_card.show_draft(draft, comparing=comparing)
        warned = warning_of(self.what.ways(), len(draft.arms), draft.within)
        self.warning.setText(warned if mode == COMPARE else "")

    def _show_older(self) -> None:
        """Show what comes along from an older cook, what stays, and what changes."""
        whole = self.older.drawn(self.seed)
        cut, cooker = self.cut.line.text().strip(), self.cooker.line.text().strip()
        changes = (
            [] if whole is None else what_changes(whole, cut, cooker, self.set_at, self.desk.system)
        )
        at_home = self.zone == local_zone()
        self.older.say(changes, "" if at_home else f"Times are those of {self.zone}, as before.")
        self.layout_card.show_older(whole, self.seed)
        several = len(changes) > 1
        self.warning.setText("More than one thing changes: which did it?" if several else "")

    def redraw(self) -> None:
        """Draw another lot."""
        self.seed = _seed()
        self.begun.typed()
        self.show_draft()

    # starting

    def start_plan(self) -> None:
        """Keep the cook and go to its plan."""
        self.leave()
        for field in (self.question, self.stop_rule, self.held, self.cut, *self._meant()):
            field.commit()
            if field.is_wrong and field.isVisible():
                field.setFocus()
                self.desk.bridge.refused.emit(f"Not started: {field.problem}")
                return
        found = cook_meant(self)
        if found is None:
            return
        cook, parts = found
        cooker, before = cooker_named(self.desk.journal, self.cooker.line.text())
        typed = {"set_point": self.set_point.typed} if self.set_at is not None else {}
        cook = replace(cook, cooker_id=cooker, seed=self.seed, typed={**cook.typed, **typed})
        command = Together((*before, AddCook(cook, parts)), f"Start {cook.title}")
        problem = self.desk.bridge.attempt(command, self)
        if problem:
            self.desk.bridge.refused.emit(problem)
            return
        if not self.desk.bridge.unsaved:  # else what was typed stays until it is on the disk
            self.begun.started()
        self.clear()
        if self.desk.bridge.unsaved:
            self.desk.go("cooks")  # it is there once it is saved, as the bar says
        else:
            self.desk.go("cook", cook.id, "plan")

    def _meant(self) -> tuple[Field, ...]:
        return self.cooker, self.set_point, self.when


def _seed() -> int:
    return secrets.randbelow(9000) + 1000
