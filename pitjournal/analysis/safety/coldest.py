"""What is known of the coldest point of a piece: every probe in it, and what the hand found."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from pitjournal.analysis.traces.believable import NO_MEAT_ABOVE
from pitjournal.analysis.traces.doubted import Sifted, from_on, sift
from pitjournal.analysis.traces.features import LONGEST_GAP, Array, known
from pitjournal.analysis.traces.readings import Readings, samples_of
from pitjournal.domain.cuts.places import outside
from pitjournal.domain.event import CUT_UP, DonenessCheck, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.arrays import runs_of
from pitjournal.science.heat.lethality import Enough
from pitjournal.units.figures import figure

LOG_ENOUGH = Enough(readings=3, over=60.0, sparse=180.0)
"""A trace shows a hold by three readings in a row over a minute, or two over three minutes."""

JUST_OFF = 900.0
"""What is probed by hand this long after coming off still says how it came off, s."""

A_REST, LONGEST_REST = 3600.0, 6 * 3600.0
"""A piece rests for an hour, or until it is cut, s; a longer rest than six hours is none."""

NO_PIT = "no probe in the pit's air, and none by hand at the end, to tell air from meat by"

AGREES = 5.0
"""A probe and the hand read the same meat where they differ by no more, K (common practice)."""

AT_THE_END = LONGEST_GAP
"""What was measured no longer than this before coming off was measured last, s."""

MOST_ADDED = 5.0
"""A probe is corrected by no more, K: one that is further out is broken (common practice)."""

TOO_MUCH = "so much is a slip or a broken probe, so check it in ice water"

FEWEST_OF_PIT, MOST_OF_IT = 7, 0.5
"""Readings, and share of the time on, that a pit's log needs to be of use."""


@dataclass(frozen=True, eq=False)
class Log:
    """A probe's readings from on to off, and what of them shows a hold.

    Attributes
    ----------
    times, values
        All, s since 1970 rising and °C, shape (n,).
    sure_times, sure_values
        What can be the meat, shape (m,).
    cold_values
        The same, lowered by as much as the hand found colder, shape (m,).
    why
        Why none of it may be the meat, in a cook's words; empty where it may.
    trace_id
        Whose readings these are.
    borne_out
        Whether a probe in the pit's air, or the hand, tells that it was no air: no curve alone
        does, as air that warms slowly can look like meat.
    corrected
        How much was added to what it read, in words; empty where nothing was.
    """

    times: Array
    values: Array
    sure_times: Array
    sure_values: Array
    cold_values: Array
    why: str = ""
    trace_id: str = ""
    borne_out: bool = False
    corrected: str = ""


class Logs:
    """What the probes of a cook read; each stretch of a channel is sifted once."""

    def __init__(self, whole: WholeCook, readings: Readings) -> None:
        """Begin with nothing read.

        Parameters
        ----------
        whole
            The cook, with all its records.
        readings
            Gives a trace's samples: °C over s since 1970.
        """
        self.whole = whole
        self._readings = readings
        self._kept: dict[tuple[str, int], Log] = {}

    def of(self, piece: Piece, end: float | None) -> list[Log | None]:
        """Return what each probe in a piece read from on to `end`; None for one that is damaged.

        Parameters
        ----------
        piece
            One of the cook's pieces.
        end
            s since 1970; None for all there is.
        """
        found: list[Log | None] = []
        for trace in self.whole.traces:
            if trace.piece_id != piece.id or trace.sits is not Sits.MEAT:
                continue
            samples = samples_of(trace, self._readings)
            if samples is None:
                found.append(None)
                continue
            every = from_on(self.whole, piece, samples, end)
            if every[0].size:
                found.append(self._log(piece, trace, every))
        return found

    def _log(self, piece: Piece, trace: Trace, every: tuple[Array, Array]) -> Log:
        key = trace.id, every[0].size  # all begin as the piece went on: the end alone differs
        if key not in self._kept:
            found = sift(self.whole, self._readings, piece, every)
            sure = found.sure_times, found.sure_values
            added = _added(trace, float(every[1].max()))
            words = _added_words(added)
            slip = f"{words}: {TOO_MUCH}" if abs(added) > MOST_ADDED else ""
            why = found.why or not_the_middle(trace.place) or slip
            if why:
                sure = sure[0][:0], sure[1][:0]
            lowered = _lowered(*sure, checks_of(self.whole, piece, LONGEST_REST))
            borne_out = self._pit_beside(piece) or _hand_agrees(self.whole, piece, found)
            self._kept[key] = Log(*every, *sure, lowered, why, trace.id, borne_out, words)
        return self._kept[key]

    def _pit_beside(self, piece: Piece) -> bool:
        """Whether the pit's air was read for most of the time that a piece was on."""
        on = self.whole.moment_of(EventKind.ON, piece)
        off = self.whole.moment_of(EventKind.OFF, piece, last=True)
        for trace in self.whole.traces:
            samples = samples_of(trace, self._readings) if trace.sits is Sits.PIT else None
            if samples is None:
                continue
            times, _ = known(samples)
            inside = times[(times >= (on or -np.inf)) & (times <= (off or np.inf))]
            if inside.size >= FEWEST_OF_PIT and (
                on is None or off is None or np.ptp(inside) >= MOST_OF_IT * max(off - on, 0.0)
            ):
                return True
        return False


def _added(trace: Trace, level: float) -> float:
    """Return what was added to a reading that became `level`, K."""
    return level - (level - trace.correction) / (1.0 + trace.correction_slope)


def _added_words(added: float) -> str:
    if abs(added) < 0.05:
        return ""
    return f"with {figure(added * 1.8, 1, signed=True)} °F ({figure(added, 1, signed=True)} K) of correction"


def _hand_agrees(whole: WholeCook, piece: Piece, log: Sifted) -> bool:
    """Whether a reading by hand at the end was what the probe read then."""
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    end = min(log.times[-1], log.times[-1] if off is None else off)
    return any(
        check.internal is not None
        and not outside(check.point)
        and check.at.timestamp() >= end - AT_THE_END
        and log.times[0] <= check.at.timestamp() <= log.times[-1] + JUST_OFF
        and abs(float(np.interp(check.at.timestamp(), log.times, log.values)) - check.internal)
        <= AGREES
        for check in checks_of(whole, piece, JUST_OFF)
    )


def may_have_held(
    times: Array, values: Array, level: float, hold: float, end: float | None = None
) -> bool:
    """Whether readings leave room for a hold that they do not show, by one hot reading perhaps.

    Parameters
    ----------
    times, values
        s since 1970 rising and °C, shape (n,).
    level
        °C.
    hold
        s.
    end
        When what is not read any more ended, s since 1970.

    Returns
    -------
    bool
        From the last colder reading before a stretch to the first after it there was time enough.
    """
    above = values >= level - 1e-3
    if not above.any():
        return False
    edges = runs_of(above)
    last = max(times[-1], end or times[-1])
    since = np.append(times[:1], times)[edges[:, 0]]
    until = np.append(times, last)[edges[:, 1]]
    return bool((until - since >= hold).any())


def checks_of(whole: WholeCook, piece: Piece, after: float) -> list[DonenessCheck]:
    """Return the readings by hand from on to so many seconds after off, in time order.

    What is above boiling is no reading of meat.

    Parameters
    ----------
    whole
        The cook, with all its records.
    piece
        One of its pieces.
    after
        s after coming off.
    """
    on = whole.moment_of(EventKind.ON, piece)
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    end = float("inf") if off is None else min(off + after, _cut_at(whole, piece, off))
    return sorted(
        (
            check
            for check in whole.checks_of(piece)
            if check.internal is not None
            and check.internal <= NO_MEAT_ABOVE
            and (on is None or check.at.timestamp() >= on)
            and check.at.timestamp() <= end
        ),
        key=lambda check: check.at,
    )


def rest_of(whole: WholeCook, piece: Piece) -> float:
    """Return how long a piece rests, s: until it is cut, or an hour."""
    off = whole.moment_of(EventKind.OFF, piece, last=True)
    cut = float("inf") if off is None else _cut_at(whole, piece, off)
    return A_REST if off is None or cut == float("inf") else min(cut - off, LONGEST_REST)


def _cut_at(whole: WholeCook, piece: Piece, off: float) -> float:
    ends = [whole.moment_of(kind, piece) for kind in CUT_UP]
    return min((at for at in ends if at is not None and at >= off), default=float("inf"))


def not_the_middle(place: str) -> str:
    """Return why what was read at a place is not that of the middle; empty where it may be."""
    return f"at “{place.strip()}”, which is not the middle" if outside(place) else ""


def point_of(check: DonenessCheck) -> str:
    """Return the point that was probed, in small letters; empty where it is not named."""
    return check.point.strip().casefold()


def _lowered(times: Array, values: Array, checks: Sequence[DonenessCheck]) -> Array:
    """Return readings lowered by how much colder each point was when it was probed by hand.

    Between two probings of a point the difference lies on a straight line; before the first and
    after the last it stays.
    """
    if not times.size:
        return values
    lowest = np.zeros(times.size)
    points = dict.fromkeys(point_of(check) for check in checks)
    for point in points:
        here = [(c.at.timestamp(), c.internal) for c in checks if point_of(c) == point]
        at = np.array([moment for moment, _ in here])
        colder = np.interp(at, times, values) - np.array([level for _, level in here])
        near = (at >= times[0] - LONGEST_GAP) & (at <= times[-1] + LONGEST_GAP)
        if near.any():
            lowest = np.maximum(lowest, np.interp(times, at[near], np.maximum(colder[near], 0.0)))
    return np.asarray(values - lowest)
