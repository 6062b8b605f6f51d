"""Fuel and wood at the bench: what went in, how it burns, how long it lasts."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pitjournal.analysis.bench.fire import Burning, burning
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.plan.fire import FireCard
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import trimmed


class FuelPanel(GlovePanel):
    """The fire's card of the plan, with what it burns."""

    def __init__(self, over: QWidget, desk: Desk, whole: Callable[[], WholeCook | None]) -> None:
        super().__init__(over, "Fuel and wood", 600)
        self._desk, self._whole = desk, whole
        self.burns = words("", "strong")
        self.body.addWidget(self.burns)
        self.card = FireCard(desk, whole)
        self.body.addWidget(self.card)
        self.listen(desk.bridge.changed, self._show_again)
        self._show_again()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the weight ready."""
        super().open_panel(first or self.card.fuel)

    def _show_again(self, *_: object) -> None:
        whole = self._whole()
        if whole is not None:
            self.card.show_cook(whole)
            found = burning(whole, self._desk.now())
            self.burns.setText(burn_words(found, self._desk.system))


def burn_words(found: Burning | None, system: UnitSystem) -> str:
    """Return how a fire burns and how long it lasts, in a sentence."""
    if found is None:
        return "Weigh the fuel and tap Lit to see how it burns and how long it lasts."
    fast = show(found.fast, Dimension.MASS_RATE, system)
    if found.measured:
        assumed = (
            "by what was left, start-up included"
            if found.by_left
            else "if what was added is what had burnt"
        )
        return f"Burns {fast} so far, {assumed}. {lasts(found)}"
    slow = show(found.slow, Dimension.MASS_RATE, system, with_unit=False)
    return (
        f"Such a cooker usually burns {slow}–{fast}, start-up apart (common practice, no "
        f"source). {lasts(found)}"
    )


def lasts(found: Burning) -> str:
    """Return how long what is in the fire lasts, to the half hour."""
    low, high = (_halves(seconds) for seconds in (found.least_left, found.most_left))
    if high == "0":
        return "By that, it is burnt down: look at it."
    return f"Lasts about {high} h more." if low == high else f"Lasts {low} to {high} h more."


def lasts_short(found: Burning) -> str:
    """Return how long the fire lasts in few words: "3–8 h left"."""
    low, high = (_halves(seconds) for seconds in (found.least_left, found.most_left))
    return f"{low} h left" if low == high else f"{low}–{high} h left"


def _halves(seconds: float) -> str:
    return trimmed(round(seconds / 1800) / 2)
