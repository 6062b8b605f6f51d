"""What goes on the meat and into the fire: rub layers, fuel, wood."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pitjournal.analysis.plan.past import Past
from pitjournal.analysis.plan.rub_fuel_cost import fuel_sum, rub_sums
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.fires import (
    burnt,
    fuel_used,
    impossible_fuel,
    left_weighed,
    usual_fuel,
    usual_wood_form,
)
from pitjournal.domain.plausible import limits_of
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import ShelfKind, tablespoon_of
from pitjournal.domain.treatment import SIDES, FuelLoad, FuelStage, Seasoning, WoodAddition
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.records import Add, Change, Remove
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import Form, RecordRow, Rows
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.plan.sums import Sums
from pitjournal.ui.shelf.offer import ShelfOffer
from pitjournal.units import (
    NOT_RECORDED,
    Density,
    Dimension,
    UnitSystem,
    of_tablespoon,
    show,
    weighed_in,
)

Whole = Callable[[], WholeCook | None]


ARM_WIDTH, SET_WIDTH = 116, 74
"""For "every piece" and "30 min", in pixels; a long name of an arm may not push them out."""


class LineRow(RecordRow):
    """A row of fields of one record, with a cross to remove it; its name is offered to the Shelf."""

    def __init__(self, desk: Desk, what: str, kind: ShelfKind) -> None:
        super().__init__()
        self._desk, self._what = desk, what
        self.form = Form(desk, what)
        self.offer = ShelfOffer(desk, kind)
        self.away = button("×", self._remove, "link", about=what)

    def lay(
        self, fields: Sequence[tuple[QWidget, int]], below: Sequence[tuple[QWidget, int]] = ()
    ) -> None:
        """Lay the fields with their stretches, and those of a second line below them."""
        lines = column(_line(fields, self.away), self.offer, space=tokens.XS)
        if below:
            lines.addLayout(_line(below))
        lines.setContentsMargins(0, 2, 0, 2 + tokens.XS * bool(below))
        self.setLayout(lines)
        self.lines = lines

    def show_record(self, record: Record) -> None:
        """Show it."""
        self.form.show(record)

    def _remove(self) -> None:
        record = self.form.record
        if record is not None:
            self._desk.bridge.do(Remove(type(record), record.id, f"Remove {self._what}"))


def _line(fields: Sequence[tuple[QWidget, int]], *more: QWidget) -> QHBoxLayout:
    line = row(*(field for field, _ in fields), *more, space=6)
    for place, (_, stretch) in enumerate(fields):
        line.setStretch(place, stretch)
    return line


class SeasoningRow(LineRow):
    """A layer of rub."""

    CALLED = "layer"

    def __init__(self, desk: Desk, whole: Whole) -> None:
        super().__init__(desk, "a rub layer", ShelfKind.RUB)
        self._whole = whole
        self.rub = self.form.text(
            "rub", "Rub", used=desk.used(Seasoning, "rub"), bare=True, hint="rub"
        )
        self.offer.watch(self.rub)
        self.arm = self.form.choice("arm_id", "For which arm", (), bare=True)
        self.mass = self.form.weight(
            "mass", "Weight a piece", self._density, bare=True, hint="a piece"
        )
        self.set = self.form.quantity(
            "set_time", "Left to set", Dimension.DURATION, bare=True, hint="to set"
        )
        self.side = Choice("side")
        self.side.offer((side, side, -1) for side in SIDES)
        self.side.chosen.connect(self._turn)
        sized(self.arm, least_width=ARM_WIDTH)
        sized(self.set, least_width=SET_WIDTH)
        self.lay(((self.rub, 1),), below=((self.arm, 3), (self.mass, 2), (self.set, 2)))
        self.lines.addWidget(self.side)

    def tell_about(self, about: str) -> None:
        """Tell each control which layer it is of."""
        super().tell_about(about)
        self.side.setAccessibleName(f"side of {about}")

    def _turn(self, side: object) -> None:
        """Keep the side; a tap on the one that is chosen leaves it open again."""
        layer = self.form.record
        if isinstance(layer, Seasoning):
            kept = "" if side == layer.side else str(side)
            label = f"{layer.rub or 'Rub'}: {kept or 'side left open'}"
            self._desk.bridge.do(Change(Seasoning, layer.id, {"side": kept}, label))

    def _density(self) -> Density | None:
        """Return what the Shelf says of the layer's rub, if it does."""
        layer = self.form.record
        name = layer.rub.casefold() if isinstance(layer, Seasoning) else ""
        rubs = self._desk.journal.shelf.items(ShelfKind.RUB) if name else []
        found = next((item for item in rubs if item.name.casefold() == name), None)
        grams = tablespoon_of(found.details) if found else None
        return of_tablespoon(grams) if grams else None

    def show_record(self, record: Record) -> None:
        """Show a layer."""
        whole = self._whole()
        arms = whole.arms if whole else ()
        self.side.choose(record.side if isinstance(record, Seasoning) else "")
        self.arm.offer(((None, "every piece"), *((arm.id, arm.name) for arm in arms)))
        super().show_record(record)


NO_RUB = {
    UnitSystem.US: "No rub recorded. About a tablespoon a pound is usual, in one to three layers.",
    UnitSystem.METRIC: "No rub recorded. Some 20 to 30 g/kg are usual, in one to three layers.",
}
"""Common practice, no source: a tablespoon of rub weighs 8 to 14 g."""


class SeasoningCard(Card):
    """The layers of rub, in order."""

    def __init__(self, desk: Desk, whole: Whole) -> None:
        self._desk, self._whole = desk, whole
        super().__init__("Rub, layer by layer", side=button("Add a layer", self._add, "link"))
        lines = QVBoxLayout()
        lines.setSpacing(0)
        self.body.addLayout(lines)
        self.rows = Rows(lines, lambda: SeasoningRow(desk, whole))
        self.empty = words("")
        self.body.addWidget(self.empty)
        self.sums = Sums("how much rub")
        self.body.addWidget(self.sums)
        self.body.addStretch(1)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's layers."""
        self.rows.show(whole.seasonings)
        self.sums.show_sums(rub_sums(whole, whole.seasonings, self._desk.system))
        self.empty.setText(NO_RUB[self._desk.system])
        self.empty.setVisible(not whole.seasonings)

    def _add(self) -> None:
        whole = self._whole()
        if whole is None:
            return
        place = max((layer.position for layer in whole.seasonings), default=-1) + 1
        used = self._desk.used(Seasoning, "rub")
        made = Seasoning(cook_id=whole.cook.id, position=place, rub=used[0] if used else "")
        self._desk.bridge.do(Add((made,), f"Add rub layer {place + 1}"), self)


class FuelRow(LineRow):
    """A weighed load of fuel."""

    CALLED = "load"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, "a load of fuel", ShelfKind.FUEL)
        stages = tuple((stage, str(stage)) for stage in FuelStage)
        self.stage = self.form.choice("stage", "What it was", stages, bare=True)
        used = desk.used(FuelLoad, "fuel")
        self.fuel = self.form.text("fuel", "Fuel", used=used, bare=True, hint="lump, pellets…")
        self.offer.watch(self.fuel)
        self.mass = self.form.quantity("mass", "Weight of the fuel", Dimension.MASS, bare=True)
        self.lay(((self.stage, 2), (self.fuel, 3), (self.mass, 2)))


class WoodRow(LineRow):
    """A piece of wood for smoke."""

    CALLED = "wood"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, "wood", ShelfKind.WOOD)
        used = desk.used(WoodAddition, "wood")
        self.wood = self.form.text("wood", "Wood", used=used, bare=True, hint="oak, cherry…")
        self.offer.watch(self.wood)
        shapes = ("chunk", "chip", "split")
        self.shape = self.form.text("form", "Form", used=shapes, bare=True, hint="chunk")
        self.mass = self.form.quantity("mass", "Weight of the wood", Dimension.MASS, bare=True)
        self.lay(((self.wood, 3), (self.shape, 2), (self.mass, 2)))


class FireCard(Card):
    """Fuel in, added, left; and wood."""

    def __init__(self, desk: Desk, whole: Whole) -> None:
        super().__init__("Fire")
        self._desk, self._whole = desk, whole
        lines = QVBoxLayout()
        lines.setSpacing(0)
        self.body.addLayout(lines)
        self.rows = Rows(lines, lambda: FuelRow(desk))
        self.used = words("", "quiet")
        self.body.addWidget(self.used)
        self.cannot = words("", "error")
        self.body.addWidget(self.cannot)
        self.sums = Sums("how much fuel")
        self.body.addWidget(self.sums)
        self.fuel = QuantityField(
            "Weight of fuel",
            Dimension.MASS,
            desk.system,
            self._weighed,
            bare=True,
            hint="weight",
            within=limits_of(FuelLoad.KIND, "mass"),
        )
        self._stages = [
            button(text, self._adder(stage), "chip", about="of the fuel")
            for text, stage in (
                ("put in", FuelStage.IN),
                ("added", FuelStage.ADDED),
                ("left over", FuelStage.LEFT),
                ("ash", FuelStage.ASH),
            )
        ]
        self.body.addLayout(row(words("Fuel", "heading", wrap=False), self.fuel))
        self.body.addLayout(row(*self._stages, None))
        wood = QVBoxLayout()
        wood.setSpacing(0)
        self.body.addLayout(wood)
        self.woods = Rows(wood, lambda: WoodRow(desk))
        self.body.addLayout(row(button("Add wood", self._add_wood, "link"), None))
        self.body.addStretch(1)
        self._mass: float | None = None
        self._typed = ""

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's fire."""
        self.rows.show(whole.fuel_loads)
        self.woods.show(whole.wood_additions)
        self.used.setText(used_words(whole, self._desk.system))
        self.cannot.setText(impossible_fuel(whole.fuel_loads))
        self.cannot.setVisible(bool(self.cannot.text()))

    def show_past(self, past: Past | None) -> None:
        """Say how much fuel the plan takes, by what past cooks burnt."""
        whole = self._whole()
        if whole is not None:
            found = fuel_sum(whole, past, self._desk.system) if past else None
            self.sums.show_sums((found,) if found else ())

    def _weighed(self, value: object, typed: str) -> str:
        self._mass = value if isinstance(value, float) else None
        self._typed = typed
        if self._mass is not None and self._mass <= 0:
            self._mass = None
            return "A weight must be more than nothing."
        return ""

    def _adder(self, stage: FuelStage) -> Callable[[], None]:
        def add() -> None:
            self.fuel.commit()
            whole = self._whole()
            if whole is None:
                return
            if self._mass is None:
                self.fuel.say("Weigh it first, such as 4 lb or 1.8 kg.")
                self.fuel.setFocus()
                return
            used = self._desk.used(FuelLoad, "fuel")
            loads = whole.fuel_loads
            fuel = loads[-1].fuel if loads else usual_fuel(whole.cooker, used)
            made = FuelLoad(
                cook_id=whole.cook.id,
                stage=stage,
                fuel=fuel,
                mass=self._mass,
                at=self._desk.now(),
                typed={"mass": self._typed},
            )
            self._mass = None
            self.fuel.set_value(None)
            self._desk.bridge.do(Add((made,), f"Fuel {stage}"), self)

        return add

    def _add_wood(self) -> None:
        whole = self._whole()
        if whole is None:
            return
        used = self._desk.used(WoodAddition, "wood")
        running = whole.cook.status is CookStatus.RUNNING
        made = WoodAddition(
            cook_id=whole.cook.id,
            wood=used[0] if used else "",
            form=usual_wood_form(whole.cooker),
            at=self._desk.now() if running else None,
        )
        self._desk.bridge.do(Add((made,), "Add wood"), self)


def used_words(whole: WholeCook, system: UnitSystem) -> str:
    """Return what a fire has used, and what that takes for granted."""
    used = fuel_used(whole)
    if used is not None:
        typed = [load.typed.get("mass", "") for load in whole.fuel_loads]
        shown = show(used, Dimension.MASS, weighed_in(typed, system))
        if left_weighed(whole):
            return f"Used: {shown} (in + added − reusable left)"
        return f"Used: {shown}, if all of it burnt: what is left is not weighed"
    if whole.fuel_loads and not burnt(whole):
        return "Planned. It counts as used once the fire is lit."
    return f"Used: {NOT_RECORDED}"
