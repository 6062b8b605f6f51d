"""Heat in a body against the exact series, and the balance of what goes in and out."""

import csv
import math
from pathlib import Path

import numpy as np
import pytest

from pitjournal.science.heat import conduction
from pitjournal.science.heat.conduction import Shape
from pitjournal.science.heat.drying_body import (
    LATENT,
    Bodies,
    Modes,
    State,
    advance,
    at,
    centre,
    mean,
    modes_of,
    step_of,
    uniform,
    vapour_pressure_fast,
)

DATA = Path(__file__).parent / "data"
HALF, CONDUCTIVITY, STORE = 0.03, 0.48, 3.5e6
PIT, COLD = 110.0, 5.0


def _body(biot: float, wetness: float = 0.0) -> Bodies:
    numbers = (HALF, CONDUCTIVITY, STORE, biot * CONDUCTIVITY / HALF, wetness, 5.0, 4.0)
    return Bodies(*(np.array([number]) for number in numbers))


def _run(bodies: Bodies, modes: Modes, fourier: float, steps: int) -> State:
    seconds = fourier * HALF**2 / (CONDUCTIVITY / STORE) / steps
    step = step_of(bodies, modes, seconds)
    state = uniform(bodies, modes, np.array([COLD]), PIT, 3000.0)
    for _ in range(steps):
        state = advance(
            bodies,
            modes,
            step,
            state,
            pit=PIT,
            vapour=3000.0,
            heating=bodies.heating,
            wetness=bodies.wetness,
        )
    return state


def _series(biot: float, fourier: float, shape: Shape) -> float:
    roots = [conduction.root(number, biot, shape) for number in range(1, 9)]
    theta = sum(conduction.coefficient(z, shape) * math.exp(-(z**2) * fourier) for z in roots)
    return PIT + theta * (COLD - PIT)


@pytest.mark.parametrize(("power", "shape"), [(0.0, "wall"), (1.0, "cylinder"), (2.0, "sphere")])
@pytest.mark.parametrize("biot", [0.5, 1.0, 5.0, 20.0])
@pytest.mark.parametrize("fourier", [0.2, 0.5, 1.0])
def test_that_the_middle_follows_the_exact_series(
    power: float, shape: Shape, biot: float, fourier: float
) -> None:
    # The series of Carslaw and Jaeger (1959), Conduction of Heat in Solids, chapters 3, 7 and 9,
    # whose roots and coefficients are checked against handbook tables in test_heat.py.
    bodies, modes = _body(biot), modes_of(power)
    found = float(centre(bodies, modes, _run(bodies, modes, fourier, 200))[0])
    assert found == pytest.approx(_series(biot, fourier, shape), abs=0.1)


@pytest.mark.parametrize(("power", "shape"), [(0.0, "wall"), (1.0, "cylinder"), (2.0, "sphere")])
def test_that_halving_the_step_quarters_the_error(power: float, shape: Shape) -> None:
    bodies, modes, exact = _body(5.0), modes_of(power), _series(5.0, 0.5, shape)
    errors = [
        abs(float(centre(bodies, modes, _run(bodies, modes, 0.5, steps))[0]) - exact)
        for steps in (20, 40)
    ]
    assert 3.0 < errors[0] / errors[1] < 5.0


def test_that_what_the_face_takes_is_what_the_body_holds() -> None:
    bodies, modes = _body(1.2, wetness=1e-8), modes_of(0.0)
    seconds, taken = 60.0, 0.0
    step = step_of(bodies, modes, seconds)
    state = uniform(bodies, modes, np.array([COLD]), PIT, 3000.0)
    for _ in range(200):
        before = state.flow
        state = advance(
            bodies,
            modes,
            step,
            state,
            pit=PIT,
            vapour=3000.0,
            heating=bodies.heating,
            wetness=bodies.wetness,
        )
        taken += float((before + state.flow)[0]) / 2.0 * seconds
    held = float(mean(state)[0] - COLD) * STORE * HALF
    assert taken == pytest.approx(held, rel=1e-9)


def test_that_a_wet_face_settles_where_heat_and_evaporation_balance() -> None:
    # By hand: heating × (pit − face) = latent heat × wetness × (pressure at the face − 3000 Pa).
    bodies, modes = _body(1.2, wetness=1.5e-8), modes_of(0.0)
    bodies = bodies._replace(dried=np.array([1e6]))
    state = _run(bodies, modes, 12.0, 400)
    face = float(state.face[0])
    comes = float(bodies.heating[0]) * (PIT - face)
    goes = LATENT * 1.5e-8 * (float(vapour_pressure_fast(np.array([face]))[0]) - 3000.0)
    assert comes == pytest.approx(goes, rel=0.01)
    assert 55.0 < face < 90.0  # a stall near 70 °C (common practice, no source)


def test_that_the_vapour_pressure_is_that_of_water() -> None:
    # IAPWS-95 by CoolProp, data/water_saturation_latent_heat.csv; see the README beside it.
    with (DATA / "water_saturation_latent_heat.csv").open(encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    key = next(name for name in rows[0] if "p_sat" in name or "pressure" in name.lower())
    temp = next(iter(rows[0]))
    scale = 1000.0 if "kpa" in key.lower() else 1.0
    checked = 0
    for row in rows:
        celsius = float(row[temp])
        if 5.0 <= celsius <= 100.0:
            exact = float(row[key]) * scale
            found = float(vapour_pressure_fast(np.array([celsius]))[0])
            assert found == pytest.approx(exact, rel=0.01)
            checked += 1
    assert checked > 8


@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 1.0])
def test_that_every_place_of_a_wall_follows_the_exact_series(share: float) -> None:
    """Carslaw and Jaeger (1959), chapter 3: the middle's terms by the cosine of root × share."""
    biot, fourier = 5.0, 0.5
    bodies, modes = _body(biot), modes_of(0.0)
    roots = [conduction.root(number, biot, "wall") for number in range(1, 9)]
    theta = sum(
        conduction.coefficient(z, "wall") * math.exp(-(z**2) * fourier) * math.cos(z * share)
        for z in roots
    )
    state = _run(bodies, modes, fourier, 200)
    ((found,),) = at(bodies, modes, [state], np.array([share]))
    assert found == pytest.approx(PIT + theta * (COLD - PIT), abs=0.25)
