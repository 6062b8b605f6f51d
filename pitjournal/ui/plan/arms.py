"""The arms of a cook: the ways compared, their treatment and its parameters."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from pitjournal.analysis.plan.calculators import treatment_sums
from pitjournal.analysis.plan.cure_limits import published_limits
from pitjournal.analysis.plan.layout import BARE, two_things
from pitjournal.analysis.plan.past import Past
from pitjournal.analysis.plan.weighed import green_mass
from pitjournal.domain.arm_names import called_alike_sentence
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import WRAPS
from pitjournal.domain.plausible import JAR
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import QUARTER_CUP, ShelfKind
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.used_recipe import SALT
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.plan import KeepChoice
from pitjournal.journal.commands.records import Add, Change, Remove
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox, Form, RecordRow, Rows
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import WideCard
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.words import row, rule, words
from pitjournal.ui.look.theme import look, sized
from pitjournal.ui.plan.sums import Sums
from pitjournal.ui.plan.used_recipe import UsedRecipe
from pitjournal.ui.shelf.offer import ShelfOffer
from pitjournal.units import WATER, Density, Dimension
from pitjournal.units.figures import trimmed

KINDS = ((None, "not recorded"), *((kind, str(kind)) for kind in TreatmentKind))
WRAPPED = (("", "wrap left open"), (BARE, "not wrapped"), *((wrap, wrap) for wrap in WRAPS))
BLADES = frozenset({TreatmentKind.NEEDLED, TreatmentKind.BLADED})

PHOSPHATE = "phosphate"

NAME_WIDTH, BOX_WIDTH = 100, 100
"""What a name, and a box beside it, keep where three cards stand side by side, px."""


class ArmRow(RecordRow):
    """One arm: its mark, name and treatment, with the treatment's parameters and sums below."""

    def __init__(
        self,
        desk: Desk,
        whole: Callable[[], WholeCook | None],
        past: Callable[[], Past | None],
    ) -> None:
        super().__init__()
        look().restyling.part_by_part([self])
        self._desk, self._whole, self._past = desk, whole, past
        self._arm: Arm | None = None
        self._shown = False
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, tokens.XS, 0, tokens.XS)
        layout.setSpacing(tokens.S)
        self._form, self._details = Form(desk, "an arm"), Form(desk, "a treatment")
        self._mark = Mark()
        self.name = self._form.text("name", "Name of the arm", bare=True)
        self.kind = ChoiceBox("Treatment", KINDS, self._treat, bare=True)
        self.count = words("", "quiet", wrap=False)
        self.more = button("details", self._toggle, "link", about="of the treatment")
        self.away = button("×", self._remove, "link", about="the arm")
        self.also = words("", "quiet", wrap=False)
        self.wrap = self._form.choice("wrap", "Wrapped in", WRAPPED, bare=True)
        line = row(
            self._mark,
            self.name,
            self.kind,
            self.also,
            self.wrap,
            self.count,
            self.more,
            self.away,
        )
        line.setStretch(1, 3)
        line.setStretch(2, 4)
        line.setStretch(4, 4)
        sized(self.name, least_width=NAME_WIDTH)
        for box in (self.kind, self.wrap):
            sized(box, least_width=BOX_WIDTH)
        layout.addLayout(line)
        self._panel = self._parameters()
        self._panel.hide()
        layout.addWidget(self._panel)
        layout.addWidget(rule())

    def _parameters(self) -> QWidget:
        panel = QWidget()
        grid = QGridLayout(panel)
        grid.setContentsMargins(tokens.XL, 0, 0, 0)
        grid.setSpacing(tokens.S)
        form = self._details
        recipe = form.text("recipe", "Recipe", used=self._desk.used(Treatment, "recipe"))
        self.offer = ShelfOffer(self._desk, ShelfKind.RECIPE)
        self.offer.watch(recipe)
        below = recipe.layout()
        assert below is not None
        below.addWidget(self.offer)
        self.salt = form.share("salt", "Salt in it", self._salt, self._salted)
        self.salt.where = "below what ¼ cup of your salt weighs"
        self.liquid = [
            recipe,
            form.weight("liquid", "Liquid in all", lambda: WATER),
            self.salt,
            form.share("phosphate", "Phosphate in it", self._phosphate, self._salted),
            form.quantity("target_pickup", "Pickup wanted", Dimension.FRACTION),
            form.quantity("time", "Ahead of going on", Dimension.DURATION),
        ]
        self.blades = [
            form.text("tool", "Tool", used=self._desk.used(Treatment, "tool")),
            form.quantity("passes", "Passes", Dimension.COUNT, whole=True),
            form.quantity("sides", "Sides", Dimension.COUNT, whole=True),
        ]
        self.curing = [
            form.quantity("cure", "Curing salt in all", Dimension.MASS, hint="none"),
            form.quantity("cure_strength", "Nitrite on its label", Dimension.FRACTION),
        ]
        self.jar = QuantityField(
            "¼ cup of your salt",
            Dimension.MASS,
            self._desk.system,
            self._weigh_jar,
            within=JAR,
        )
        self.curing.append(self.jar)
        top = Qt.AlignmentFlag.AlignTop  # neighbours stay in line when words stand below one
        for place, field in enumerate((*self.liquid, *self.curing)):
            grid.addWidget(field, place // 3, place % 3, top)
        for place, field in enumerate(self.blades):
            grid.addWidget(field, 3, place, top)
        for place in range(3):
            grid.setColumnStretch(place, 1)
        self.note = form.text("note", "Note")
        grid.addWidget(self.note, 4, 0, 1, 3)
        self.used = UsedRecipe(self._desk)
        grid.addWidget(self.used, 5, 0, 1, 3)
        self.sums = Sums("sums of the treatment")
        grid.addWidget(self.sums, 6, 0, 1, 3)
        return panel

    def _salt(self) -> Density | None:
        """Return the density of the cook's salt, by the Shelf or what a quarter cup of it weighs."""
        return self._desk.journal.shelf.densities().get(SALT)

    def _phosphate(self) -> Density | None:
        """Return the density of phosphate by the Shelf."""
        return self._desk.journal.shelf.densities().get(PHOSPHATE)

    def _salted(self) -> tuple[float | None, str]:
        """Return g of what salt is a share of: the meat of a dry brine, else the liquid."""
        treatment, whole = self._treatment(), self._whole()
        if treatment is None or whole is None or self._arm is None:
            return None, "liquid"
        if treatment.kind is not TreatmentKind.DRY_BRINED:
            return treatment.liquid, "liquid"
        masses = [green_mass(whole, piece) for piece in whole.pieces_of(self._arm)]
        known = [mass for mass in masses if mass is not None]
        return (sum(known) if known and len(known) == len(masses) else None), "meat"

    def _weigh_jar(self, value: object, typed: str) -> str:
        if isinstance(value, float) and value <= 0:
            return "A weight must be more than nothing."
        kept = trimmed(value, 6) if isinstance(value, float) else ""
        command = KeepChoice(QUARTER_CUP, kept, f"A quarter cup of salt: {typed}")
        problem = self._desk.bridge.attempt(command, self)
        self.salt.set_value(self.salt.value)  # spoons that could not be read may be now
        return problem

    CALLED = "arm"

    def called(self, record: Record) -> str:
        """Return the arm's name."""
        return record.name if isinstance(record, Arm) else ""

    def show_record(self, record: Record) -> None:
        """Show an arm."""
        whole = self._whole()
        if not isinstance(record, Arm) or whole is None:
            return
        if self._arm is None or self._arm.id != record.id:
            self._shown = False
        self._arm = record
        self._form.show(record)
        self._mark.show_arm(whole.arm_index(record.id), record.name)
        self.wrap.setVisible(any(arm.wrap for arm in whole.arms))
        pieces = len(whole.pieces_of(record))
        count = "1 piece" if pieces == 1 else f"{pieces} pieces"
        self.count.setText("control" if record.control else count)
        self.count.setToolTip(count)
        treatment = self._treatment()
        self.kind.set_value(treatment.kind if treatment else None)
        more = [str(t.kind) for t in self._treatments()[1:]]
        self.also.setText(f"and {' and '.join(more)}" if more else "")
        self.also.setVisible(bool(more))
        has = treatment is not None and treatment.kind is not TreatmentKind.NONE
        self.more.setVisible(has)
        self.away.setVisible(not record.control)
        if treatment is not None:
            self._details.show(treatment)
            liquid = treatment.kind not in BLADES
            for field in (*self.liquid, *self.curing):
                field.setVisible(liquid)
            for field in self.blades:
                field.setVisible(treatment.kind in BLADES or treatment.kind is TreatmentKind.OTHER)
            self._show_sums(whole, treatment)
        self._panel.setVisible(has and self._shown)
        self.more.setText("less" if self._shown else "details")

    def _show_sums(self, whole: WholeCook, treatment: Treatment) -> None:
        self.used.show_treatment(whole, treatment)
        kept = self._desk.journal.setting(QUARTER_CUP)
        jar = float(kept) if kept else None
        self.jar.set_value(jar)
        self.jar.setVisible(treatment.kind not in BLADES)
        self.sums.show_sums(
            treatment_sums(
                whole,
                treatment,
                self._desk.system,
                published_limits(),
                lines=self.used.lines,
                past=self._past(),
                quarter_cup=jar,
            )
        )

    def _treatments(self) -> list[Treatment]:
        whole = self._whole()
        if whole is None or self._arm is None:
            return []
        arm = self._arm.id
        return [t for t in whole.treatments if t.arm_id == arm]

    def _treatment(self) -> Treatment | None:
        return next(iter(self._treatments()), None)

    def _toggle(self) -> None:
        self._shown = not self._shown
        self._panel.setVisible(self._shown)
        self.more.setText("less" if self._shown else "details")

    def _treat(self, kind: object) -> str:
        assert self._arm is not None
        treatment = self._treatment()
        if treatment is not None and kind is None:
            command: Remove | Change | Add = Remove(Treatment, treatment.id, "Remove a treatment")
        elif treatment is not None:
            command = Change(Treatment, treatment.id, {"kind": kind}, f"{self._arm.name}: {kind}")
        elif isinstance(kind, TreatmentKind):
            made = Treatment(cook_id=self._arm.cook_id, arm_id=self._arm.id, kind=kind)
            command = Add((made,), f"{self._arm.name}: {kind}")
        else:
            return ""
        self._shown = kind not in {None, TreatmentKind.NONE}
        return self._desk.bridge.attempt(command, self)

    def _remove(self) -> None:
        if self._arm is not None:
            self._desk.bridge.do(Remove(Arm, self._arm.id, f"Remove the arm {self._arm.name}"))


class ArmsCard(WideCard):
    """The arms, with a line on what is held and one to add an arm."""

    def __init__(self, desk: Desk, whole: Callable[[], WholeCook | None]) -> None:
        self._desk, self._whole = desk, whole
        super().__init__("Arms: one thing changes", side=button("Add an arm", self._add, "link"))
        self.warning = words("", "error")
        self.warning.hide()
        rows = QVBoxLayout()
        rows.setSpacing(0)
        self.body.addLayout(rows)
        self._past: Past | None = None
        self.rows = Rows(rows, lambda: ArmRow(desk, whole, lambda: self._past))
        self.body.addWidget(self.warning)
        self.alone = words("All pieces are cooked alike. Add an arm to compare two.", "quiet")
        self.body.addWidget(self.alone)
        self._form = Form(desk)
        self.held = self._form.text("held", "Held the same", hint="pack, trim, rub, cooker, wrap")
        self.body.addWidget(self.held)
        self.body.addStretch(1)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's arms."""
        arms = whole.ordered_arms
        self.rows.show(arms)
        self._form.show(whole.cook)
        self.alone.setVisible(not whole.arms)
        two = "Two things change at once, treatment and wrap: which of them did it?"
        asked = called_alike_sentence(whole.arms)
        said = " ".join(one for one in (asked, two if two_things(whole) else "") if one)
        self.warning.setText(said)
        self.warning.setVisible(bool(said))

    def show_past(self, past: Past) -> None:
        """Take what past cooks say into the sums."""
        self._past = past
        whole = self._whole()
        if whole is not None:
            self.rows.show(whole.ordered_arms)

    def _add(self) -> None:
        whole = self._whole()
        if whole is None:
            return
        place = max((arm.position for arm in whole.arms), default=-1) + 1
        name = "Control" if not whole.arms else f"Arm {place + 1}"
        made = Arm(cook_id=whole.cook.id, position=place, name=name, control=not whole.arms)
        self._desk.bridge.do(Add((made,), f"Add the arm {name}"), self)
