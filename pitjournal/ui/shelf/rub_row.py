"""A rub or an ingredient on the Shelf: its detail, and what a tablespoon of it weighs."""

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from pitjournal.domain.plausible import SPOON
from pitjournal.domain.shelf import TABLESPOON, TABLESPOON_TYPED, ShelfItem, tablespoon_of
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.shelf.item_row import ItemRow
from pitjournal.units import Dimension


class RubRow(ItemRow):
    """One rub; spoons of it are weighed by what stands here."""

    def make_details(self) -> Sequence[QWidget]:
        """Make the parts, and the weight of a tablespoon."""
        self.spoon = QuantityField(
            "what a tablespoon weighs",
            Dimension.MASS,
            self._desk.system,
            self._weigh,
            bare=True,
            hint="a tablespoon weighs",
            within=SPOON,
        )
        return (*super().make_details(), self.spoon)

    def show_details(self, item: ShelfItem) -> None:
        """Show both."""
        super().show_details(item)
        self.spoon.typed = str(item.details.get(TABLESPOON_TYPED) or "")
        self.spoon.set_value(tablespoon_of(item.details))

    def _weigh(self, value: object, typed: str) -> str:
        if isinstance(value, float) and value <= 0:
            return "A weight must be more than nothing."
        return self.keep_details({TABLESPOON: value, TABLESPOON_TYPED: typed})


class IngredientItemRow(RubRow):
    """One ingredient: a note, and what a tablespoon of it weighs."""
