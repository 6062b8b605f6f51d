"""Where the spread comes from: the meat, the day, the cooker, the taster."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

FEW = 3
"""A source with fewer levels is hardly known."""
LEAST = 6
"""Fewer readings are not split."""


@dataclass(frozen=True)
class Reading:
    """One value with where it comes from; `taster` is empty where it was not tasted."""

    value: float
    way: str
    piece: str
    cook: str
    cooker: str
    taster: str


@dataclass(frozen=True)
class Source:
    """A source of spread.

    `sd` is in the unit of the readings, 0 where they show none, None where they can't tell it
    from another; `share` of the whole variance, `levels` how many of it there were.
    """

    name: str
    sd: float | None
    share: float | None
    levels: int

    @property
    def known(self) -> bool:
        """Whether there were enough of it to say anything."""
        return self.sd is not None and self.levels >= FEW


@dataclass(frozen=True)
class Spread:
    """The sources, the largest first; `readings` of how many pieces and cooks."""

    sources: tuple[Source, ...]
    readings: int
    pieces: int
    cooks: int


@lru_cache(maxsize=32)
def spread_of(readings: tuple[Reading, ...]) -> Spread | None:
    """Return how much of the spread each source brings; kept while the readings stay.

    The ways compared are fixed effects; the sources are fitted by restricted likelihood. None
    with too few readings, or no spread.
    """
    if len(readings) < LEAST:
        return None
    import numpy as np

    from pitjournal.science.comparison.mixed import variance_components

    tasted = any(reading.taster for reading in readings)
    parts: dict[str, Sequence[str]] = {
        "days": [r.cook for r in readings],
        "cookers": [r.cooker for r in readings],
    }
    if tasted:
        parts = {"pieces of meat": [r.piece for r in readings], **parts}
        parts["tasters"] = [r.taster for r in readings]
    levels = {name: len(set(codes)) for name, codes in parts.items()}
    pieces = len({reading.piece for reading in readings})
    used = {name: codes for name, codes in parts.items() if levels[name] > 1}
    ways = sorted({reading.way for reading in readings})
    fixed = [[float(r.way == way) for way in ways[1:]] for r in readings] if ways[1:] else None
    fit = variance_components([r.value for r in readings], used, fixed)
    if fit is None:
        return None
    shares = fit.shares()
    found = [
        Source(
            name,
            None if (part := fit.components.get(name)) is None else float(np.sqrt(part)),
            shares.get(name),
            levels[name],
        )
        for name in parts
    ]
    left = "single judgements" if tasted else "pieces of meat"
    count = len(readings) if tasted else pieces
    found.append(Source(left, float(np.sqrt(fit.residual)), shares["residual"], count))
    found.sort(key=lambda source: -1.0 if source.sd is None else source.sd, reverse=True)
    return Spread(tuple(found), len(readings), pieces, levels["days"])
