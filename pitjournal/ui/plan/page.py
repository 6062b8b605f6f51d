"""The plan: question, arms, pieces, rub, fire, cooker and day."""

import secrets
from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.plan.evened import EVENED, even_words, evened
from pitjournal.analysis.plan.layout import drawn_again
from pitjournal.analysis.plan.past import Past
from pitjournal.domain.cook import Cook, CookKind, CookStatus
from pitjournal.domain.piece import Piece
from pitjournal.domain.plausible import COUNTED
from pitjournal.domain.shelf import ACROSS, SLOTS, ShelfItem, ShelfKind, count_of
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.plan import StartAt
from pitjournal.journal.commands.records import Add, Change, Remove, Together
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import Form
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.fields import QuantityField, TextField
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.near_field import NearField
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.reflow import Reflow
from pitjournal.ui.look.parts.saved_bar import SavedBar
from pitjournal.ui.look.parts.words import column, row, unbroken, words
from pitjournal.ui.look.theme import look, px, sized
from pitjournal.ui.own.own_card import OwnCard
from pitjournal.ui.page import scrolled
from pitjournal.ui.plan.arms import ArmsCard
from pitjournal.ui.plan.carving_card import CarvingCard
from pitjournal.ui.plan.drawing import CookerDrawing, shelves_of, swap_words
from pitjournal.ui.plan.fire import FireCard, SeasoningCard
from pitjournal.ui.plan.glance import ArmsGlance, QuestionGlance
from pitjournal.ui.plan.hands_card import HandsCard
from pitjournal.ui.plan.pieces import PiecesCard
from pitjournal.ui.plan.power import PowerCard
from pitjournal.ui.plan.schedule import ScheduleCard
from pitjournal.ui.plan.turn_ins import TurnIns
from pitjournal.units import Dimension

BESIDE_BAR = 560
"""What stands beside what was saved, with its own tick and buttons, px."""

GLANCE = 1080
"""A page that is narrower has the glance in two columns, px."""

ARMS, PIECES = 2, 6
"""So many rows are made ahead: what a usual comparison has."""


class PlanPage(CookPage):
    """What the cook sets out to do."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._form = Form(desk)
        self.arms = ArmsCard(desk, self._here)
        self.pieces = PiecesCard(desk, self._here)
        self.schedule = ScheduleCard(desk, self._here, self._learnt)
        self.hands = HandsCard(desk, self._here)
        self.schedule.steps.chose.connect(self.hands.show_step)
        self.schedule.ribbon.chose.connect(self.hands.show_step)
        self.power = PowerCard(desk, self._here)
        self.seasoning = SeasoningCard(desk, self._here)
        self.fire = FireCard(desk, self._here)
        self.own = OwnCard(desk)
        self.turn_ins = TurnIns(desk)
        self.carving = CarvingCard(desk)
        self.question = QuestionGlance(desk, self.show_details)
        self.at_a_glance = ArmsGlance(desk, self.show_details)
        question, day = self._question_card(), self._day_card()
        layout, notes = self._layout_card(), self._notes_card()
        self._details = {
            "question": question,
            "arms": self.arms,
            "held": self.arms,
            "pieces": self.pieces,
            "day": day,
            "fire": self.fire,
            "notes": notes,
        }
        day_steps = _stack(self.schedule, self.hands, loose=True)
        wide = (_stack(self.question, self.at_a_glance), _stack(layout, self.power))
        glance = Reflow(
            {wide[0]: (0, 0, 1, 4), wide[1]: (0, 4, 1, 3), day_steps: (0, 7, 1, 5)},
            {wide[0]: (0, 0, 1, 6), day_steps: (0, 6, 1, 6), wide[1]: (1, 0, 1, 12)},
            break_at=GLANCE,
        )
        below = (
            _stack(question, self.power.asked, self.schedule.about, loose=True),
            _stack(self.arms, day, loose=True),
        )
        details = Reflow(
            {
                below[0]: (0, 0, 1, 5),
                below[1]: (0, 5, 1, 7),
                self.pieces: (1, 0, 1, 12),
                self.seasoning: (2, 0, 1, 5),
                self.fire: (2, 5, 1, 7),
                self.carving: (3, 0, 1, 12),
                self.own: (4, 0, 1, 12),
                notes: (5, 0, 1, 12),
            },
            {
                below[1]: (0, 0, 1, 12),
                below[0]: (1, 0, 1, 12),
                self.pieces: (2, 0, 1, 12),
                self.seasoning: (3, 0, 1, 12),
                self.fire: (4, 0, 1, 12),
                self.carving: (5, 0, 1, 12),
                self.own: (6, 0, 1, 12),
                notes: (7, 0, 1, 12),
            },
            break_at=GLANCE,
        )
        self._below = words("Details", "big", wrap=False)
        self.bar = SavedBar(desk.bridge)
        self.bar.setParent(self)  # until it stands at the foot
        self._parts = column(
            self.schedule.over, self.turn_ins, glance, self._below, details, space=tokens.M
        )

    def settle(self) -> None:
        """Lay the cards out: to measure and to dress them takes as long as to make them."""
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        self._area = scrolled(self._parts, "plan", outer)
        outer.addWidget(self._foot())
        look().restyling.part_by_part(self.findChildren(Card))

    def spare(self) -> bool:
        """Make rows for two arms and for their pieces."""
        return self.arms.rows.spare(ARMS) or self.pieces.rows.spare(PIECES)

    def _foot(self) -> QWidget:
        """Return what always stands below: what is done with a plan, and what was saved."""
        foot = sized(QWidget(), lines=1, height=tokens.BAR_HEIGHT)
        line = row(
            button("Lists and card", self.show_lists, tip="Ctrl+P"),
            button("Again, but…", self._again, "link", tip="Ctrl+Shift+N"),
            None,
            self.bar,
            button("Go to the bench", self.to_bench, "primary", tip="Alt+2"),
            space=tokens.M,
        )
        line.setContentsMargins(tokens.XL, tokens.XS, tokens.XL, tokens.S)
        foot.setLayout(line)
        return foot

    @property
    def own_bar(self) -> MessageBar:
        """Return the line at the foot."""
        return self.bar

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave what was saved the room there is."""
        super().resizeEvent(event)
        self.bar.room = self.width() - px(BESIDE_BAR)

    def show_details(self, name: str) -> None:
        """Show the form behind a line of the glance, ready to be typed into."""
        card = self._details[name]
        inner = self._area.widget()
        assert inner is not None
        top = card.mapTo(inner, card.rect().topLeft()).y()
        self._area.verticalScrollBar().setValue(top - tokens.M)
        first = next(iter(card.findChildren(QLineEdit)), None)
        (first or card).setFocus()

    def _here(self) -> WholeCook | None:
        return self.whole

    # what is on it

    def _question_card(self) -> Card:
        card, form = Card("Question"), self._form
        card.body.addWidget(form.text("title", "Title", empty="A cook"))
        card.body.addWidget(form.lines("question", "What do you want to find out?"))
        self.outcome = form.choice("outcome", "Counts: the one declared outcome", ())
        card.body.addWidget(self.outcome)
        card.body.addWidget(
            form.lines("stop_rule", "Stop rule", hint="each off when it feels right")
        )
        card.body.addStretch(1)
        return card

    def _day_card(self) -> Card:
        card, form = Card("Cooker and day"), self._form
        self.cooker = TextField("Cooker", self._keep_cooker, hint="the drum")
        card.body.addWidget(self.cooker)
        set_point = form.quantity("set_point", "Set point", Dimension.TEMPERATURE)
        ambient = form.quantity("ambient", "Outside", Dimension.TEMPERATURE)
        card.body.addLayout(row(set_point, ambient))
        self.starts = NearField("Meat on", self.desk.now, self._start)
        card.body.addWidget(self.starts)
        kinds = tuple((kind, str(kind)) for kind in CookKind)
        card.body.addLayout(
            row(form.choice("kind", "Kind of cook", kinds), form.yes_no("water_pan", "Water pan"))
        )
        count, system, keep = Dimension.COUNT, self.desk.system, self._describe_cooker
        self.slots, self.across = (
            QuantityField(label, count, system, keep(key), within=COUNTED)
            for label, key in (("Slots in all", SLOTS), ("Side by side", ACROSS))
        )
        card.body.addLayout(row(self.slots, self.across))
        card.body.addLayout(
            row(form.text("vents", "Vents", hint="not recorded"), form.text("weather", "Weather"))
        )
        card.body.addLayout(
            row(
                form.text("place", "Place"),
                form.quantity("altitude", "Altitude", Dimension.ALTITUDE),
            )
        )
        card.body.addStretch(1)
        return card

    def _layout_card(self) -> Card:
        self.again = button("Draw again", self.redraw, "link", tip="Ctrl+D")
        card = self.layout_card = Card("Where each goes", side=self.again)
        self.drawing = CookerDrawing()
        card.body.addWidget(self.drawing)
        self.swap = words("", "quiet")
        card.body.addWidget(self.swap)
        card.body.addStretch(1)
        return card

    def _notes_card(self) -> Card:
        card = Card("Before you cook")
        self.notes = words()
        card.body.addWidget(self.notes)
        self.note = self._form.lines("note", "Notes", lines=4)
        card.body.addWidget(self.note)
        card.body.addLayout(row(None, button("Remove this cook", self._remove, "link")))
        return card

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (
            Action("Add a piece", "Ctrl+Shift+P", self.pieces._add),  # noqa: SLF001 - its own button, by a key
            Action("Work the day out", "Ctrl+Shift+T", self.schedule.work_out),
            Action(
                "The day's ribbon: arrows walk, Alt and arrows move, L locks, Delete takes away",
                "Ctrl+G",
                self.schedule.ribbon.setFocus,
            ),
            Action("Draw the places again", "Ctrl+D", self.redraw),
            Action("Cook it again, but…", "Ctrl+Shift+N", self._again),
            Action("Lists, and the card to print", "Ctrl+P", self.show_lists),
            Action("Deal the steps out to the hands", "Ctrl+Shift+H", self.hands.deal_out),
            Action("Cards for the hands", "Ctrl+Shift+L", self.hands.show_cards),
            Action("Go to the bench", "Ctrl+B", self.to_bench),
        )

    # what it shows

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's plan."""
        cook = whole.cook
        self.starts.zone, self.starts.near = cook.zone, cook.starts_at
        self.starts.set_value(cook.starts_at)
        measures = [(v.key, v.label) for v in self.desk.catalogue.values() if v.measure]
        scores = [pair for pair in measures if pair[0].startswith("score.")]
        rest = [pair for pair in measures if not pair[0].startswith("score.")]
        self.outcome.offer(((None, "nothing declared"), *scores, *rest))
        self._form.show(cook)
        cookers = self.desk.journal.shelf.items(ShelfKind.COOKER)
        self.cooker.offer(item.name for item in cookers if not item.retired)
        self.cooker.set_value(whole.cooker.name if whole.cooker else None)
        for field, key in ((self.slots, SLOTS), (self.across, ACROSS)):
            count = count_of(whole.cooker, key)
            field.set_value(float(count) if count else None)
            field.setVisible(whole.cooker is not None)
        for card in (
            self.question,
            self.at_a_glance,
            self.arms,
            self.pieces,
            self.power,
            self.schedule,
            self.seasoning,
            self.fire,
            self.own,
            self.turn_ins,
            self.hands,
            self.carving,
        ):
            card.show_cook(whole)
        past = self.schedule.past(whole)
        self.fire.show_past(past)
        self.pieces.show_past(past)
        self.drawing.show_shelves(shelves_of(whole))
        self.swap.setText(" ".join(part for part in (swap_words(whole), even_words(whole)) if part))
        self.swap.setVisible(bool(self.swap.text()))
        compared = len(whole.arms) > 1
        self.layout_card.heading.setText(
            "Where each goes, drawn by lot" if compared else "Where each goes"
        )
        self.again.setVisible(cook.status is CookStatus.PLANNED and len(whole.arms) > 1)
        self.notes.setText(unbroken("\n".join(whole.once(notes_of_plan))))

    def _learnt(self, past: Past) -> None:
        """Take what past cooks say into the sums of every card."""
        self.arms.show_past(past)
        self.fire.show_past(past)
        self.pieces.show_past(past)

    # what its taps do

    def _start(self, value: object, _typed: str) -> str:
        if self.whole is None:
            return ""
        if not isinstance(value, datetime):
            return "Say about when the meat goes on."
        label = f"Meat on at {show_moment(value, self.whole.cook.zone, self.desk.now())}"
        return self.desk.bridge.attempt(StartAt(self.whole.cook.id, value, label), self)

    def _keep_cooker(self, value: object, _typed: str) -> str:
        if self.whole is None:
            return ""
        name = str(value or "").strip()
        cook_id = self.whole.cook.id
        if not name:
            return self.desk.bridge.attempt(
                Change(Cook, cook_id, {"cooker_id": None}, "Leave the cooker open"), self
            )
        shelf = self.desk.journal.shelf.items(ShelfKind.COOKER)
        found = next((i for i in shelf if i.name.casefold() == name.casefold()), None)
        item = found or ShelfItem(kind=ShelfKind.COOKER, name=name)
        change = Change(Cook, cook_id, {"cooker_id": item.id}, f"Cook on {name}")
        if found is not None:
            return self.desk.bridge.attempt(change, self)
        both = Together((Add((item,), f"Add {name}"), change), f"Cook on {name}")
        return self.desk.bridge.attempt(both, self)

    def _describe_cooker(self, key: str) -> Callable[[object, str], str]:
        """Return what keeps a number with the cooker, so that other cooks on it have it too."""

        def keep(value: object, _typed: str) -> str:
            item = self.whole.cooker if self.whole else None
            if item is None:
                return "Name the cooker first."
            if isinstance(value, float) and value < 1:
                return "At least one."
            kept = str(int(value)) if isinstance(value, float) else ""
            details = {**item.details, key: kept}
            label = f"{item.name}: {kept or 'no'} {'slots' if key == SLOTS else 'side by side'}"
            return self.desk.bridge.attempt(
                Change(ShelfItem, item.id, {"details": details}, label), self
            )

        return keep

    def redraw(self) -> None:
        """Draw other slots by lot; not once the cook is running.

        Once all pieces are trimmed and weighed, which becomes which arm is drawn too.
        """
        whole = self.whole
        if whole is None or whole.cook.status is not CookStatus.PLANNED or len(whole.arms) < 2:
            return
        seed = secrets.randbelow(9000) + 1000
        arms = evened(whole, seed)
        changes = [
            Change(Piece, piece_id, {**fields, **arms.get(piece_id, {})})
            for piece_id, fields in drawn_again(whole, seed, ends=not arms).items()
        ]
        even = EVENED if arms else ""
        changes.append(Change(Cook, whole.cook.id, {"seed": seed, "evened": even}))
        self.desk.bridge.do(Together(tuple(changes), "Draw the places again"), self)

    def show_lists(self) -> None:
        """Open the lists of this plan."""
        from pitjournal.ui.plan.lists_panel import ListsPanel  # noqa: PLC0415 - print, seldom

        if self.whole is not None:
            past = self.schedule.past(self.whole)
            ListsPanel(self.desk, self.window(), self.whole, past).open_panel()

    def _again(self) -> None:
        """Plan a cook like this one, but for what changes."""
        if self.whole is not None:
            self.desk.go("new cook", self.whole.cook.id)

    def _remove(self) -> None:
        if self.whole is not None:
            cook = self.whole.cook
            self.desk.bridge.do(Remove(Cook, cook.id, f"Remove {cook.title}"))


def _stack(*cards: QWidget, loose: bool = False) -> QWidget:
    """Return cards one under the other; the last grows into what is left, unless `loose`."""
    holder = QWidget()
    layout = column(*cards, *((None,) if loose else ()), space=tokens.M)
    if not loose:
        layout.setStretch(len(cards) - 1, 1)
    holder.setLayout(layout)
    return holder
