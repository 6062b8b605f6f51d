"""A fuel on the Shelf: a note, and what it costs."""

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from pitjournal.domain.plausible import PRICED
from pitjournal.domain.shelf import PRICE, PRICE_TYPED, ShelfItem, price_of
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.shelf.item_row import ItemRow
from pitjournal.units import Dimension


class FuelRow(ItemRow):
    """One fuel; what a cook's fire cost is worked out by its price."""

    def make_details(self) -> Sequence[QWidget]:
        """Make the note, and the price."""
        self.price = QuantityField(
            "what it costs",
            Dimension.PRICE,
            self._desk.system,
            self._cost,
            bare=True,
            hint="what it costs",
            within=PRICED,
        )
        return (*super().make_details(), self.price)

    def show_details(self, item: ShelfItem) -> None:
        """Show both."""
        super().show_details(item)
        self.price.typed = str(item.details.get(PRICE_TYPED) or "")
        self.price.set_value(price_of(item.details))

    def _cost(self, value: object, typed: str) -> str:
        return self.keep_details({PRICE: value, PRICE_TYPED: typed})
