"""What a cook sets out to do, at a glance: the question, the arms, what is held the same."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QSizePolicy, QVBoxLayout, QWidget

from pitjournal.domain.cook import Arm
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.plan_notes import notes_of_plan
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card, NoteCard
from pitjournal.ui.look.parts.words import Elided, clear, row, rule, unbroken, words
from pitjournal.ui.look.theme import sized
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import trimmed

LABEL, HELD = 58, 104
"""The columns of the words before a line, px."""

ARM_NAME = 112
"""What the name of an arm keeps, px."""

MOST_ARMS = 5
"""More arms than these are counted, and read below."""

Go = Callable[[str], None]


@dataclass(frozen=True)
class ArmLine:
    """An arm at a glance."""

    name: str
    look: int | None
    what: str
    count: str


def arm_lines(whole: WholeCook, system: UnitSystem) -> list[ArmLine]:
    """Return the arms of a cook, the control first."""
    found = []
    for arm in whole.ordered_arms:
        pieces = len(whole.pieces_of(arm))
        count = "1 piece" if pieces == 1 else f"{pieces} pieces"
        found.append(
            ArmLine(arm.name, whole.arm_index(arm.id), arm_words(whole, arm, system), count)
        )
    return found


def arm_words(whole: WholeCook, arm: Arm, system: UnitSystem) -> str:
    """Return what is done to an arm: "stock, 2.5 % salt, to 9 %"; "the control" for that."""
    said = [_treated(t, arm, system) for t in whole.treatments if t.arm_id == arm.id]
    parts = [one for one in said if one]
    if arm.wrap:
        parts.append("not wrapped" if arm.wrap == "none" else f"in {arm.wrap}")
    if arm.control:
        parts.insert(0, "the control")
    return ", ".join(parts) or "not said yet"


def _treated(treatment: Treatment, arm: Arm, system: UnitSystem) -> str:
    kind = str(treatment.kind)
    alone = treatment.kind is TreatmentKind.NONE or kind.casefold() == arm.name.casefold()
    parts = [] if alone else [kind]
    if treatment.recipe:
        parts.append(treatment.recipe)
    if treatment.salt is not None:
        parts.append(f"{show(treatment.salt, Dimension.FRACTION, system)} salt")
    if treatment.target_pickup is not None:
        parts.append(f"to {show(treatment.target_pickup, Dimension.FRACTION, system)}")
    if treatment.passes is not None:
        parts.append("one pass" if treatment.passes == 1 else f"{trimmed(treatment.passes)} passes")
    return ", ".join(parts)


def day_words(whole: WholeCook, system: UnitSystem, when: str) -> str:
    """Return the cooker and the day in a line; what is not known is left out."""
    cook = whole.cook
    at = "" if cook.set_point is None else show(cook.set_point, Dimension.TEMPERATURE, system)
    out = "" if cook.ambient is None else show(cook.ambient, Dimension.TEMPERATURE, system)
    parts = (
        whole.cooker.name if whole.cooker else "no cooker yet",
        at,
        f"meat on {when}",
        f"{out} outside" if out else "",
        cook.weather,
        cook.place,
    )
    return ", ".join(part for part in parts if part)


def meat_words(whole: WholeCook) -> str:
    """Return the meat in a line: "9 pieces of St. Louis ribs"."""
    cuts: dict[str, int] = {}
    for piece in whole.pieces:
        cuts[piece.cut or "meat"] = cuts.get(piece.cut or "meat", 0) + 1
    if not cuts:
        return "no meat yet"
    return ", ".join(
        f"1 piece of {cut}" if count == 1 else f"{count} pieces of {cut}"
        for cut, count in cuts.items()
    )


class QuestionGlance(Card):
    """The question, what counts, and when to stop."""

    def __init__(self, desk: Desk, go: Go) -> None:
        self._desk = desk
        more = button("details", lambda: go("question"), "link", about="of the question")
        super().__init__("Question", side=more)
        self.question = words("", "asked")
        self.counts, self.stop = Elided(), words()
        self.body.setSpacing(tokens.XS)
        self.body.addWidget(self.question)
        for label, said in (("Counts", self.counts), ("Stop", self.stop)):
            head = sized(words(label, "heading", wrap=False), least_width=LABEL)
            line = row(head, said)
            line.setStretch(1, 1)
            line.setAlignment(head, Qt.AlignmentFlag.AlignTop)
            self.body.addLayout(line)

    def show_cook(self, whole: WholeCook) -> None:
        """Show what a cook asks."""
        cook = whole.cook
        self.question.setText(cook.question or "What do you want to find out?")
        outcome = self._desk.catalogue.get(cook.outcome or "")
        self.counts.show_text(outcome.label if outcome else "nothing declared yet")
        self.stop.setText(" ".join(cook.stop_rule.split()) or "not said yet")


class ArmsGlance(Card):
    """The arms, what is held the same, the meat, and the cooker and day."""

    def __init__(self, desk: Desk, go: Go) -> None:
        self._desk, self._go = desk, go
        more = self._details_button("arms", "of the arms")
        super().__init__("Arms: one thing changes", side=more)
        self.arms = QVBoxLayout()
        self.arms.setSpacing(0)
        self.body.addLayout(self.arms)
        self._arms: list[ArmLine] | None = None
        self._lines: dict[str, Elided] = {}
        self.body.addWidget(rule())
        for name, head, about in (
            ("held", "Held the same", "of what is held"),
            ("pieces", "Meat", "of the meat"),
            ("day", "Cooker and day", "of cooker and day"),
            ("fire", "Fuel and rub", "of fuel, wood and rub"),
        ):
            self._lines[name] = Elided()
            named = sized(words(head, "heading", wrap=False), least_width=HELD)
            line = row(named, self._lines[name], self._details_button(name, about))
            line.setStretch(1, 1)
            self.body.addLayout(line)
        self.note = NoteCard("", "Read it", lambda: go("notes"))
        self.body.addWidget(self.note)
        self.body.addStretch(1)
        self.body.setSpacing(2)

    def _details_button(self, name: str, about: str) -> QPushButton:
        return button("details", lambda: self._go(name), "link", about=about)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's arms."""
        system = self._desk.system
        self._show_arms(arm_lines(whole, system))
        zone, now = whole.cook.zone, self._desk.now()
        when = show_moment(whole.cook.starts_at, zone, now)
        said = {
            "held": whole.cook.held or "not said yet",
            "pieces": meat_words(whole),
            "day": day_words(whole, system, when),
            "fire": ", ".join(_fire(whole)) or "not said yet",
        }
        for name, text in said.items():
            self._lines[name].show_text(text)
        self.note.say(unbroken(_short(next(iter(whole.once(notes_of_plan)), ""))))

    def _show_arms(self, lines: list[ArmLine]) -> None:
        """Show a line for each arm; what stands there already does not blink."""
        if lines == self._arms:
            return
        self._arms = lines
        clear(self.arms)
        for line in lines[:MOST_ARMS]:
            self.arms.addWidget(_arm(line))
        if len(lines) > MOST_ARMS:
            self.arms.addWidget(words(f"and {len(lines) - MOST_ARMS} more", "quiet"))
        if not lines:
            self.arms.addWidget(words("A cook for itself. Add an arm to compare two.", "quiet"))


def _arm(line: ArmLine) -> QWidget:
    holder = QWidget()
    sized(holder, height=ARM_HIGH)
    name = sized(Elided(line.name, "strong"), width=ARM_NAME)
    name.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    laid = row(Mark(line.look, line.name), name, Elided(line.what), words(line.count, "quiet"))
    laid.setStretch(2, 1)
    holder.setLayout(laid)
    return holder


ARM_HIGH = 30
"""The line of an arm, px."""


def _fire(whole: WholeCook) -> Iterator[str]:
    yield from dict.fromkeys(load.fuel for load in whole.fuel_loads if load.fuel)
    yield from dict.fromkeys(w.wood for w in whole.wood_additions if w.wood)
    yield from dict.fromkeys(layer.rub for layer in whole.seasonings if layer.rub)


def _short(note: str) -> str:
    """Return what a caution is about; what must be reached, and its source, are read in full."""
    return note.split(". ", 1)[0].rstrip(".") + "." if note else ""
