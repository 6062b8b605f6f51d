"""The lists of a plan: to buy, the night before, to pack; and the card to print."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.plan.lists import Listed, Recipes, mixes, packing, shopping
from pitjournal.analysis.plan.past import Past
from pitjournal.domain.moments import show_day
from pitjournal.domain.recipe import lines_of
from pitjournal.domain.schedule import NIGHT_BEFORE
from pitjournal.domain.shelf import ShelfKind, plain_name
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.places import typed_path
from pitjournal.files.plan_card import CardSlot, CardStep, PlanCard, card_to_print
from pitjournal.files.writing import named_after, write_text
from pitjournal.journal import Journal
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import Kind, note, proposed, save_file
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll
from pitjournal.ui.look.parts.words import Problem, clear, row, words
from pitjournal.ui.plan.day_calendar import calendar_of
from pitjournal.ui.plan.drawing import shelves_of
from pitjournal.ui.plan.schedule_model import planned_steps, step_lines
from pitjournal.ui.summary_pdf import mark_pictures, print_html
from pitjournal.units import UnitSystem

BUY, PREPARE, PACK = "buy", "prepare", "pack"


def lists_of(
    journal: Journal, whole: WholeCook, past: Past | None, system: UnitSystem
) -> dict[str, Listed]:
    """Return the lists of a plan by name."""
    recipes = {
        plain_name(item.name): lines_of(item.details) for item in journal.shelf(ShelfKind.RECIPE)
    }
    return {
        BUY: shopping(whole, system, recipes, past),
        PREPARE: night_before(whole, system, recipes),
        PACK: packing(whole),
    }


def night_before(whole: WholeCook, system: UnitSystem, recipes: Recipes) -> Listed:
    """Return what is done before the day of the cook, with its times, and what is mixed."""
    kinds = {step.id: step.kind for step in planned_steps(whole)}
    day = ""
    lines = []
    for line in step_lines(whole, system):
        day = line.day or day
        if kinds[line.step_id] in NIGHT_BEFORE:
            who = f" ({line.who})" if line.who else ""
            lines.append(f"{day} {line.clock}  {line.text}{who}")
    lines += [f"Mix {mix}" for mix in mixes(whole, system, recipes)]
    return Listed("The night before, or earlier", tuple(lines))


def card_of(journal: Journal, whole: WholeCook, past: Past | None, system: UnitSystem) -> PlanCard:
    """Return a cook's day as it is printed."""
    cook = whole.cook
    under = [f"Cook {cook.number}", show_day(cook.starts_at, cook.zone)]
    under += [whole.cooker.name] if whole.cooker else []
    steps = [
        CardStep(
            line.day,
            line.clock,
            line.text,
            line.who,
            tuple(look for look in line.looks if look is not None),
            line.strong,
        )
        for line in step_lines(whole, system)
    ]
    arms = [(whole.arm_index(a.id) or 0, a.name, _how(whole, a.id)) for a in whole.ordered_arms]
    shelves = [
        (shelf.name, [CardSlot(p.label, p.block, p.arm) for p in shelf.pieces])
        for shelf in shelves_of(whole)
    ]
    lists = lists_of(journal, whole, past, system)
    return PlanCard(
        cook.title,
        " · ".join(under),
        cook.question,
        arms,
        steps,
        shelves,
        [(lists[name].heading, lists[name].lines) for name in (BUY, PACK)],
        notes_of_plan(whole),
    )


def _how(whole: WholeCook, arm_id: str) -> str:
    kinds = [str(t.kind) for t in whole.treatments if t.arm_id == arm_id]
    arm = next(arm for arm in whole.arms if arm.id == arm_id)
    told = [kind for kind in kinds if kind != arm.name.casefold()]
    return " and ".join([*told, *([f"in {arm.wrap}"] if arm.wrap not in {"", "none"} else [])])


def print_card(  # noqa: PLR0917 - a plan, what is known before it, and where it goes
    journal: Journal,
    whole: WholeCook,
    past: Past | None,
    system: UnitSystem,
    target: Path,
    paper: str,
) -> None:
    """Write the card of a cook's day as PDF.

    Raises
    ------
    JournalError
        If the file cannot be written.
    """
    card = card_of(journal, whole, past, system)
    print_html(card_to_print(card), card.title, target, paper, mark_pictures(card.looks))


class ListsPanel(Overlay):
    """Turns between the lists; copies one, or prints them all with the day."""

    def __init__(self, desk: Desk, over: QWidget, whole: WholeCook, past: Past | None) -> None:
        super().__init__(over, "Lists", 700)
        self._desk, self._whole, self._past = desk, whole, past
        self._lists = lists_of(desk.journal, whole, past, desk.system)
        self.which = Choice("which list")
        self.which.offer(
            ((BUY, "to buy", -1), (PREPARE, "the night before", -1), (PACK, "to pack", -1))
        )
        self.which.choose(BUY)
        self.which.chosen.connect(lambda *_: self._show())
        self.body.addWidget(self.which)
        holder = QWidget()
        self._lines = QVBoxLayout(holder)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(tokens.S)
        area = scroll(holder, "the list")
        area.setMinimumHeight(300)
        self.body.addWidget(area)
        self.body.addWidget(words("The day to print, with its lists", "heading"))
        self.target = QLineEdit(proposed(Kind.PAPER, named_after(whole.cook.title, "day.pdf")))
        self.target.setAccessibleName("file to print into")
        self.body.addLayout(row(self.target, button("Choose…", self._choose)))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.print = button("Print the card", self._print, "primary")
        self.calendar = button("Write a calendar file", self._write_calendar)
        self.body.addLayout(
            row(self.print, self.calendar, None, button("Copy this list", self._copy, "link"))
        )
        self._show()

    @property
    def shown(self) -> Listed:
        """The list that is seen."""
        return self._lists[str(next(iter(self.which.values()), BUY))]

    def _show(self) -> None:
        clear(self._lines)
        for line in self.shown.lines:
            self._lines.addWidget(words(f"•  {line}"))
        if not self.shown.lines:
            self._lines.addWidget(words("Nothing. Work the day out first.", "quiet"))
        self._lines.addStretch(1)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.shown.text)
        self._desk.bridge.told.emit("Copied the list")

    def _choose(self) -> None:
        chosen, _ = save_file(self, Kind.PAPER, "Print the card", self.target.text())
        if chosen:
            self.target.setText(chosen)

    def _print(self) -> None:
        target = self._target()
        if target is None:
            return
        if target.suffix.lower() != ".pdf":
            self.problem.say("End it in .pdf.")
            return
        system = self._desk.system
        paper = "letter" if system is UnitSystem.US else "a4"
        journal = self._desk.journal
        self._do(
            target, lambda: print_card(journal, self._whole, self._past, system, target, paper)
        )

    def _write_calendar(self) -> None:
        """Write the steps beside the card, under its name."""
        desk, card = self._desk, self._target()
        if card is None:
            return
        target = card.with_suffix(".ics") if card.name else card
        self._do(
            target, lambda: write_text(target, calendar_of(self._whole, desk.system, desk.now()))
        )

    def _target(self) -> Path | None:
        try:
            return typed_path(self.target.text())
        except JournalError as error:
            self.problem.say(str(error))
            return None

    def _do(self, target: Path, write: Callable[[], None]) -> None:
        try:
            write()
        except JournalError as error:
            self.problem.say(str(error))
            return
        note(Kind.PAPER, target)
        self.close_panel()
        self._desk.bridge.told.emit(f"Written to {target}")
