"""A cooker on the Shelf: its class, and how many lie in it, on how many shelves."""

from collections.abc import Callable, Sequence
from math import ceil

from PySide6.QtWidgets import QWidget

from pitjournal.domain.plausible import COUNTED
from pitjournal.domain.shelf import ACROSS, SLOTS, ShelfItem, count_of
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.shelf.item_row import ItemRow
from pitjournal.units import Dimension

COUNTS = ((SLOTS, "slots in all"), (ACROSS, "side by side"))
"""The details that a plan draws its places by, and their words."""


class CookerRow(ItemRow):
    """One cooker; a plan on it draws its places by what stands here."""

    def make_details(self) -> Sequence[QWidget]:
        """Make the class, the counts, and the line that says what they come to."""
        self.counts = {
            key: QuantityField(
                label,
                Dimension.COUNT,
                self._desk.system,
                self._counter(key),
                bare=True,
                hint=label,
                within=COUNTED,
            )
            for key, label in COUNTS
        }
        self.shelves = words("", "quiet")
        holder = QWidget()
        holder.setLayout(column(row(*self.counts.values()), self.shelves, space=0))
        return (*super().make_details(), holder)

    def show_details(self, item: ShelfItem) -> None:
        """Show them."""
        super().show_details(item)
        known = {key: count_of(item, key) for key, _ in COUNTS}
        for key, field in self.counts.items():
            count = known[key]
            field.set_value(float(count) if count else None)
        self.shelves.setText(shelves_words(known[SLOTS], known[ACROSS]))
        self.shelves.setVisible(bool(self.shelves.text()))

    def _counter(self, key: str) -> Callable[[object, str], str]:
        def keep(value: object, _typed: str) -> str:
            if isinstance(value, float) and (value < 1 or value != round(value)):
                return "A whole number, at least one."
            return self.keep_detail(key, str(int(value)) if isinstance(value, float) else "")

        return keep


def shelves_words(slots: int | None, across: int | None) -> str:
    """Return how many shelves that makes: "2 shelves of 3, one of 2"; nothing where not known."""
    if not slots or not across:
        return ""
    full, rest = divmod(slots, across)
    if not full or ceil(slots / across) == 1:
        return f"one shelf of {slots}"
    shelves = f"{full} {'shelf' if full == 1 else 'shelves'} of {across}"
    return shelves + (f", one of {rest}" if rest else "")
