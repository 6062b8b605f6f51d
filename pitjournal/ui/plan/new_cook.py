"""Start a cook: from a question to a layout, drawn by lot and shown before it is kept."""

import secrets
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from PySide6.QtCore import QTimeZone
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.layout import Draft, PlannedArm, cook_of, slots
from pitjournal.analysis.planner import Asked
from pitjournal.domain.moments import parse_moment
from pitjournal.domain.piece import CUTS, Piece
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.journal.commands.records import Add, AddCook, Together
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import QuantityField, TextField, TimeField
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.ui.plan.drawing import CookerDrawing, Placed
from pitjournal.ui.plan.power import PowerView
from pitjournal.units import Dimension

JUST_COOK, COMPARE = "cook", "compare"
TREATMENTS = tuple(TreatmentKind)
NAMES = {
    TreatmentKind.NONE: "Left alone",
    TreatmentKind.INJECTED: "Injected",
    TreatmentKind.BRINED: "Brined",
    TreatmentKind.DRY_BRINED: "Dry-brined",
    TreatmentKind.NEEDLED: "Needled",
    TreatmentKind.BLADED: "Bladed",
    TreatmentKind.MARINATED: "Marinated",
    TreatmentKind.OTHER: "Other way",
}
"""What an arm is called until the cook calls it something else."""


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
        self.sort.offer(((COMPARE, "to compare ways", -1), (JUST_COOK, "just a cook", -1)))
        self.sort.chosen.connect(lambda *_: self.show_draft())
        card.body.addWidget(self.sort)
        self.question = TextField(
            "Question or title", self._noted, hint="Does injecting change the bite?"
        )
        card.body.addWidget(self.question)
        self.compared = QWidget()
        inside = QVBoxLayout(self.compared)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(words("Ways to compare: the first is the control", "heading"))
        self.ways = Choice("ways to compare", several=True)
        self.ways.offer((kind, NAMES[kind].lower(), -1) for kind in TREATMENTS)
        self.ways.chosen.connect(lambda *_: self.show_draft())
        inside.addWidget(self.ways)
        inside.addWidget(words("What counts", "heading"))
        self.outcome = Choice("what counts")
        self.outcome.chosen.connect(lambda *_: self.show_draft())
        inside.addWidget(self.outcome)
        self.stop_rule = TextField(
            "When does each piece come off?", self._noted, hint="each piece off when it feels right"
        )
        inside.addWidget(self.stop_rule)
        card.body.addWidget(self.compared)
        return card

    def _meat_card(self) -> QWidget:
        card = Card("Meat, cooker and day")
        self.cut = TextField("Cut", self._noted, used=CUTS, hint="back ribs, brisket…")
        self.count = Choice("pieces")
        self.count.offer((n, str(n), -1) for n in (1, 2, 3, 4, 5, 6, 8, 12))
        self.count.chosen.connect(lambda *_: self.show_draft())
        self.count_words = words("Pieces of each way", "heading")
        card.body.addWidget(self.cut)
        card.body.addWidget(self.count_words)
        card.body.addWidget(self.count)
        self.cooker = TextField("Cooker", self._noted, hint="the drum, the offset…")
        self.set_point = QuantityField(
            "Set point", Dimension.TEMPERATURE, self.desk.system, self._noted
        )
        self.when = TimeField(
            "Meat on at about", self.zone, self.desk.now, self._timed, hint="tomorrow 8:30"
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

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Start the plan", "Ctrl+Return", self.start_plan),
            Action("Draw the places again", "Ctrl+D", self.redraw),
            Action("Leave it", "Escape", lambda: self.desk.go("cooks")),
        )

    # what it does

    def _noted(self, _value: object, _typed: str) -> str:
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
        self.sort.choose(COMPARE)
        self.ways.choose(TreatmentKind.NONE, TreatmentKind.INJECTED)
        self.count.choose(3)
        for field in (self.question, self.stop_rule, self.cut, self.cooker, self.set_point):
            field.set_value(None)
        self._starts = self._tomorrow()
        self.when.set_value(self._starts)
        self.seed = _seed()

    def refresh(self) -> None:
        """Offer what the journal knows."""
        journal = self.desk.journal
        self.cooker.offer(item.name for item in journal.shelf(ShelfKind.COOKER) if not item.retired)
        self.cut.offer(dict.fromkeys((*self.desk.used(Piece, "cut"), *CUTS)))
        scores = [v for key, v in self.desk.catalogue.items() if key.startswith("score.")]
        offered = [(v.key, v.label, -1) for v in scores]
        others = ("yield_off", "leeway_at_least", "time_on")
        offered += [(key, self.desk.catalogue[key].label, -1) for key in others]
        chosen = self.outcome.values() or ("score.tenderness",)
        self.outcome.offer(offered)
        self.outcome.choose(*chosen)
        self.show_draft()

    def draft(self) -> Draft:
        """Return what stands on the page."""
        comparing = self.sort.values() == (COMPARE,)
        kinds = [kind for kind in TREATMENTS if kind in self.ways.values()]
        arms = tuple(PlannedArm(NAMES[kind], kind) for kind in kinds) if comparing else ()
        title = str(self.question.line.text()).strip()
        cut = str(self.cut.line.text()).strip()
        outcome = next(iter(self.outcome.values()), None)
        set_point = self.set_point.value
        blocks = next(iter(self.count.values()), 1)
        return Draft(
            title=title or (f"{cut[:1].upper()}{cut[1:]}" if cut else "A cook"),
            question=title if comparing else "",
            cut=cut or "not said",
            arms=arms,
            blocks=blocks if isinstance(blocks, int) else 1,
            seed=self.seed,
            starts_at=self._starts,
            zone=self.zone,
            outcome=str(outcome) if comparing and outcome else None,
            stop_rule=str(self.stop_rule.line.text()).strip(),
            set_point=set_point if isinstance(set_point, float) else None,
        )

    def show_draft(self) -> None:
        """Show the layout that stands on the page, and what it can show."""
        draft = self.draft()
        comparing = self.sort.values() == (COMPARE,)
        self.compared.setVisible(comparing)
        self.count_words.setText("Pieces of each way" if comparing else "Pieces")
        arms = max(len(draft.arms), 1)
        placed = [
            Placed(
                f"{chr(65 + arm)}{block + 1}",
                arm if comparing else None,
                f"pack {block + 1}" if comparing else "",
            )
            for arm, block in slots(arms, draft.blocks, draft.seed)
        ]
        self.drawing.show_pieces(placed, arms if comparing and arms > 1 else 3)
        self.packs.setText(
            f"One pack is one block: it holds a piece of each way. Lot {self.seed}."
            if comparing
            else ""
        )
        self.can_show.setVisible(comparing)
        self.power.setVisible(comparing)
        if comparing:
            self.power.ask(Asked(draft.outcome, draft.blocks, len(draft.arms), paired=True))
        self.warning.setText(_warning(comparing, len(draft.arms)))

    def redraw(self) -> None:
        """Draw another lot."""
        self.seed = _seed()
        self.show_draft()

    def start_plan(self) -> None:
        """Keep the cook and go to its plan."""
        self.leave()
        draft = self.draft()
        if not self.cut.line.text().strip():
            self.cut.say("Say what meat it is, such as back ribs.")
            self.cut.setFocus()
            return
        if self.sort.values() == (COMPARE,) and len(draft.arms) < 2:
            self.warning.setText("A comparison needs the control and at least one other way.")
            return
        cooker, before = self._cooker()
        cook, parts = cook_of(draft)
        cook = replace(cook, cooker_id=cooker)
        command = Together((*before, AddCook(cook, parts)), f"Start {draft.title}")
        problem = self.desk.bridge.attempt(command, self)
        if problem:
            self.desk.bridge.refused.emit(problem)
            return
        self.clear()
        self.desk.go("cook", cook.id, "plan")

    def _cooker(self) -> tuple[str | None, tuple[Add, ...]]:
        name = str(self.cooker.line.text()).strip()
        if not name:
            return None, ()
        for item in self.desk.journal.shelf(ShelfKind.COOKER):
            if item.name.casefold() == name.casefold():
                return item.id, ()
        made = ShelfItem(kind=ShelfKind.COOKER, name=name)
        return made.id, (Add((made,), f"Add {name}"),)


def _warning(comparing: bool, arms: int) -> str:
    if comparing and arms < 2:
        return "Choose the control and at least one other way."
    if comparing and arms > 4:
        return "Many ways in one cook leave few pieces for each."
    return ""


def _seed() -> int:
    return secrets.randbelow(9000) + 1000
