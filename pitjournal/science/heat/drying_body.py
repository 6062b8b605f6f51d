"""A piece of meat that takes heat through a drying surface: many alike at once.

Heat inside follows Fourier's law in a body of which the area at the share r of the way from the
middle to the face grows as r to the power of its shape: 0 a wall, 1 a long cylinder, 2 a sphere,
between them everything else. It is solved in the modes of the body with closed faces, each carried
over a step exactly for a flow of heat that is linear in time, so that the scheme is of second order
and stable at any step; what the modes left out would add at the face is added as if it were steady.

The face takes heat from the pit by convection and radiation in one coefficient, and loses it by
evaporation: mass flow = wetness × (vapour pressure at the face − that of the pit), and the wetness
falls by half once a certain mass has evaporated from each square metre, gently or sharply. So a face
stays where the two balance, and warms when it has dried, which are the stall and its end.

Temperatures °C, lengths m, times s, pressures Pa.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import log
from typing import NamedTuple

import numpy as np

from pitjournal.science.arrays import Array

LATENT = 2.33e6
"""Heat of evaporation near 70 °C, J/kg (IAPWS-95: 2.333e6)."""

_TOP = 17.625 + log(610.94)
"""The logarithm of Magnus's form far above boiling, Pa: what its other term is taken from."""

MODES = 10
_CELLS = 240


def vapour_pressure_fast(celsius: Array) -> Array:
    """Return the vapour pressure of water, Pa, within 0.5 % from 0 to 100 °C.

    Magnus's form with the coefficients of Alduchov and Eskridge (1996), J. Appl. Meteor. 35,
    601-609, up to 50 °C, and fitted on to boiling by a small term of the second order.
    """
    t: Array = np.minimum(np.maximum(celsius, 0.0), 130.0)  # np.clip takes thrice as long
    return 610.94 * np.exp(17.625 * t / (t + 243.04) - 3.1e-6 * t * t)


@dataclass(frozen=True)
class Modes:
    """The modes of a body with closed faces.

    Attributes
    ----------
    shape
        The power by which the area grows outward, 0 to 2.
    decay
        How fast each mode decays in units of diffusivity ÷ (half thickness)², shape (m,).
    edge
        Each mode at the face, shape (m,).
    places, inside
        Shares of the way from the middle to the face, shape (p,), and the modes there, (p, m).
    rest, rest_inside
        What the modes left out add for a unit steady flow, in half thickness ÷ conductivity, at
        the face and at the places, shape (p,).
    """

    shape: float
    decay: Array
    edge: Array
    places: Array
    inside: Array
    rest: float
    rest_inside: Array


@lru_cache(maxsize=64)
def modes_of(shape: float, count: int = MODES) -> Modes:
    """Return the modes of a body, found on a fine grid.

    Parameters
    ----------
    shape
        0 a wall, 1 a long cylinder, 2 a sphere; any number between.
    count
        How many modes are kept.
    """
    faces = np.linspace(0.0, 1.0, _CELLS + 1)
    width = 1.0 / _CELLS
    volume = np.diff(faces ** (shape + 1.0))  # the whole is 1
    area = (shape + 1.0) * faces[1:-1] ** shape / width
    matrix = np.zeros((_CELLS, _CELLS))
    cells = np.arange(_CELLS - 1)
    matrix[cells, cells] += area
    matrix[cells + 1, cells + 1] += area
    matrix[cells, cells + 1] -= area
    matrix[cells + 1, cells] -= area
    root = np.sqrt(volume)
    decay, vectors = np.linalg.eigh(matrix / root[:, None] / root[None, :])
    shapes = vectors[:, :count] / root[:, None]
    middles = (faces[1:] + faces[:-1]) / 2.0
    # At the two ends the slope is nothing: a parabola through the last two cells.
    edge = shapes[-1] + (shapes[-1] - shapes[-2]) / 8.0
    first = shapes[0] - (shapes[1] - shapes[0]) / 8.0
    places = np.concatenate(([0.0], middles, [1.0]))
    inside = np.vstack((first, shapes, edge))
    # Steady flow into a closed body, by hand: share² ÷ 2, less its mean.
    steady = places**2 / 2.0 - (shape + 1.0) / (2.0 * (shape + 3.0))
    known = (shape + 1.0) * inside[:, 1:] @ (edge[1:] / decay[1:count])
    rest = steady - known
    decay = np.maximum(decay[:count], 0.0)
    decay[0] = 0.0
    return Modes(shape, decay, edge, places, inside, float(rest[-1]), rest)


class Bodies(NamedTuple):
    """Many bodies of one shape; each field of shape (b,).

    half
        Half thickness, m.
    conductivity
        W/(m K).
    store
        Density × specific heat, J/(m³ K).
    heating
        Coefficient of convection and radiation, W/(m² K).
    wetness
        Evaporation from a wet face, kg/(s m² Pa).
    dried
        What has evaporated when the wetness has fallen by half, kg/m².
    sharpness
        How sharply it falls there: the power of loss ÷ dried.
    """

    half: Array
    conductivity: Array
    store: Array
    heating: Array
    wetness: Array
    dried: Array
    sharpness: Array


class State(NamedTuple):
    """Where many bodies are: modes (b, m), flow W/m², face °C and loss kg/m², each (b,)."""

    modes: Array
    flow: Array
    face: Array
    loss: Array


class TimeStep(NamedTuple):
    """What bodies of one shape need for a step of one length, worked out once."""

    seconds: float | Array
    kept: Array
    before: Array
    after: Array
    edge_before: Array
    yielding: Array


def uniform(
    bodies: Bodies, modes: Modes, celsius: Array, pit: float | Array, vapour: float | Array
) -> State:
    """Return bodies at one temperature each, shape (b,), all through, the moment they go on."""
    count = bodies.half.size
    start = np.zeros((count, modes.decay.size))
    start[:, 0] = celsius
    yielding = modes.rest * bodies.half / bodies.conductivity
    face = _face(
        start[:, 0],
        yielding,
        start[:, 0],
        heating=bodies.heating,
        opened=bodies.wetness,
        pit=pit,
        vapour=vapour,
    )
    return State(start, (face - start[:, 0]) / yielding, face, np.zeros(count))


def _face(
    ahead: Array,
    yielding: Array,
    guess: Array,
    *,
    heating: Array,
    opened: Array,
    pit: float | Array,
    vapour: float | Array,
) -> Array:
    """Return the face's temperature, °C, at which the heat that comes is the heat that goes.

    The face is at `ahead` + `yielding` × flow, and the flow falls steadily as it warms, so
    that Newton's steps end.
    """
    face = guess
    cooling = LATENT * opened
    firm = 1.0 / yielding + heating
    driven = ahead / yielding + heating * pit + cooling * vapour
    for _ in range(3):
        # `vapour_pressure_fast` and its slope written out: half of a forecast's time is spent here.
        beyond = face + 243.04
        inverse = (17.625 * 243.04) / beyond
        cooled = cooling * np.exp(_TOP - inverse - 3.1e-6 * face * face)
        face = face - (firm * face - driven + cooled) / (firm + cooled * inverse / beyond)
        face = np.minimum(np.maximum(face, -30.0), 130.0)
    return face


def step_of(bodies: Bodies, modes: Modes, seconds: float | Array) -> TimeStep:
    """Return what a step needs: one length for all, or one for each body, shape (b,)."""
    pace = bodies.conductivity / bodies.store / bodies.half**2
    x = np.multiply.outer(pace * seconds, modes.decay)
    small = x < 1e-6
    safe = np.where(small, 1.0, x)
    gone = -np.expm1(-safe) / safe
    late = np.where(small, 0.5 - x / 6.0, (1.0 - gone) / safe)
    whole = np.where(small, 1.0 - x / 2.0, gone)
    gain = np.multiply.outer(
        seconds * (modes.shape + 1.0) / (bodies.store * bodies.half), modes.edge
    )
    before, after = gain * (whole - late), gain * late
    stiff = after @ modes.edge + modes.rest * bodies.half / bodies.conductivity
    return TimeStep(seconds, np.exp(-x), before, after, before @ modes.edge, stiff)


def advance(
    bodies: Bodies,
    modes: Modes,
    step: TimeStep,
    state: State,
    *,
    pit: float | Array,
    vapour: float | Array,
    heating: Array,
    wetness: Array,
) -> State:
    """Return the bodies a step later.

    Parameters
    ----------
    bodies, modes, step
        The bodies, and what they need for a step.
    state
        Where they are.
    pit
        The pit at the end of the step, °C, one for all or shape (b,).
    vapour
        Vapour pressure in the pit, Pa.
    heating, wetness
        Those of `bodies` as a wrap leaves them, shape (b,).
    """
    carried = state.modes * step.kept + step.before * state.flow[:, None]
    ahead = carried @ modes.edge
    spent = np.maximum(state.loss, 1e-9) / bodies.dried
    opened = wetness / (1.0 + np.minimum(spent**bodies.sharpness, 1e12))
    face = _face(
        ahead, step.yielding, state.face, heating=heating, opened=opened, pit=pit, vapour=vapour
    )
    flow = (face - ahead) / step.yielding
    evaporated = opened * np.maximum(vapour_pressure_fast(face) - vapour, 0.0)
    return State(
        carried + step.after * flow[:, None], flow, face, state.loss + evaporated * step.seconds
    )


def at(bodies: Bodies, modes: Modes, states: Sequence[State], places: Array) -> Array:
    """Return each body's temperature at its own place in each state, °C, shape (states, b).

    Parameters
    ----------
    bodies, modes
        The bodies.
    states
        Where they are, moment after moment.
    places
        Shares of the way out from the middle, shape (b,).
    """
    position = np.minimum(np.maximum(places, 0.0), 1.0) * _CELLS + 0.5
    low = np.minimum(position.astype(np.int64), _CELLS)
    share = position - low
    here = modes.inside[low] * (1.0 - share)[:, None] + modes.inside[low + 1] * share[:, None]
    rest = modes.rest_inside[low] * (1.0 - share) + modes.rest_inside[low + 1] * share
    found: Array = np.einsum("tbm,bm->tb", np.array([state.modes for state in states]), here)
    flows = np.array([state.flow for state in states])
    found += rest * flows * bodies.half / bodies.conductivity
    return found


def centre(bodies: Bodies, modes: Modes, state: State) -> Array:
    """Return each body's temperature in the middle, °C, shape (b,)."""
    rest = modes.rest_inside[0] * state.flow * bodies.half / bodies.conductivity
    found: Array = state.modes @ modes.inside[0] + rest
    return found


def mean(state: State) -> Array:
    """Return each body's mean temperature, °C, shape (b,)."""
    found: Array = state.modes[:, 0]
    return found
