"""How long a step takes: by one's own past cooks where there are some, else the trade's range."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import TYPE_CHECKING

from pitjournal.analysis.trade_words import listed
from pitjournal.domain.cuts import same_cut, usual_of
from pitjournal.domain.cuts.meat import Range
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.event import Event, EventKind
from pitjournal.science.times.prediction import (
    LEAST,
    chance_within,
    chance_within_range,
    limit_for,
    limit_for_range,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pitjournal.analysis.trends.columns.frame import Frame

HOUR, MINUTE = 3600.0, 60.0

SAME_HEAT = 15 / 1.8
"""Set points no farther apart than 15 °F are the same heat, K."""

SAME_THICKNESS = 0.15
"""Thicknesses that differ by no more than this share are the same."""

HANDS: Mapping[str, float] = {
    StepKind.TRIM: 8 * MINUTE,
    StepKind.INJECT: 5 * MINUTE,
    StepKind.NEEDLE: 3 * MINUTE,
    StepKind.BLADE: 3 * MINUTE,
    StepKind.DRY_BRINE: 3 * MINUTE,
    StepKind.BRINE: 3 * MINUTE,
    StepKind.MARINATE: 3 * MINUTE,
    StepKind.RUB: 3 * MINUTE,
    EventKind.ON: 1 * MINUTE,
    EventKind.WRAP: 3 * MINUTE,
    EventKind.OFF: 1 * MINUTE,
    EventKind.SLICED: 4 * MINUTE,
    EventKind.PULLED: 5 * MINUTE,
}
"""How long a piece takes one pair of hands, s (common practice, no source)."""

BOX_STEPS: Mapping[str, float] = {
    EventKind.BOXED: 10 * MINUTE,
    StepKind.BOX_PHOTO: 5 * MINUTE,
    StepKind.WALK: 5 * MINUTE,
}
"""What is done with a box before it is turned in, and how long that takes, s.

Boxing takes 10 to 20 min with the walk (common practice, no source).
"""


def work_of(step: Event) -> float | None:
    """Return how long a step keeps one pair of hands, s; None where it needs none to speak of."""
    if step.kind in BOX_STEPS:
        return step.takes or BOX_STEPS[step.kind]
    if step.kind in HANDS:
        return HANDS[step.kind] * max(len(step.pieces), 1)
    return None


TRADE = "the trade's range, common practice, no source"


@dataclass(frozen=True)
class Span:
    """A length of time, s, with what it comes from.

    `values` holds one time a cook; none of them where the range is the trade's. `alike` says in
    which ways those cooks were like this one, `put` what of this piece they were reckoned over to.
    """

    low: float
    usual: float
    high: float
    values: tuple[float, ...] = ()
    alike: tuple[str, ...] = ()
    put: tuple[str, ...] = ()

    @property
    def own(self) -> bool:
        """Whether it comes from one's own cooks."""
        return bool(self.values)

    @property
    def words(self) -> str:
        """Where it comes from."""
        if not self.own:
            return TRADE
        put = f", reckoned for this {listed(self.put)}" if self.put else ""
        return f"from {len(self.values)} cooks of {' '.join(self.alike)}{put}"

    def chance(self, room: float) -> float:
        """Return the chance that it takes no longer than `room`, s."""
        found = chance_within(self.values, room)
        return chance_within_range(self.low, self.high, room) if found is None else found

    def within(self, chance: float) -> float:
        """Return the time it keeps to with this chance, s."""
        found = limit_for(self.values, chance)
        return limit_for_range(self.low, self.high, chance) if found is None else found


def trade(low: float, high: float) -> Span:
    """Return a range of the trade; its middle is the usual time."""
    return Span(low, (low + high) / 2, high)


@dataclass(frozen=True)
class Like:
    """What a planned piece is like: only past cooks of the same cut are looked at."""

    cut: str
    cooker: str = ""
    set_point: float | None = None
    thickness: float | None = None
    mass: float | None = None


_WAYS: tuple[tuple[str, ...], ...] = (
    ("cut", "cooker", "heat", "thickness"),
    ("cut", "cooker", "heat"),
    ("cut", "heat"),
    ("cut", "cooker"),
    ("cut",),
)
_WORDS = {
    "cut": "this cut",
    "cooker": "on this cooker",
    "heat": "near this heat",
    "thickness": "as thick",
}


def past_span(frame: "Frame", key: str, like: Like, skip: str = "") -> Span | None:
    """Return how long something took in the past cooks most like a planned piece.

    The narrowest likeness with three cooks or more counts. Pieces of one cook are one time,
    their median: a day is one day however many racks lay on it. How long it is on is reckoned
    over to the planned piece and heat, as the forecast does it (`put_to_piece`).

    Parameters
    ----------
    frame
        All cooks' values.
    key
        A duration of the catalogue, such as ``"time_on"``.
    like
        What is planned.
    skip
        The id of a cook that does not count: the planned one.

    Returns
    -------
    Span or None
        Its low and high are the least and the most of those cooks; None with fewer than three.
    """
    import numpy as np

    times = frame.numbers(key)
    codes, names = frame.choices("cut")
    fits = {"cut": np.isin(codes, [n for n, name in enumerate(names) if same_cut(name, like.cut)])}
    codes, names = frame.choices("cooker")
    fits["cooker"] = (codes == _code(names, like.cooker)) & bool(like.cooker)
    fits["heat"] = _near(frame, "set_point", like.set_point, SAME_HEAT)
    room = SAME_THICKNESS * (like.thickness or 0.0)
    fits["thickness"] = _near(frame, "thickness", like.thickness, room)
    known = np.isfinite(times) & (times > 0)
    if skip in frame.cook_names:
        known &= frame.cooks != frame.cook_names.index(skip)
    for way in _WAYS:
        chosen = known.copy()
        for part in way:
            chosen &= fits[part]
        found = one_a_cook(frame, times, chosen)
        if len(found) >= LEAST:
            put: tuple[str, ...] = ()
            if key == "time_on":
                found, put = _put(frame, found, chosen, like)
            words = tuple(_WORDS[part] for part in way)
            return Span(min(found), median(found), max(found), tuple(found), words, put)
    return None


def _put(
    frame: "Frame", times: list[float], chosen: "NDArray[np.bool_]", like: Like
) -> tuple[list[float], tuple[str, ...]]:
    """Return the times of cooks reckoned over to a planned piece, and by what they moved."""
    import numpy as np

    from pitjournal.analysis.plan.put_to_piece import put_to_piece

    with np.errstate(invalid="ignore"):
        columns = [one_a_cook(frame, frame.numbers(key), chosen) for key in _MEASURES]
    here = (like.thickness, like.mass, like.set_point)
    found, put = put_to_piece(np.array(times), np.array(columns).T, here)
    return [float(one) for one in found], put


_MEASURES = ("thickness", "mass_on", "set_point")
"""What a piece and its heat are, in the order of `put_to_piece`."""


def one_a_cook(
    frame: "Frame", values: "NDArray[np.float64]", chosen: "NDArray[np.bool_]"
) -> list[float]:
    """Return the median of the chosen values of each cook, shape (cooks,).

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    values
        Of each line, shape (n,).
    chosen
        Which lines count, shape (n,).
    """
    import numpy as np

    cooks = frame.cooks[chosen]
    return [float(np.median(values[chosen][cooks == cook])) for cook in np.unique(cooks)]


def _code(names: Sequence[str], wanted: str) -> int:
    folded = [name.casefold() for name in names]
    return folded.index(wanted.casefold()) if wanted.casefold() in folded else -2


def _near(frame: "Frame", key: str, wanted: float | None, room: float) -> "NDArray[np.bool_]":
    import numpy as np

    values = frame.numbers(key)
    if wanted is None:
        return np.zeros(values.shape, dtype=np.bool_)
    return np.abs(values - wanted) <= room


# the trade's ranges: common practice, no source

PREHEAT = trade(30 * MINUTE, 60 * MINUTE)


def trade_time_on(cut: str, mass: float | None) -> Span | None:
    """Return how long a cut is on by the trade; some go by their mass, g. None: not known."""
    usual = usual_of(cut, mass)
    return None if usual is None else _spanned(usual.time_on)


def trade_time_to_wrap(cut: str, time_on: float) -> Span | None:
    """Return when a cut is wrapped after going on; None where it usually is not."""
    usual = usual_of(cut)
    wrap = None if usual is None else usual.time_to_wrap(time_on)
    return None if wrap is None else _spanned(wrap)


def trade_rest(cut: str) -> Span:
    """Return how long a cut rests or is held after coming off."""
    usual = usual_of(cut)
    return trade(5 * MINUTE, 30 * MINUTE) if usual is None else _spanned(usual.rest)


def _spanned(found: Range) -> Span:
    return trade(found.low, found.high)
