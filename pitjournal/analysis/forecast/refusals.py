"""When there is nothing to go by: said in a line, instead of a time nobody should trust."""

import numpy as np
from numpy.typing import NDArray

from pitjournal.analysis.forecast.asked import Trace
from pitjournal.analysis.forecast.pit import SETTLING
from pitjournal.analysis.traces.features import STALL_LOW
from pitjournal.science.arrays import Array

SHORTEST = 600.0
"""Ten minutes of readings are the least."""

REACHED = "reached"

LEAP, LEAP_WITHIN = 12.0, 180.0
"""°C that no middle of a piece moves by in so many seconds."""

STILL = 3600.0
"""So long, s, a probe in warming meat does not stand still below `features.STALL_LOW`."""


def refusal(trace: Trace, target: float, pit_ahead: float) -> str:
    """Return why a target cannot be forecast from a trace; empty where it can.

    Parameters
    ----------
    trace
        From on to now.
    target, pit_ahead
        °C.
    """
    return next((why for why in _reasons(trace, target, pit_ahead) if why), "")


def _reasons(trace: Trace, target: float, pit_ahead: float) -> tuple[str, ...]:
    span = float(trace.seconds[-1] - trace.seconds[0]) if trace.seconds.size else 0.0
    if span < SHORTEST or trace.seconds.size < 5:
        return ("under ten minutes of readings",)
    if wrong := _misplaced(trace):
        return (wrong,)
    now = _level(trace.meat)
    if float(np.max(trace.meat)) >= target and now >= target - 3.0:
        return (_leapt(trace, target), REACHED)
    return (
        _frozen(trace),
        _falling(trace),
        _fire_out(trace, target, pit_ahead),
        _stuck(trace),
    )


def _level(values: Array) -> float:
    return float(np.median(values[-5:]))


def _frozen(trace: Trace) -> str:
    early = trace.meat[trace.seconds <= trace.seconds[0] + 1800.0]
    if float(np.median(early[:5])) < -0.5 or float(np.min(early)) < -2.0:
        return "the core is frozen: thawing is not in the model"
    return ""


def _misplaced(trace: Trace) -> str:
    """Say where the probe cannot be in the middle of a piece."""
    start = float(np.median(trace.meat[:5]))
    if start > 50.0:
        return "the probe starts above 50 °C: it is not in raw meat"
    later = trace.seconds >= trace.seconds[0] + 300.0
    apart = np.abs(trace.meat[later] - trace.pit[later])
    if apart.size and float(np.median(apart)) < 4.0 and float(np.median(trace.pit)) > 70.0:
        return "the probe reads what the pit does: it is not in the meat"
    if trace.meat.size > 20 and np.sum(_leaps(trace)) >= 2:
        return "the probe jumps: it came out or was put elsewhere"
    return ""


def _leaps(trace: Trace) -> NDArray[np.bool_]:
    """Return where a reading lies so far from the one just before that no meat could, shape (n−1,)."""
    pace = np.diff(trace.seconds)
    found: NDArray[np.bool_] = (
        (np.abs(np.diff(trace.meat)) > LEAP) & (pace > 0) & (pace <= LEAP_WITHIN)
    )
    return found


def _leapt(trace: Trace, target: float) -> str:
    """Say where a target was passed in a leap, and not by meat that warmed."""
    first = int(np.argmax(trace.meat >= target))
    if first and _leaps(trace)[first - 1]:
        return "the probe leapt past the target: it may have come out of the meat"
    return ""


def _stuck(trace: Trace) -> str:
    """Say where a probe has stood still for too long, below where meat stalls.

    Deep in a large piece nothing moves for the first hour or two: there it has to have risen, or
    to have stood for long.
    """
    recent = trace.meat[trace.seconds >= trace.seconds[-1] - STILL]
    lasted = float(trace.seconds[-1] - trace.seconds[0])
    risen = _level(trace.meat) - float(np.median(trace.meat[:5]))
    if lasted < STILL or float(np.ptp(recent)) >= 0.5 or _level(trace.meat) >= STALL_LOW:
        return ""
    if risen > 5.0 or lasted >= 3.0 * STILL:
        return "the probe has not moved for an hour: it may be broken, or not in the meat"
    return ""


def _falling(trace: Trace) -> str:
    """Say where the meat has cooled over the last while: a rest, or a probe that slipped."""
    recent = trace.seconds >= trace.seconds[-1] - 1200.0
    times, values = trace.seconds[recent], trace.meat[recent]
    if times.size < 4:
        return ""
    slope = float(np.polyfit(times - times[0], values, 1)[0])
    if slope * 1200.0 < -1.5 and float(np.max(trace.meat)) - _level(trace.meat) > 1.0:
        return "the meat is cooling: it is off the fire, or the probe has slipped"
    return ""


def _fire_out(trace: Trace, target: float, pit_ahead: float) -> str:
    settled = trace.pit[trace.seconds >= trace.seconds[0] + SETTLING]
    recent = trace.pit[trace.seconds >= trace.seconds[-1] - 1800.0]
    if settled.size >= 10:
        usual = float(np.median(settled))
        latest = float(np.median(recent[-max(3, recent.size // 3) :]))
        earlier = float(np.median(recent[: max(3, recent.size // 3)]))
        if latest < usual - 30.0 and latest < earlier - 5.0:
            return "the pit is falling far below what it was: the fire may be out"
    if pit_ahead < target + 2.0:
        return "the pit is no hotter than the target: it would never get there"
    return ""
