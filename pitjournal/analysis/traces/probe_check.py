"""The correction of a probe on the Shelf, from its check in ice water and at the boil."""

from pitjournal.domain.shelf import ShelfItem
from pitjournal.science.heat.altitude import boiling_point_at
from pitjournal.science.heat.probe_check import correction_line

FARTHEST = 10.0
"""A probe that is off by more, K, is not to be corrected but to be thrown away."""


def boils_at(probe: ShelfItem) -> float:
    """Return where water boiled when a probe was checked, °C, by the altitude noted with it."""
    return boiling_point_at(number(probe, "altitude") or 0.0)


def number(probe: ShelfItem, key: str) -> float | None:
    """Return a detail that is a number; None where it is not recorded."""
    value = probe.details.get(key)
    return float(value) if isinstance(value, int | float) else None


def correction_of(probe: ShelfItem) -> tuple[float, float] | None:
    """Return what to add to a probe's readings, as `(a, b)` of a + b·r K; None if unchecked.

    A probe whose check cannot be right (it reads no more at the boil than in ice, or it is off
    by more than 10 K) has none either.
    """
    ice, boil = number(probe, "ice"), number(probe, "boil")
    if ice is None and boil is None:
        shift = number(probe, "correction")
        return None if shift is None else (shift, 0.0)
    try:
        shift, slope = correction_line(ice, boil, boils_at(probe))
    except ValueError:
        return None
    return (shift, slope) if abs(shift) <= FARTHEST and abs(100.0 * slope) <= FARTHEST else None
