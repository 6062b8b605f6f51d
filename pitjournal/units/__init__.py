"""Quantities as a cook types and reads them, and as the journal stores them.

Stored: g, °C, K (a difference), K/s, m, s, mL, fraction, g/s, money per g, m/s.
Pint reads what is typed and is imported then; showing needs plain factors only.
"""

from pitjournal.units.as_typed import says, show_typed, weighed_in
from pitjournal.units.by_volume import (
    ON_THE_SHELF,
    WATER,
    Density,
    by_volume,
    of_tablespoon,
    parse_weight,
)
from pitjournal.units.figures import MINUS, figure, percent, trimmed
from pitjournal.units.reading import parse, warm_up
from pitjournal.units.scales import (
    NOT_RECORDED,
    STORED,
    Dimension,
    UnitSystem,
    difference_of,
    example,
    from_display,
    to_display,
    unit_label,
)
from pitjournal.units.showing import show, show_interval

__all__ = [
    "MINUS",
    "NOT_RECORDED",
    "ON_THE_SHELF",
    "STORED",
    "WATER",
    "Density",
    "Dimension",
    "UnitSystem",
    "by_volume",
    "difference_of",
    "example",
    "figure",
    "from_display",
    "of_tablespoon",
    "parse",
    "parse_weight",
    "percent",
    "says",
    "show",
    "show_interval",
    "show_typed",
    "to_display",
    "trimmed",
    "unit_label",
    "warm_up",
    "weighed_in",
]
