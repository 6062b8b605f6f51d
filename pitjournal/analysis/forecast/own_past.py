"""The past cooks of a journal as a forecast needs them."""

from typing import TYPE_CHECKING

import numpy as np

from pitjournal.analysis.forecast.asked import FEWEST, PastCook
from pitjournal.analysis.forecast.by_feel import Right
from pitjournal.domain.cuts import same_cut
from pitjournal.science.times.leeway import MOST_RIGHT, MOST_UNDER

if TYPE_CHECKING:
    from pitjournal.analysis.trends.columns.frame import Frame

MOST = 16
"""So many of the newest say enough."""

LEVELS = {"to_60": 60.0, "to_71": 71.0, "to_90": 90.0}


def past_of(frame: "Frame", cut: str, cooker: str, skip: str) -> tuple[PastCook, ...]:
    """Return the newest past pieces of a cut, one a cook; of this cooker where three are.

    Parameters
    ----------
    frame
        All cooks.
    cut, cooker
        As written, and the cooker's name.
    skip
        The id of the cook under way.
    """
    alike = _alike(frame, cut)
    if skip in frame.cook_names:
        alike &= frame.cooks != frame.cook_names.index(skip)
    known = np.isfinite(frame.numbers("to_60")) | np.isfinite(frame.numbers("to_71"))
    alike &= (
        known & np.isfinite(frame.numbers("thickness")) & np.isfinite(frame.numbers("set_point"))
    )
    codes, names = frame.choices("cooker")
    mine = alike & np.isin(codes, [code for code, name in enumerate(names) if name == cooker])
    chosen = mine if np.unique(frame.cooks[mine]).size >= 3 else alike
    lines = np.flatnonzero(chosen)
    _, first = np.unique(frame.cooks[lines], return_index=True)
    days = frame.days("date")[lines[first]]
    newest = lines[first][np.argsort(days)][-MOST:]
    return tuple(_past_cook(frame, int(line)) for line in newest)


def usual_off(frame: "Frame", cut: str, skip: str) -> float | None:
    """Return the temperature, °C, at which one's own pieces of a cut usually come off.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    cut
        As it was written.
    skip
        The id of a cook that does not count.
    """
    alike = _alike(frame, cut)
    if skip in frame.cook_names:
        alike &= frame.cooks != frame.cook_names.index(skip)
    found = frame.numbers("internal_off")[alike]
    found = found[np.isfinite(found)]
    return float(np.median(found)) if found.size >= 3 else None


def right_by_feel(frame: "Frame", cut: str, skip: str) -> Right | None:
    """Return how warm one's own pieces of a cut were that felt right as they came off.

    Parameters
    ----------
    frame
        All cooks.
    cut
        As written.
    skip
        The id of the cook under way.
    """
    alike = _alike(frame, cut)
    if skip in frame.cook_names:
        alike &= frame.cooks != frame.cook_names.index(skip)
    feel, inside = frame.numbers("feel_off")[alike], frame.numbers("internal_off")[alike]
    found = inside[(feel > MOST_UNDER) & (feel <= MOST_RIGHT) & np.isfinite(inside)]
    if found.size < FEWEST:
        return None
    low, middle, high = (float(value) for value in np.quantile(found, (0.25, 0.5, 0.75)))
    return Right(low, middle, high, int(found.size))


def _alike(frame: "Frame", cut: str) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    codes, names = frame.choices("cut")
    found: np.ndarray[tuple[int, ...], np.dtype[np.bool_]] = np.isin(
        codes, [code for code, name in enumerate(names) if same_cut(name, cut)]
    )
    return found


def _past_cook(frame: "Frame", line: int) -> PastCook:
    def number(key: str) -> float | None:
        value = float(frame.numbers(key)[line])
        return value if np.isfinite(value) else None

    codes, names = frame.choices("wrap")
    wrap = names[codes[line]] if codes[line] >= 0 else ""
    wrapped = number("time_to_wrap")
    thickness, set_point = number("thickness"), number("set_point")
    assert thickness is not None
    assert set_point is not None
    marks = tuple(
        (level, at / 60.0) for key, level in LEVELS.items() if (at := number(key)) is not None
    )
    return PastCook(
        thickness,
        number("mass_on"),
        set_point,
        wrap or "none",
        None if wrapped is None else wrapped / 60.0,
        marks,
    )
