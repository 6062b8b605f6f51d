"""Numbers of a summary in the reader's units."""

from dataclasses import dataclass

from pitjournal import units
from pitjournal.analysis.trade_words import in_points
from pitjournal.units import Dimension, UnitSystem, difference_of

UNKNOWN = units.NOT_RECORDED


@dataclass(frozen=True)
class Figures:
    """How numbers are shown: every method takes them as they are stored."""

    system: UnitSystem

    def show(self, value: float | None, dimension: Dimension) -> str:
        """Return a number with its unit, or "not recorded"."""
        return units.show(value, dimension, self.system)

    def known(self, value: float | None, dimension: Dimension) -> str:
        """Return a number with its unit, or nothing."""
        return "" if value is None else self.show(value, dimension)

    def cell(self, value: float | None, dimension: Dimension) -> str:
        """Return a number alone, for a column whose head has the unit."""
        return units.show(value, dimension, self.system, with_unit=False)

    def number(self, value: float, dimension: Dimension) -> float:
        """Return a number in the unit of `unit`."""
        return units.to_display(value, dimension, self.system)

    def unit(self, dimension: Dimension) -> str:
        """Return the unit's name; may be empty."""
        return units.unit_label(dimension, self.system)

    def signed(self, value: float, dimension: Dimension, *, with_unit: bool = True) -> str:
        """Return a difference with its sign."""
        what = difference_of(dimension)
        return in_points(units.show(value, what, self.system, with_unit=with_unit, signed=True))
