"""What a quantity can be at most and at least: digits that ran together are no measurement.

One place for every quantity that a cook types. A limit is where a thing cannot be, not where it
is unlikely; where no source is named it is common practice.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from pitjournal.errors import JournalError
from pitjournal.units import Dimension, UnitSystem, figure, show, to_display, unit_label

LOOK_AGAIN = "Look at the digits and the unit, and type it again."

NO_WEIGHT = "A weight must be more than nothing."

_DAY = 86400.0
_YEAR = 365.25 * _DAY
_TONNE = 1e6
_WHOLE = 10.0
"""From here on a limit is said without decimals."""


@dataclass(frozen=True)
class Limits:
    """What something can be: from `low` to `high`, in the storage unit of `dimension`.

    `over` and `under` are words of its own for what is beyond them.
    """

    what: str
    dimension: Dimension
    low: float
    high: float
    over: str = ""
    under: str = ""

    def why_not(self, value: float) -> str:
        """Return why a value, in the storage unit, cannot be, or an empty text."""
        if self.low <= value <= self.high:
            return ""
        if value < self.low:
            if self.under:
                return self.under
            return f"{self.what} cannot be {self._below()}."
        return (
            self.over
            or f"{self.what} cannot be more than {limit_words(self.high, self.dimension)}."
        )

    def _below(self) -> str:
        if not self.low and self.dimension is not Dimension.TEMPERATURE:
            return "less than nothing"
        return f"less than {limit_words(self.low, self.dimension)}"


def limit_words(value: float, dimension: Dimension) -> str:
    """Return a limit in the units of both systems: "1000 °F (538 °C)"."""
    us, metric = (_limit_in(value, dimension, system) for system in UnitSystem)
    return us if us == metric else f"{us} ({metric})"


def _limit_in(value: float, dimension: Dimension, system: UnitSystem) -> str:
    number = to_display(value, dimension, system)
    if dimension is Dimension.DURATION or abs(number) < _WHOLE:
        return show(value, dimension, system)
    return f"{figure(number)} {unit_label(dimension, system)}".strip()


def _weight(what: str, most: float) -> Limits:
    return Limits(what, Dimension.MASS, 0.0, most, under=NO_WEIGHT)


def _share(what: str, most: float = 1.0) -> Limits:
    return Limits(what, Dimension.FRACTION, 0.0, most)


def _lasting(what: str, most: float) -> Limits:
    return Limits(what, Dimension.DURATION, 0.0, most)


PIT = Limits("A pit", Dimension.TEMPERATURE, -10.0, 550.0)
"""From cold smoke in the frost to a stone for flat bread."""
INSIDE = Limits(
    "Meat",
    Dimension.TEMPERATURE,
    -40.0,
    150.0,
    over="No meat is hotter than 300 °F (150 °C) inside.",
    under="No meat is colder than −40 °F (−40 °C) inside.",
)
"""Frozen it is not colder, and water that boils at 100 °C keeps all but a dry edge far below."""
PLACE = Limits("A place", Dimension.ALTITUDE, -430.0, 6000.0)
"""From the shore of the Dead Sea to above the highest town (general knowledge, from memory)."""
PIECE = _weight("A piece", 450e3)
"""A whole ox on the spit."""
THICK = Limits("A thickness", Dimension.LENGTH, 0.0, 1.0)
SPOON = _weight("A tablespoon", 60.0)
PRICED = Limits("A price", Dimension.PRICE, 0.0, 1e6)
"""15 mL: four times what water weighs, more than any salt."""
JAR = _weight("A quarter cup", 240.0)
PROBE = Limits("A reading", Dimension.TEMPERATURE, -50.0, 150.0)
"""Of ice water, or at the boil, by a probe however wrong."""
LONG = _lasting("That", 60 * _DAY)
"""A step of a cook, however slow."""
COUNTED = Limits("That many", Dimension.COUNT, 0.0, 500.0)
FIELD = Limits("A place in a field", Dimension.COUNT, 1.0, 2000.0, under="It begins with 1.")
"""More than any open contest has room for."""
_DIFFERS = {
    Dimension.TEMPERATURE_DIFFERENCE: 550.0,
    Dimension.SCORE: 1000.0,
    Dimension.FRACTION: 1.0,
}
SPREAD = {
    dimension: Limits(
        "A difference",
        dimension,
        0.0,
        _DIFFERS.get(dimension, 1e9),
        under="It must be more than nothing.",
    )
    for dimension in Dimension
}
"""Of a difference and a spread, by what they are of."""

_LIMITS: dict[str, dict[str, Limits]] = {
    "cook": {
        "altitude": PLACE,
        # World Meteorological Organization, archive of extremes: −89.2 and 56.7 °C, a gust of
        # 113 m/s (from memory).
        "ambient": Limits("The air outside", Dimension.TEMPERATURE, -90.0, 60.0),
        "wind": Limits("Wind", Dimension.SPEED, 0.0, 113.0),
        "humidity": _share("Humidity"),
        "set_point": PIT,
        "cost": Limits("A cost", Dimension.MONEY, 0.0, 1e9),
    },
    "piece": {
        "declared_solution": _share("What the label says"),
        "price": PRICED,
        "box": Limits("A turn into the box", Dimension.COUNT, 1.0, 99.0, under="It begins with 1."),
        "thickness_1": THICK,
        "thickness_2": THICK,
        "thickness_3": THICK,
    },
    "weighing": {"mass": PIECE},
    "treatment": {
        "liquid": _weight("Liquid", _TONNE),
        # Water holds 36 g of salt to 100 g (CRC Handbook of Chemistry and Physics, from memory);
        # a paste holds some that is not dissolved.
        "salt": _share("Salt", 0.5),
        "phosphate": _share("Phosphate", 0.5),
        "target_pickup": _share("Pickup"),
        "time": _lasting("That", 2 * _YEAR),  # hams cure for months
        "passes": COUNTED,
        "sides": Limits("Sides", Dimension.COUNT, 0.0, 6.0),
        "cure": _weight("Curing salt", 100e3),
        "cure_strength": _share("Nitrite on a label"),
    },
    "seasoning": {
        "mass": _weight("Rub for a piece", 50e3),
        "set_time": _lasting("That", 30 * _DAY),
    },
    "fuel_load": {"mass": _weight("A load of fuel", 5 * _TONNE)},
    "wood_addition": {"mass": _weight("A load of wood", 5 * _TONNE)},
    "doneness_check": {"internal": INSIDE},
    "tasting": {"served_temperature": INSIDE},
    "contest": {
        "field": FIELD,
        "overall_place": FIELD,
        "paid": Limits("A prize", Dimension.MONEY, 0.0, 1e9),
        "cost": Limits("A cost", Dimension.MONEY, 0.0, 1e9),
    },
    "category": {
        "entries": FIELD,
        "given_place": FIELD,
        "given_total": Limits("A total", Dimension.SCORE, 0.0, 1e4),
    },
    "event": {
        "takes": _lasting("A step", 60 * _DAY),
        "uncertainty": LONG,
    },
    "alarm": {
        "low": Limits("A temperature", Dimension.TEMPERATURE, -40.0, 550.0),
        "high": Limits("A temperature", Dimension.TEMPERATURE, -40.0, 550.0),
        "after": _lasting("An alarm", 60 * _DAY),
    },
}
LIMITS: Mapping[str, Mapping[str, Limits]] = MappingProxyType(_LIMITS)
"""By the kind of a record and its field."""


def limits_of(kind: str, field: str) -> Limits | None:
    """Return what a field of a kind of record can be, None where it is no such quantity."""
    return LIMITS.get(kind, {}).get(field)


def refuse(limits: Limits, value: float, *, some: bool = False) -> float:
    """Return a value, in the storage unit, that can be; `some` has to be more than nothing.

    Raises
    ------
    JournalError
        With why it cannot be.
    """
    why = limits.why_not(value)
    if not why and some and value <= 0:
        why = limits.under or f"{limits.what} must be more than nothing."
    if why:
        raise JournalError(why, LOOK_AGAIN)
    return value


def impossible(kind: str, field: str, value: object) -> str:
    """Return why a value of a record's field cannot be, or an empty text."""
    limits = limits_of(kind, field)
    if limits is None or isinstance(value, bool) or not isinstance(value, int | float):
        return ""
    return limits.why_not(value)


def _widest() -> Iterator[Limits]:
    """Yield what anything of a dimension can be: what belongs to no record stays within."""
    for dimension in Dimension:
        far = {
            Dimension.MASS: 100 * _TONNE,
            Dimension.TEMPERATURE: 1400.0,  # an open fire
            Dimension.TEMPERATURE_DIFFERENCE: 1400.0,
            Dimension.LENGTH: 100.0,
            Dimension.ALTITUDE: 9000.0,
            Dimension.DURATION: 100 * _YEAR,  # a device's clock that was never set
            Dimension.FRACTION: 100.0,
            Dimension.SPEED: 200.0,
            Dimension.COUNT: 1e6,
        }.get(dimension, 1e9)
        low = -273.15 if dimension is Dimension.TEMPERATURE else -far
        yield Limits("That", dimension, low, far)


WIDEST: Mapping[Dimension, Limits] = MappingProxyType({one.dimension: one for one in _widest()})
