"""What a cell of an old table can be: the limits of the window's fields, by catalogue key."""

from collections.abc import Mapping

from pitjournal.domain.piece import Stage
from pitjournal.domain.plausible import INSIDE, LIMITS, LONG, PIECE, THICK, Limits

_COOK = LIMITS["cook"]
_MINUTE, _MILLIMETRE = 60.0, 1e-3

_BY_KEY: Mapping[str, tuple[Limits, float]] = {
    **{f"mass_{stage}": (PIECE, 1.0) for stage in Stage},
    **{key: (_COOK[key], 1.0) for key in ("set_point", "ambient", "wind", "humidity", "cost")},
    **dict.fromkeys(("time_on", "time_rested", "time_to_wrap"), (LONG, _MINUTE)),
    "internal_off": (INSIDE, 1.0),
    "thickness": (THICK, _MILLIMETRE),
    "fuel_used": (LIMITS["fuel_load"]["mass"], 1.0),
}
"""Limits, and what makes the storage unit of what a table's report holds."""


def why_not(key: str, value: object) -> str:
    """Return why a value of a table cannot be, or an empty text.

    Parameters
    ----------
    key
        Of the catalogue.
    value
        In the units of the report: masses g, temperatures °C, durations minutes, lengths mm.
    """
    found = _BY_KEY.get(key)
    if found is None or isinstance(value, bool) or not isinstance(value, int | float):
        return ""
    limits, factor = found
    return limits.why_not(value * factor)
