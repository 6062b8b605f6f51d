"""Start a cook: from a question to a layout, drawn by lot and shown before it is kept."""

import secrets
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from PySide6.QtCore import QTimeZone
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.again import what_changes
from pitjournal.analysis.plan.layout import (
    BLOCK_WORDS,
    NAMES,
    TWO_HALVES,
    Blocks,
    Draft,
    PlannedArm,
    arms_of,
    block_name,
    cook_of,
    end_of,
    slots,
    warning_of,
)
from pitjournal.analysis.plan.planner import Asked, asked_of
from pitjournal.domain.cook import Cook
from pitjournal.domain.cuts import cut_names
from pitjournal.domain.moments import time_zone
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.typed_times import Looking, parse_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.records import Add, AddCook, Together
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import Field, PitField, TextField, TimeField
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.ui.plan.cut_field import CutField
from pitjournal.ui.plan.drawing import CookerDrawing, Placed, in_rows, shelves_of
from pitjournal.ui.plan.older import OlderPanel
from pitjournal.ui.plan.power import PowerView
from pitjournal.ui.plan.to_test import take_test
from pitjournal.ui.plan.ways import RecipePanel, WaysPanel
from pitjournal.units import Dimension

COMPARE, JUST_COOK, AGAIN, RECIPE = "compare", "cook", "again", "recipe"


def local_zone() -> str:
    """Return the IANA name of this computer's zone."""
    return bytes(QTimeZone.systemTimeZoneId().data()).decode() or "UTC"


class NewCookPage(Page):
    """Ask what is to be found out, with what meat, how many pieces, and when."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.zone = local_zone()
        self.seed = _seed()
        self._starts = self._tomorrow()
        self._point: float | None = None
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        header = Header("New cook", ruled=True)
        header.right.addWidget(button("Leave it", lambda: desk.go("cooks"), tip="Esc"))
        self.start = button("Start the plan", self.start_plan, "primary", tip="Ctrl+Enter")
        header.right.addWidget(self.start)
        outer.addWidget(header)
        left, right = self._question_card(), self._layout_card()
        body = row(column(left, self._meat_card(), None, space=tokens.M), right, space=tokens.M)
        body.setStretch(0, 3)
        body.setStretch(1, 2)
        outer.addWidget(scrolled(body, "new cook"), 1)
        self.clear()

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
            "When does each piece come off?", self._noted, hint="each piece off when it feels right"
        )
        self.held = TextField("Held the same", self._noted, hint="pack, trim, rub, cooker, wrap")
        inside.addLayout(row(self.stop_rule, self.held, space=tokens.M))
        return self.compared

    def _meat_card(self) -> QWidget:
        card = Card("Meat, cooker and day")
        self.cut = CutField(self._noted, self.desk.system)
        card.body.addWidget(self.cut)
        self.counting = QWidget()
        inside = QVBoxLayout(self.counting)
        inside.setContentsMargins(0, 0, 0, 0)
        self.count = Choice("pieces")
        self.count.offer((n, str(n), -1) for n in (1, 2, 3, 4, 5, 6, 8, 12))
        self.count.chosen.connect(lambda *_: self.show_draft())
        self.count_words = words("Pieces of each arm", "heading")
        self.within_words = words("A piece of each arm comes from", "heading")
        self.within = Choice("what holds a piece of each arm")
        self.within.offer((blocks, str(blocks), -1) for blocks in Blocks)
        self.within.chosen.connect(lambda *_: self.show_draft())
        for widget in (self.count_words, self.count, self.within_words, self.within):
            inside.addWidget(widget)
        card.body.addWidget(self.counting)
        self.cooker = TextField("Cooker", self._noted, hint="the drum, the offset…")
        self.set_point = PitField(
            "Set point", Dimension.TEMPERATURE, self.desk.system, self._heated
        )
        self.when = TimeField(
            "Meat on at about",
            self.zone,
            self.desk.now,
            self._timed,
            hint="tomorrow 8:30",
            looking=Looking.AHEAD,
        )
        line = row(self.cooker, self.set_point, self.when, space=tokens.M)
        card.body.addLayout(line)
        return card

    def _layout_card(self) -> QWidget:
        card = Card("Where each goes, drawn by lot", side=button("Draw again", self.redraw, "link"))
        self.drawing = CookerDrawing()
        card.body.addWidget(self.drawing)
        self.packs = words("", "quiet")
        card.body.addWidget(self.packs)
        self.can_show = words("What this cook can show", "heading")
        card.body.addWidget(self.can_show)
        self.power = PowerView(self.desk)
        card.body.addWidget(self.power)
        self.warning = words("", "error")
        card.body.addWidget(self.warning)
        card.body.addStretch(1)
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

    def _noted(self, _value: object, _typed: str) -> str:
        self.show_draft()
        return ""

    def _heated(self, value: object, _typed: str) -> str:
        self._point = value if isinstance(value, float) else None
        self.show_draft()
        return ""

    def _timed(self, value: object, _typed: str) -> str:
        if isinstance(value, datetime):
            self._starts = value
        return ""

    def _tomorrow(self) -> datetime:
        return parse_moment("tomorrow 8:00", self.desk.now(), self.zone).astimezone(UTC)

    def clear(self) -> None:
        """Begin anew."""
        self.older.clear()
        self.sort.choose(COMPARE)
        self.what.clear()
        self.count.choose(3)
        self.within.choose(Blocks.PACKS)
        for field in (self.question, self.stop_rule, self.held, self.cut, self.cooker):
            field.set_value(None)
        self.set_point.set_value(None)
        self._point = None
        self.zone = self.when.zone = local_zone()
        self._starts = self._tomorrow()
        self.when.set_value(self._starts)
        self.seed = _seed()

    def start_from(self, cook_id: str) -> None:
        """Start from an older cook: the same again, but for what is changed here."""
        self.clear()
        self.sort.choose(AGAIN)
        self.older.take(cook_id)
        self._look_again()

    def _by_the_clock_of(self, zone: str) -> None:
        """Read and keep times in a zone; the clock shows what it showed."""
        wall = self._starts.astimezone(time_zone(self.zone))
        self.zone = self.when.zone = zone
        self._starts = wall.replace(tzinfo=time_zone(zone)).astimezone(UTC)
        self.when.set_value(self._starts)

    def _take_older(self, whole: WholeCook) -> None:
        self._by_the_clock_of(whole.cook.zone)
        self.question.set_value(whole.cook.title)
        self.cut.set_value(next((piece.cut for piece in whole.pieces), None))
        self.cooker.set_value(whole.cooker.name if whole.cooker else None)
        self.set_point.set_value(whole.cook.set_point)
        self._point = whole.cook.set_point
        self.show_draft()

    def arrive(self) -> None:
        """Be shown; take over what is to be tested."""
        super().arrive()
        test, self.desk.wanted_test = self.desk.wanted_test, None
        if test is not None:
            take_test(self, test)

    def refresh(self) -> None:
        """Offer what the journal knows."""
        journal = self.desk.journal
        self.cooker.offer(item.name for item in journal.shelf(ShelfKind.COOKER) if not item.retired)
        self.cut.offer(dict.fromkeys((*self.desk.used(Piece, "cut"), *cut_names())))
        self.older.offer()
        self.recipe.offer(journal.shelf(ShelfKind.RECIPE))
        scores = [v for key, v in self.desk.catalogue.items() if key.startswith("score.")]
        offered = [(v.key, v.label, -1) for v in scores]
        others = ("yield_off", "leeway_at_least", "time_on")
        offered += [(key, self.desk.catalogue[key].label, -1) for key in others]
        chosen = self.outcome.values() or ("score.tenderness",)
        self.outcome.offer(offered)
        self.outcome.choose(*chosen)
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
            title=title or (f"{cut[:1].upper()}{cut[1:]}" if cut else "A cook"),
            question=title if comparing else "",
            cut=cut or "not said",
            arms=arms,
            blocks=blocks if isinstance(blocks, int) else 1,
            seed=self.seed,
            starts_at=self._starts,
            zone=self.zone,
            within=within if isinstance(within, Blocks) else Blocks.PACKS,
            outcome=str(outcome) if comparing and outcome else None,
            stop_rule=str(self.stop_rule.line.text()).strip(),
            held=str(self.held.line.text()).strip(),
            set_point=self._point,
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
        self._show_layout(draft, comparing=comparing)
        self._show_power(
            Asked(
                draft.outcome,
                draft.blocks,
                len(draft.arms),
                draft.within is not Blocks.NONE,
                noun=BLOCK_WORDS.get(draft.within, "pack"),
            )
            if comparing
            else None
        )
        warned = warning_of(self.what.ways(), len(draft.arms), draft.within)
        self.warning.setText(warned if mode == COMPARE else "")

    def _show_power(self, asked: Asked | None) -> None:
        self.can_show.setVisible(asked is not None)
        self.power.setVisible(asked is not None)
        if asked is not None:
            self.power.ask(asked)

    def _show_layout(self, draft: Draft, *, comparing: bool) -> None:
        arms = max(len(draft.arms), 1)
        placed = [
            Placed(
                f"{chr(65 + arm % 26)}{block + 1}",
                arm if comparing else None,
                ", ".join(
                    part for part in (block_name(draft, block), end_of(draft, arm, block)) if part
                ),
            )
            for arm, block in slots(arms, draft.blocks, draft.seed)
        ]
        self.drawing.show_shelves(in_rows(placed, arms if comparing and arms > 1 else 3))
        said = {
            Blocks.PACKS: "One pack is one block: it holds a piece of each arm.",
            Blocks.ANIMALS: "One animal is one block: it gives a piece to each arm.",
            Blocks.HALVES: "Each slab is cut in two; which end goes to which arm is drawn too.",
            Blocks.NONE: "Nothing is held between the pieces: it takes more of them.",
        }[draft.within]
        self.packs.setText(f"{said} Lot {self.seed}." if comparing else "")

    def _show_older(self) -> None:
        """Show what comes along from an older cook, what stays, and what changes."""
        whole = self.older.drawn(self.seed)
        self._show_power(asked_of(whole) if whole is not None and len(whole.arms) > 1 else None)
        cut, cooker = self.cut.line.text().strip(), self.cooker.line.text().strip()
        changes = (
            [] if whole is None else what_changes(whole, cut, cooker, self._point, self.desk.system)
        )
        at_home = self.zone == local_zone()
        self.older.say(changes, "" if at_home else f"Times are those of {self.zone}, as before.")
        self.drawing.show_shelves(() if whole is None else shelves_of(whole))
        compares = whole is not None and len(whole.arms) > 1
        self.packs.setText(f"Drawn anew within its blocks. Lot {self.seed}." if compares else "")
        several = len(changes) > 1
        self.warning.setText("More than one thing changes: which did it?" if several else "")

    def redraw(self) -> None:
        """Draw another lot."""
        self.seed = _seed()
        self.show_draft()

    # starting

    def start_plan(self) -> None:
        """Keep the cook and go to its plan."""
        self.leave()
        for field in (self.question, self.stop_rule, self.held, self.cut, *self._meant()):
            field.commit()
            if field.is_wrong and field.isVisible():
                field.setFocus()
                self.desk.bridge.refused.emit(f"Not started: {field.error.text()}")
                return
        found = self._cook()
        if found is None:
            return
        cook, parts = found
        cooker, before = self._cooker()
        typed = {"set_point": self.set_point.typed} if self._point is not None else {}
        cook = replace(cook, cooker_id=cooker, seed=self.seed, typed={**cook.typed, **typed})
        command = Together((*before, AddCook(cook, parts)), f"Start {cook.title}")
        problem = self.desk.bridge.attempt(command, self)
        if problem:
            self.desk.bridge.refused.emit(problem)
            return
        self.clear()
        if self.desk.bridge.held:
            self.desk.go("cooks")  # it is there once it is saved, as the bar says
        else:
            self.desk.go("cook", cook.id, "plan")

    def _meant(self) -> tuple[Field, ...]:
        return self.cooker, self.set_point, self.when

    def _cook(self) -> tuple[Cook, tuple[Record, ...]] | None:
        """Return the cook to start; None, with a line beside what is missing."""
        cut = self.cut.line.text().strip()
        if self.mode == AGAIN and self.older.cook is None:
            self.older.like.say("Say which cook, by its number or title.")
            self.older.like.setFocus()
            return None
        if not cut:
            self.cut.say("Say what meat it is, such as back ribs.")
            self.cut.setFocus()
            return None
        if self.mode == AGAIN:
            return self._cook_again(cut)
        draft = self.draft()
        if self.mode == COMPARE and len(draft.arms) < 2:
            self.warning.setText("A comparison needs the control and at least one other arm.")
            self.desk.bridge.refused.emit(self.warning.text())
            return None
        if draft.within is Blocks.HALVES and len(draft.arms) > 2:
            self.desk.bridge.refused.emit(TWO_HALVES)
            return None
        return cook_of(draft)

    def _cook_again(self, cut: str) -> tuple[Cook, tuple[Record, ...]] | None:
        found = self.older.again(self.seed, self._starts, cut)
        if found is None:
            return None
        cook, parts = found
        title = str(self.question.line.text()).strip() or cook.title
        return replace(cook, title=title, set_point=self._point), parts

    def _cooker(self) -> tuple[str | None, tuple[Add, ...]]:
        name = str(self.cooker.line.text()).strip()
        if not name:
            return None, ()
        for item in self.desk.journal.shelf(ShelfKind.COOKER):
            if item.name.casefold() == name.casefold():
                return item.id, ()
        made = ShelfItem(kind=ShelfKind.COOKER, name=name)
        return made.id, (Add((made,), f"Add {name}"),)


def _seed() -> int:
    return secrets.randbelow(9000) + 1000
