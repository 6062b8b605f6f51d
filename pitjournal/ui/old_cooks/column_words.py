"""What a table's columns become, in a cook's words."""

from collections.abc import Mapping

from pitjournal.domain.catalogue import Catalogue
from pitjournal.files.old_cooks import SheetColumn
from pitjournal.journal.old_cook_own import own_for

NOTE = ""
"""The choice of a column that fits nothing."""

_OWN: Mapping[str, str] = {
    "date": "date on",
    "title": "title",
    "cut": "cut",
    "time_on_at": "time of day on",
    "time_off_at": "time of day off",
    "arm": "arm",
    "treatment": "treatment",
    "rating": "rating",
    "wrap": "wrap",
    "wood": "wood",
    "cooker": "cooker",
    "rub": "rub",
    "fuel": "fuel",
    "fuel_used": "fuel used",
    "cost": "cost",
    "pieces": "number of pieces",
    "notes": "notes",
}
_KNOWN = (
    *_OWN,
    *(
        f"mass_{stage}"
        for stage in ("bought", "trimmed", "treated", "on", "off", "rested", "edible")
    ),
    "set_point",
    "internal_off",
    "ambient",
    "time_on",
    "time_to_wrap",
    "time_wrapped",
    "time_rested",
    "thickness",
    "yield_off",
    "weather",
    "wind",
    "humidity",
    "place",
    "supplier",
    "grade",
    "price",
    "kind",
    *(f"score.{name}" for name in ("tenderness", "flavour", "juiciness", "appearance", "bark")),
)
_UNITS = {"degF": "°F", "degC": "°C", "h": "hours", "min": "minutes", "inch": "inches"}


def named(variable: str | None, catalogue: Catalogue) -> str:
    """Return a variable in words; one that is none is a note."""
    if not variable:
        return "keep as a note"
    if variable in _OWN:
        return _OWN[variable]
    if variable in catalogue:
        return catalogue[variable].label
    return variable.removeprefix("score.").replace("_", " ")


def becomes(column: SheetColumn, catalogue: Catalogue) -> str:
    """Return what a column becomes, with its unit: "weight on, lb"."""
    if not column.variable:
        own = own_for(column.header, catalogue.own)
        return f"{own.name} (your own)" if own else named(None, catalogue)
    unit = _UNITS.get(column.unit, column.unit)
    return named(column.variable, catalogue) + (f", {unit}" if unit and column.variable else "")


def choices(column: SheetColumn, catalogue: Catalogue) -> list[tuple[object, str]]:
    """Return what a column can become: what it does now first, the note last."""
    rest = [(key, named(key, catalogue)) for key in _KNOWN if key != column.variable]
    now = [(column.variable or NOTE, becomes(column, catalogue))]
    note = [] if not column.variable else [(NOTE, named(None, catalogue))]
    return [*now, *sorted(rest, key=lambda one: one[1]), *note]
