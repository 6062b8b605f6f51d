"""Why a channel of a cook may not be the middle of its piece."""

from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.traces.believable import believable
from pitjournal.analysis.traces.doubt import ELSEWHERE, Body, doubt, was_elsewhere
from pitjournal.analysis.traces.features import Array, known
from pitjournal.analysis.traces.readings import Readings, samples_of
from pitjournal.analysis.traces.slipped import BOILED, boiled, boils_at
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.event import EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits
from pitjournal.domain.whole_cook import WholeCook

THINNER = 0.7
"""A piece may be thinner than it was measured or the trade has it, and the probe lie aside."""

_LEAN = 0.35
"""What of a whole animal's thickness its meat is: the rest is hollow (common practice)."""


@dataclass(frozen=True, eq=False)
class Sifted:
    """A channel from when its piece went on to an end, and what of it can be the meat.

    Attributes
    ----------
    times, values
        All, s since 1970 rising and °C, shape (n,).
    sure_times, sure_values
        What is left without its leaps, shape (m,).
    why
        Why none of it may be the middle of its piece, in a cook's words; empty where it may.
    """

    times: Array
    values: Array
    sure_times: Array
    sure_values: Array
    why: str


def sifted(
    whole: WholeCook, readings: Readings, piece: Piece, samples: Samples, end: float | None
) -> Sifted:
    """Return a channel of a piece from on to an end (s since 1970; None for all), and its doubt.

    Parameters
    ----------
    whole, readings, piece
        The cook, its traces' readings, and the piece.
    samples
        Of a channel in that piece.
    end
        s since 1970.
    """
    return sift(whole, readings, piece, from_on(whole, piece, samples, end))


def from_on(
    whole: WholeCook, piece: Piece, samples: Samples, end: float | None
) -> tuple[Array, Array]:
    """Return a channel's readings from its piece's going on to an end, s rising and °C.

    Parameters
    ----------
    whole, piece
        The cook, and the piece.
    samples
        Of a channel in that piece.
    end
        s since 1970; None for all.
    """
    on = whole.moment_of(EventKind.ON, piece)
    times, values = known(samples)
    here = (times >= (-np.inf if on is None else on)) & (times <= (np.inf if end is None else end))
    return times[here], values[here]


def sift(whole: WholeCook, readings: Readings, piece: Piece, every: tuple[Array, Array]) -> Sifted:
    """Return what of a channel can be the meat, and why it may not be.

    Parameters
    ----------
    whole, readings, piece
        The cook, its traces' readings, and the piece.
    every
        The channel from going on, s since 1970 rising and °C, each of shape (n,).
    """
    sure = believable(*every)
    why = doubt_of(whole, readings, piece, every, sure) if every[0].size else ""
    return Sifted(*every, *sure, why)


def doubt_of(
    whole: WholeCook,
    readings: Readings,
    piece: Piece,
    every: tuple[Array, Array],
    sure: tuple[Array, Array],
) -> str:
    """Return why a channel may not be the middle of its piece while that is on; empty where none.

    Parameters
    ----------
    whole, readings, piece
        The cook, its traces' readings, and the piece.
    every
        The channel, s since 1970 rising and °C, each of shape (n,).
    sure
        What is left of it without its leaps.
    """
    times, values = sure
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    end = np.inf if off is None else off
    until = every[0] <= end
    if boiled(every[0][until], every[1][until], boils_at(whole.cook.altitude)):
        return BOILED
    cooking = times <= end
    pits = [samples_of(t, readings) for t in whole.traces if t.sits is Sits.PIT]
    airs = [None if pit is None else known(pit) for pit in pits] or [None]
    found = (doubt(times[cooking], values[cooking], air, body_of(piece), on) for air in airs)
    why = next((why for why in found if why), "")
    if why or not times.size:
        return why
    here = every[0] >= (-np.inf if on is None else on)
    away = was_elsewhere(every[0][here], every[1][here], float(times[0]))
    return ELSEWHERE if away else ""


def body_of(piece: Piece) -> Body | None:
    """Return the least that a piece can be; None where its cut is not known.

    As it was measured, or the thinnest of its cut in the trade, and a third less.
    """
    cuts = meat_of(piece.cut).cuts
    if not cuts:
        return None
    measured = [t for t in (piece.thickness_1, piece.thickness_2, piece.thickness_3) if t]
    thinnest = min(
        (_LEAN if cut.shape.startswith("whole") else 1.0) * cut.thickness.low for cut in cuts
    )
    most = max(cut.thickness.high for cut in cuts)
    least = min([*measured, most]) if measured else thinnest
    return Body(THINNER * least / 2.0, round=any(cut.shape != "slab" for cut in cuts))
