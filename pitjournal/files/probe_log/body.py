"""What rows say, as arrays: the common form of rows read one by one and in bulk."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from pitjournal.files.probe_log.times.stamps import Moment

NOWHERE = -1
"""Stands for a unit where a part of the file does not have the channel."""


@dataclass(frozen=True)
class Body:
    """Rows of readings in the file's order.

    Attributes
    ----------
    places
        Where each row stands in its table, shape (n,).
    dates, loose, seconds, offsets
        What each row's time says (see `stamps.Moment`), shape (n,).
    values
        Readings as written, NaN where one is missing, shape (n, columns).
    units
        Units that stand in the row itself, as places in `cells.UNITS`, or NOWHERE, shape
        (n, columns).
    codes
        In a long file the place in `names` of each row's channel, else zeros, shape (n,).
    names
        Channel names of a long file, else one empty text.
    """

    places: NDArray[np.int64]
    dates: NDArray[np.int64]
    loose: NDArray[np.bool_]
    seconds: NDArray[np.float64]
    offsets: NDArray[np.float64]
    values: NDArray[np.float64]
    units: NDArray[np.int8]
    codes: NDArray[np.int32]
    names: tuple[str, ...] = ("",)

    @property
    def count(self) -> int:
        """How many rows."""
        return int(self.places.size)

    def only(self, kept: NDArray[np.bool_] | NDArray[np.intp]) -> "Body":
        """Return some of the rows."""
        return Body(
            self.places[kept],
            self.dates[kept],
            self.loose[kept],
            self.seconds[kept],
            self.offsets[kept],
            self.values[kept],
            self.units[kept],
            self.codes[kept],
            self.names,
        )


@dataclass
class Gathered:
    """Rows while they are read one by one."""

    columns: int
    places: list[int] = field(default_factory=list)
    moments: list[Moment] = field(default_factory=list)
    values: list[list[float]] = field(default_factory=list)
    units: list[list[int]] = field(default_factory=list)
    names: list[str] = field(default_factory=list)

    def add(
        self, place: int, moment: Moment, values: list[float], units: list[int], name: str
    ) -> None:
        """Add a row."""
        self.places.append(place)
        self.moments.append(moment)
        self.values.append(values)
        self.units.append(units)
        self.names.append(name)

    def body(self) -> Body:
        """Return the rows as arrays, in the file's order."""
        names = tuple(dict.fromkeys(self.names)) or ("",)
        code = {name: number for number, name in enumerate(names)}
        count = len(self.places)
        body = Body(
            np.array(self.places, dtype=np.int64),
            np.array([moment.date for moment in self.moments], dtype=np.int64),
            np.array([moment.loose for moment in self.moments], dtype=np.bool_),
            np.array([moment.seconds for moment in self.moments], dtype=np.float64),
            np.array([moment.offset for moment in self.moments], dtype=np.float64),
            np.array(self.values, dtype=np.float64).reshape(count, self.columns),
            np.array(self.units, dtype=np.int8).reshape(count, self.columns),
            np.array([code[name] for name in self.names], dtype=np.int32),
            names,
        )
        return body.only(np.argsort(body.places, kind="stable"))


def joined(some: Body, others: Body) -> Body:
    """Return the rows of both in the file's order."""
    if not others.count:
        return some
    if not some.count:
        return others
    names = tuple(dict.fromkeys((*some.names, *others.names)))
    code = {name: number for number, name in enumerate(names)}
    recoded = np.array([code[name] for name in others.names], dtype=np.int32)
    codes = recoded[others.codes] if others.names else others.codes
    both = Body(
        np.concatenate((some.places, others.places)),
        np.concatenate((some.dates, others.dates)),
        np.concatenate((some.loose, others.loose)),
        np.concatenate((some.seconds, others.seconds)),
        np.concatenate((some.offsets, others.offsets)),
        np.concatenate((some.values, others.values)),
        np.concatenate((some.units, others.units)),
        np.concatenate((some.codes, codes)),
        names,
    )
    return both.only(np.argsort(both.places, kind="stable"))
