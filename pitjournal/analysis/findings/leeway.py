"""How long, and over how many degrees, each piece stayed right: bounds first, as facts."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import TYPE_CHECKING

from pitjournal.analysis.felt import AXES, JUST_OFF, off_moment, window_of
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import Feel, feel_of
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook

if TYPE_CHECKING:
    from pitjournal.science.times.leeway import Window

NOT_PAST = "not known from this cook: leave one on past right"
NOT_BEFORE = "not known from this cook: probe earlier, the first feel was right already"
NOT_FELT = "no feel was recorded"
NOT_HELD = "no piece was felt in the box"
UNSEEN = "passed right between two checks: probe more often"


@dataclass(frozen=True)
class PieceWindow:
    """One piece's checks by feel along an axis; None: no such check.

    Time is s since the first check of the cook, temperature °C inside, hold s since it came off.
    `off_right` says that it came off while right, so that its end was not seen; `consistent`
    that the feels ran under, right, over and did not turn back.
    """

    axis: str
    piece_id: str
    label: str
    look: int | None
    last_under: float | None
    first_right: float | None
    last_right: float | None
    first_over: float | None
    at_least: float | None
    at_most: float | None
    off_right: bool
    consistent: bool = True


@dataclass(frozen=True)
class ArmLeeway:
    """One arm on one axis: "time" and "hold" in s, "temperature" in K.

    `least` and `most` are the bounds of its pieces, `at_least` and `at_most` their medians.
    `known` says that some piece was seen past right, from before it was.
    """

    arm_id: str
    arm: str
    look: int
    axis: str
    pieces: int
    at_least: float | None
    at_most: float | None
    least: tuple[float, ...]
    most: tuple[float, ...]
    known: bool
    reason: str


@dataclass(frozen=True)
class Stay:
    """How long, or over how many degrees, one piece stayed right: more than `least`, up to `most`.

    s, or K on the temperature axis; `most` None where its end was not seen. `arm` is its place
    among the ways compared.
    """

    cook_id: str
    arm: int
    least: float
    most: float | None


Windows = Mapping[tuple[str, str], "Window | None"]
"""A piece's bounds by axis and piece id."""


def windows_of(whole: WholeCook) -> Windows:
    """Return the bounds of every piece on every axis, to be read by all that asks."""
    return {
        (axis, piece.id): window_of(whole, piece, axis) for axis in AXES for piece in whole.pieces
    }


def piece_windows(whole: WholeCook, windows: Windows | None = None) -> tuple[PieceWindow, ...]:
    """Return the bounds of each piece that was felt, on each axis it was felt on."""
    felt = [check.at.timestamp() for check in whole.checks if check.feel is not None]
    if not felt:
        return ()
    start = min(felt)
    known = windows_of(whole) if windows is None else windows
    found = []
    for axis in AXES:
        for piece in whole.pieces:
            seen = known[axis, piece.id]
            if seen is None:
                continue
            zero = start if axis == "time" else 0.0
            found.append(
                PieceWindow(
                    axis,
                    piece.id,
                    piece.label,
                    whole.arm_index(piece.arm_id),
                    _since(zero, seen.last_under),
                    _since(zero, seen.first_right),
                    _since(zero, seen.last_right),
                    _since(zero, seen.first_over),
                    seen.at_least,
                    seen.at_most,
                    _open(whole, piece, axis),
                    seen.consistent,
                )
            )
    return tuple(found)


def _since(zero: float, place: float | None) -> float | None:
    return None if place is None else place - zero


def _open(whole: WholeCook, piece: Piece, axis: str) -> bool:
    """Whether the end of a piece's stay was not seen: it came off, or was eaten, while right."""
    off = off_moment(whole, piece)
    if off is None:
        return False
    felt = [c for c in whole.checks_of(piece) if c.feel is not None]
    before = [c for c in felt if axis == "hold" or c.at.timestamp() <= off + JUST_OFF]
    return bool(before) and feel_of(before[-1].feel or 0) is Feel.RIGHT


def leeways(whole: WholeCook, windows: Windows | None = None) -> tuple[ArmLeeway, ...]:
    """Return every arm's leeway in time, in degrees and in the box."""
    known = windows_of(whole) if windows is None else windows
    found = []
    for arm in whole.ordered_arms:
        found += [_on(whole, arm, axis, known) for axis in AXES]
    return tuple(found)


def _on(whole: WholeCook, arm: Arm, axis: str, felt: Windows) -> ArmLeeway:
    windows = [w for piece in whole.pieces_of(arm) if (w := felt[axis, piece.id]) is not None]
    entered = [w for w in windows if w.at_least is not None]
    least = tuple(w.at_least for w in entered if w.at_least is not None)
    most = tuple(w.at_most for w in windows if w.at_most is not None)
    known = bool(most)
    reason = ""
    if not windows:
        reason = NOT_HELD if axis == "hold" else NOT_FELT
    elif not entered and most:
        reason = UNSEEN
    elif not known:
        past = [w.first_over is not None for w in windows]
        reason = NOT_BEFORE if any(past) else NOT_PAST
    return ArmLeeway(
        arm.id,
        arm.name,
        whole.arm_index(arm.id) or 0,
        axis,
        len(windows),
        median(least) if least else None,
        median(most) if most and len(most) == len(windows) else None,
        least,
        most,
        known,
        reason,
    )


def stays_in(whole: WholeCook, arms: Sequence[Arm], cuts: frozenset[str], axis: str) -> list[Stay]:
    """Return the stays of a cook's pieces of some cuts, arm by arm in the order given.

    Parameters
    ----------
    whole
        The cook, with all its records.
    arms
        Ids of the arms.
    cuts
        Cuts as they are told from each other (`like.cut_key`).
    axis
        Of the check: "time" or "internal".
    """
    from pitjournal.science.times.leeway import leeway_interval

    found = []
    for place, arm in enumerate(arms):
        for piece in whole.pieces_of(arm):
            seen = window_of(whole, piece, axis) if piece.cut in cuts else None
            bounds = None if seen is None else leeway_interval(seen)
            if bounds is not None and bounds[1] > 0:
                most = bounds[1] if math.isfinite(bounds[1]) else None
                found.append(Stay(whole.cook.id, place, bounds[0], most))
    return found


def span(values: Sequence[float]) -> tuple[float, float] | None:
    """Return the least and the most of some values."""
    return (min(values), max(values)) if values else None
