"""The values of all cooks in columns: a row a piece, with its cook's values beside."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from pitjournal.domain.catalogue import Level

Floats = NDArray[np.float64]
Codes = NDArray[np.int32]
Row = tuple[str, str, str, Mapping[str, object]]
"""Owner id, cook id, "cook" or "piece", value by catalogue key."""

NOT_KNOWN = -1


@dataclass
class Frame:
    """All pieces and cooks.

    A cook without pieces has one row of its own, so that its own values count.

    Attributes
    ----------
    cook_ids, piece_ids
        Of each row; a piece id is "" where the cook has no piece.
    cooks
        The cook of each row as a code, shape (n,).
    cook_names
        The cook id of each code.
    """

    cook_ids: list[str]
    piece_ids: list[str]
    cooks: Codes
    cook_names: list[str]
    _cook_values: list[Mapping[str, object]]
    _piece_values: list[Mapping[str, object]]
    _floats: dict[str, Floats] = field(default_factory=dict)
    _codes: dict[str, tuple[Codes, list[str]]] = field(default_factory=dict)

    @property
    def size(self) -> int:
        """How many rows there are."""
        return len(self.piece_ids)

    def _values(self, key: str) -> Iterable[object]:
        for cook, piece in zip(self._cook_values, self._piece_values, strict=True):
            yield piece[key] if key in piece else cook.get(key)

    def numbers(self, key: str) -> Floats:
        """Return a variable's numbers (yes is 1), NaN where it is not known, shape (n,)."""
        if key not in self._floats:
            found = [
                float(value) if isinstance(value, int | float) else np.nan
                for value in self._values(key)
            ]
            self._floats[key] = np.array(found, dtype=np.float64)
        return self._floats[key]

    def choices(self, key: str) -> tuple[Codes, list[str]]:
        """Return a variable's texts as codes and names; −1 where it is not known."""
        if key not in self._codes:
            names: dict[str, int] = {}
            codes = np.full(self.size, NOT_KNOWN, dtype=np.int32)
            for place, value in enumerate(self._values(key)):
                text = _text(value)
                if text:
                    codes[place] = names.setdefault(text, len(names))
            self._codes[key] = codes, list(names)
        return self._codes[key]


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)


def frame_of(rows: Sequence[Row]) -> Frame:
    """Return the columns of value rows."""
    cook_values = {owner: values for owner, _, level, values in rows if level == Level.COOK.value}
    pieces = [row for row in rows if row[2] == Level.PIECE.value]
    with_pieces = {cook_id for _, cook_id, _, _ in pieces}
    lines = [(cook_id, owner, values) for owner, cook_id, _, values in pieces]
    lines += [(cook_id, "", {}) for cook_id in cook_values if cook_id not in with_pieces]
    names: dict[str, int] = {}
    codes = [names.setdefault(cook_id, len(names)) for cook_id, _, _ in lines]
    return Frame(
        [cook_id for cook_id, _, _ in lines],
        [piece_id for _, piece_id, _ in lines],
        np.array(codes, dtype=np.int32),
        list(names),
        [cook_values.get(cook_id, {}) for cook_id, _, _ in lines],
        [values for _, _, values in lines],
    )
