"""A probe on the Shelf: what it read in ice water and at the boil, and so what is added to it."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QWidget

from pitjournal.domain.plausible import PLACE, PROBE
from pitjournal.domain.shelf import ShelfItem
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.shelf.item_row import ItemRow
from pitjournal.units import Dimension, show, to_display, unit_label
from pitjournal.units.figures import figure

CHECKS = (
    ("ice", "in ice water", Dimension.TEMPERATURE),
    ("boil", "at the boil", Dimension.TEMPERATURE),
    ("altitude", "at altitude", Dimension.ALTITUDE),
)


class ReadingField(QuantityField):
    """A reading to a tenth of a degree: a check is about little."""

    def shown(self, value: object) -> str:
        """Return it in the cook's units."""
        if not isinstance(value, int | float) or self._dimension is not Dimension.TEMPERATURE:
            return super().shown(value)
        degrees = to_display(float(value), self._dimension, self._system)
        number = figure(degrees, 1)
        return f"{number} {unit_label(self._dimension, self._system)}"


class ProbeRow(ItemRow):
    """One probe, with its check."""

    def make_details(self) -> Sequence[QWidget]:
        """Make the fields of the check, and the line that says what follows from it."""
        self.checks = {
            key: ReadingField(
                label,
                dimension,
                self._desk.system,
                self._keeper(key),
                bare=True,
                hint=label,
                within=PROBE if dimension is Dimension.TEMPERATURE else PLACE,
            )
            for key, label, dimension in CHECKS
        }
        self.adds = words("", "quiet")
        holder = QWidget()
        holder.setLayout(column(row(*self.checks.values()), self.adds, space=tokens.XS))
        return (holder,)

    def _keeper(self, key: str) -> Callable[[object, str], str]:
        return lambda value, _typed: self.keep_detail(key, value)

    def show_details(self, item: ShelfItem) -> None:
        """Show the check and what follows."""
        from pitjournal.analysis.traces.probe_check import number  # noqa: PLC0415 - when first needed

        for key, field in self.checks.items():
            field.set_value(number(item, key))
        self.adds.setText(self._words(item))

    def _words(self, item: ShelfItem) -> str:
        from pitjournal.analysis.traces.probe_check import boils_at, correction_of  # noqa: PLC0415 - numpy, when asked

        system = self._desk.system
        line = correction_of(item)
        if line is None:
            checked = any(item.details.get(key) is not None for key, _, _ in CHECKS[:2])
            if checked:
                return "That check cannot be right: check the probe again, or take another."
            return "Not checked yet: write what it reads in ice water and in boiling water."
        boil = boils_at(item)
        ends = [line[0] + line[1] * at for at in (0.0, boil)]
        ice, hot = (
            show(end, Dimension.TEMPERATURE_DIFFERENCE, system, signed=True) for end in ends
        )
        at = show(boil, Dimension.TEMPERATURE, system)
        return f"Adds {ice} in ice and {hot} at the boil, which is {at} there in usual weather."
