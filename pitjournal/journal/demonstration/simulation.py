"""A small simulation of a pit and of meat in it: not a forecast, but curves a cook would believe.

The pit is one warm body heated by a fire that follows its damper late, so that it overshoots,
dips when the lid is opened, and wanders. A piece of meat is half a slab in layers: heat enters
through its face, and water leaves there and takes heat along, which holds the stall until the
face dries or is wrapped. Units: s, °C, m, kg, W.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

STEP = 30.0
"""Seconds of one step."""

LAYERS = 8
"""Layers of half a slab, the last one at the face."""

_CONDUCTIVITY = 0.47  # W/(m K), _DENSITY × _HEAT J/(m³ K): raw pork and beef, rounded
_DENSITY = 1050.0
_HEAT = 3450.0
_LATENT = 2.33e6
_AIR_HEAT = 1006.0
_PRESSURE = 101_325.0
_DRY_WIDTH = 0.12
"""How sharply a face dries out, as a share of the water it can give."""


@dataclass(frozen=True)
class PitCharacter:
    """How a class of cooker behaves.

    Attributes
    ----------
    hottest
        What a full fire would reach above the outside, K.
    slow
        Time constant of the cooker, s.
    fire_lag
        Time the fire takes to follow its damper, s.
    gain
        Opening of the damper per K of error.
    wander
        Standard deviation of the slow wander, K.
    fuelling
        Seconds between additions of fuel that make it swing; 0 for none.
    swing
        Height of that swing, K.
    """

    hottest: float
    slow: float
    fire_lag: float
    gain: float
    wander: float
    fuelling: float = 0.0
    swing: float = 0.0


GRAVITY = PitCharacter(hottest=330.0, slow=700.0, fire_lag=150.0, gain=0.030, wander=1.2)
DRUM = PitCharacter(hottest=300.0, slow=900.0, fire_lag=330.0, gain=0.018, wander=2.6)
OFFSET = PitCharacter(
    hottest=360.0,
    slow=1000.0,
    fire_lag=240.0,
    gain=0.022,
    wander=4.0,
    fuelling=2700.0,
    swing=9.0,
)


class Pit:
    """A cooker, its fire and its thermometer.

    Parameters
    ----------
    character
        Of its class.
    set_point, outside
        °C.
    lot
        Where the wander comes from.
    """

    def __init__(
        self,
        character: PitCharacter,
        set_point: float,
        outside: float,
        lot: np.random.Generator,
    ) -> None:
        self.character = character
        self.set_point = set_point
        self.outside = outside
        self.air = outside
        self.reading = outside
        self._lot = lot
        self._fire = 0.0
        self._owed = 0.0
        self._wander = 0.0
        self._elapsed = 0.0

    def step(self, lid_open: float = 0.0) -> float:
        """Go one step on, with the lid open for so many of its seconds; return the reading."""
        self._feed()
        nature = self.character
        self._stray()
        reach = self.outside + nature.hottest * self._fire + self._swing()
        self.air += STEP / nature.slow * (reach - self.air)
        self.air += (self.outside - self.air) * (1.0 - np.exp(-lid_open / 110.0))
        self.reading += (self.air + self._wander - self.reading) * (1.0 - np.exp(-STEP / 45.0))
        self._elapsed += STEP
        return self.reading

    def _feed(self) -> None:
        """Set the damper by the error and what is owed from before; the fire follows late."""
        error = self.set_point - self.reading
        wanted = self.character.gain * (error + self._owed)
        if 0.0 < wanted < 1.0:
            self._owed += error * STEP / 1500.0
        damper = min(max(wanted, 0.0), 1.0)
        self._fire += STEP / self.character.fire_lag * (damper - self._fire)

    def _stray(self) -> None:
        keep = np.exp(-STEP / 420.0)
        push = self._lot.normal(0.0, self.character.wander)
        self._wander = keep * self._wander + float(np.sqrt(1.0 - keep**2)) * push

    def _swing(self) -> float:
        if not self.character.fuelling:
            return 0.0
        phase = (self._elapsed % self.character.fuelling) / self.character.fuelling
        return 6.0 * self.character.swing * float(np.sin(2 * np.pi * phase))


@dataclass
class Meat:
    """Several pieces at once, each half a slab.

    Attributes
    ----------
    half
        Half thickness that conducts like the piece, m, shape (n,).
    water
        What a face can give before it dries, kg/m², shape (n,).
    wet
        How freely a moist face gives it, 0 to 1, shape (n,).
    layers
        Temperatures from the middle to the face, °C, shape (n, LAYERS).
    lost
        Water given so far, kg/m², shape (n,).
    """

    half: Array
    water: Array
    wet: Array
    layers: Array
    lost: Array = field(init=False)
    _carry: Array = field(init=False)
    _capacity: Array = field(init=False)

    def __post_init__(self) -> None:
        self.lost = np.zeros(self.half.size)
        self._capacity = _DENSITY * _HEAT * self.half / LAYERS
        between = _CONDUCTIVITY / (self.half / LAYERS) * STEP / self._capacity
        self._carry = np.stack([_implicit(share) for share in between])

    @property
    def middle(self) -> Array:
        """Temperature in the middle, °C, shape (n,)."""
        return self.layers[:, 0].copy()

    def step(self, around: Array, transfer: Array, cover: Array, moisture: float) -> None:
        """Go one step on.

        Parameters
        ----------
        around
            Air about each piece, °C, shape (n,).
        transfer
            Heat transfer by air and radiation, W/(m² K), shape (n,).
        cover
            Share of the evaporation that its wrap lets pass, shape (n,).
        moisture
            Water in the air, kg a kg of dry air.
        """
        face = self.layers[:, -1]
        free = self.wet * cover * self._moist()
        given, steeper = _evaporation(face, transfer, moisture)
        flow = transfer * (around - face) - free * given * _LATENT
        damping = 1.0 + STEP * (transfer + free * steeper * _LATENT) / self._capacity
        heated = self.layers.copy()
        heated[:, -1] += STEP * flow / damping / self._capacity
        self.layers = np.matmul(self._carry, heated[:, :, None])[:, :, 0]
        self.lost += STEP * free * given

    def _moist(self) -> Array:
        """How moist each face still is, 0 to 1."""
        share = self.lost / self.water
        return 0.06 + 0.94 / (1.0 + np.exp((share - 1.0) / _DRY_WIDTH))


def _implicit(share: float) -> Array:
    """Return the matrix that carries heat between the layers for one step."""
    matrix = np.eye(LAYERS)
    for layer in range(LAYERS - 1):
        matrix[layer, layer] += share
        matrix[layer + 1, layer + 1] += share
        matrix[layer, layer + 1] -= share
        matrix[layer + 1, layer] -= share
    return np.asarray(np.linalg.inv(matrix), dtype=np.float64)


def _evaporation(face: Array, transfer: Array, moisture: float) -> tuple[Array, Array]:
    """Return water given by a wet face, kg/(m² s), and by how much more a K warmer.

    Lewis's relation: mass transfer is heat transfer over the heat of air. Saturation by
    Magnus's formula with the numbers of Alduchov and Eskridge (1996).
    """
    warm = np.clip(face, 0.0, 96.0)
    pressure = 610.94 * np.exp(17.625 * warm / (warm + 243.04))
    ratio = 0.622 * pressure / (_PRESSURE - pressure)
    steeper = ratio * _PRESSURE / (_PRESSURE - pressure) * 17.625 * 243.04 / (warm + 243.04) ** 2
    carried = transfer / _AIR_HEAT
    return carried * np.maximum(ratio - moisture, 0.0), carried * steeper
