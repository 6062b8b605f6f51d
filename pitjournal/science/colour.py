"""Colours: contrast as the web's accessibility guideline counts it, and how far two are apart."""

import math
from dataclasses import dataclass

import numpy as np

from pitjournal.science.arrays import Array

LUMINANCE = (0.2126, 0.7152, 0.0722)
"""Weights of linear red, green and blue (WCAG 2.2, relative luminance)."""

_PRIMARIES = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
_WHITE = (0.3127, 0.3290)
"""Chromaticities of IEC 61966-2-1: red, green, blue, and white D65."""

_DELTA = 6 / 29


@dataclass(frozen=True)
class Lab:
    """A colour in CIE 1976 L*a*b*, white D65."""

    lightness: float
    a: float
    b: float


def parse_hex(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue, 0 to 255, of a colour such as ``"#c8501e"``.

    Raises
    ------
    ValueError
        If it is no such colour.
    """
    digits = colour.removeprefix("#")
    if len(digits) != 6:
        raise ValueError(f"{colour} is not a colour of six hexadecimal digits")
    return int(digits[:2], 16), int(digits[2:4], 16), int(digits[4:], 16)


def linear(level: float) -> float:
    """Return the linear light of an sRGB level, both from 0 to 1."""
    return level / 12.92 if level <= 0.04045 else float(((level + 0.055) / 1.055) ** 2.4)


def relative_luminance(colour: str) -> float:
    """Return the relative luminance of a colour, 0 black to 1 white (WCAG 2.2)."""
    parts = (linear(level / 255) for level in parse_hex(colour))
    return sum(weight * part for weight, part in zip(LUMINANCE, parts, strict=True))


def contrast(one: str, two: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21 (WCAG 2.2, success criterion 1.4.3)."""
    darker, lighter = sorted((relative_luminance(one), relative_luminance(two)))
    return (lighter + 0.05) / (darker + 0.05)


def _tristimulus() -> Array:
    """Return the matrix from linear sRGB to XYZ, from the primaries, so that greys stay grey."""
    columns = np.array([[x / y, 1.0, (1 - x - y) / y] for x, y in _PRIMARIES]).T
    return np.asarray(columns * np.linalg.solve(columns, _white()), dtype=np.float64)


def _white() -> Array:
    x, y = _WHITE
    return np.array([x / y, 1.0, (1 - x - y) / y])


def xyz(colour: str) -> Array:
    """Return X, Y and Z of an sRGB colour, Y of white being 1, shape (3,)."""
    levels = np.array([linear(level / 255) for level in parse_hex(colour)])
    return np.asarray(_tristimulus() @ levels, dtype=np.float64)


def lab(colour: str) -> Lab:
    """Return the CIE L*a*b* of an sRGB colour under D65."""

    def curve(t: float) -> float:
        return math.cbrt(t) if t > _DELTA**3 else t / (3 * _DELTA**2) + 4 / 29

    x, y, z = (curve(float(part)) for part in xyz(colour) / _white())
    return Lab(116 * y - 16, 500 * (x - y), 200 * (y - z))


def colour_difference(one: Lab, two: Lab) -> float:
    """Return the CIEDE2000 difference of two colours; about 1 is just seen side by side.

    Parameters
    ----------
    one, two
        Their order does not matter.
    """
    first, second = (_stretched(colour, _green_red_factor(one, two)) for colour in (one, two))
    mean_light = (one.lightness + two.lightness) / 2
    chromas = (math.hypot(*first), math.hypot(*second))
    hues = (_hue(*first), _hue(*second))
    mean_chroma = sum(chromas) / 2
    turn, mean_hue = _turn(hues, chromas)
    light = two.lightness - one.lightness
    chroma = chromas[1] - chromas[0]
    hue = 2 * math.sqrt(chromas[0] * chromas[1]) * math.sin(math.radians(turn) / 2)
    weight = (
        1
        - 0.17 * math.cos(math.radians(mean_hue - 30))
        + 0.24 * math.cos(math.radians(2 * mean_hue))
        + 0.32 * math.cos(math.radians(3 * mean_hue + 6))
        - 0.20 * math.cos(math.radians(4 * mean_hue - 63))
    )
    offset = (mean_light - 50) ** 2
    light /= 1 + 0.015 * offset / math.sqrt(20 + offset)
    chroma /= 1 + 0.045 * mean_chroma
    hue /= 1 + 0.015 * mean_chroma * weight
    angle = 60 * math.exp(-(((mean_hue - 275) / 25) ** 2))
    rotation = -2 * _saturation(mean_chroma) * math.sin(math.radians(angle))
    return math.sqrt(light**2 + chroma**2 + hue**2 + rotation * chroma * hue)


def _saturation(chroma: float) -> float:
    return math.sqrt(chroma**7 / (chroma**7 + 25.0**7))


def _green_red_factor(one: Lab, two: Lab) -> float:
    mean = (math.hypot(one.a, one.b) + math.hypot(two.a, two.b)) / 2
    return 1 + (1 - _saturation(mean)) / 2


def _stretched(colour: Lab, factor: float) -> tuple[float, float]:
    return colour.a * factor, colour.b


def _hue(a: float, b: float) -> float:
    return math.degrees(math.atan2(b, a)) % 360 if a or b else 0.0


def _turn(hues: tuple[float, float], chromas: tuple[float, float]) -> tuple[float, float]:
    """Return the hue difference and the mean hue, degrees; greys have no hue of their own."""
    turn, total = hues[1] - hues[0], hues[0] + hues[1]
    if chromas[0] * chromas[1] == 0:
        return 0.0, total
    if abs(turn) <= 180:
        return turn, total / 2
    mean = (total + 360) / 2 if total < 360 else (total - 360) / 2
    return (turn - 360 if turn > 180 else turn + 360), mean
