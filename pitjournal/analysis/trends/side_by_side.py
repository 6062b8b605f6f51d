"""A few cooks side by side: what each variable is in each of them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.domain.catalogue import Catalogue, Kind, Variable

MOST_TEXTS = 3


@dataclass(frozen=True)
class Beside:
    """A variable in each cook: the mean of a number, the texts of a choice; None if unknown."""

    variable: Variable
    values: tuple[float | str | None, ...]

    @property
    def differs(self) -> bool:
        """Whether two cooks of which it is known are not the same."""
        known = [value for value in self.values if value is not None]
        return any(value != known[0] for value in known[1:])


def beside(frame: Frame, catalogue: Catalogue, cook_ids: Sequence[str]) -> list[Beside]:
    """Return the variables that are known of at least one of these cooks.

    A number of pieces is the mean of those of which it is known.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    catalogue
        The variables of the journal.
    cook_ids
        Of the cooks, in order.
    """
    codes = {name: code for code, name in enumerate(frame.cook_names)}
    lines = [np.flatnonzero(frame.cooks == codes.get(cook_id, -1)) for cook_id in cook_ids]
    found = []
    for variable in catalogue.values():
        if variable.kind is Kind.TIME:
            continue
        values = tuple(_value(frame, variable, own) for own in lines)
        if any(value is not None for value in values):
            found.append(Beside(variable, values))
    return found


def _value(
    frame: Frame, variable: Variable, lines: "np.ndarray[tuple[int], np.dtype[np.int64]]"
) -> float | str | None:
    if variable.kind is Kind.NUMBER:
        numbers = frame.numbers(variable.key)[lines]
        known = numbers[np.isfinite(numbers)]
        return float(known.mean()) if known.size else None
    codes, names = frame.choices(variable.key)
    texts = list(dict.fromkeys(names[code] for code in codes[lines].tolist() if code >= 0))
    more = "…" if len(texts) > MOST_TEXTS else ""
    return ", ".join(texts[:MOST_TEXTS]) + more if texts else None
