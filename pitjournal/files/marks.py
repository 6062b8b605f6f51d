"""The look of arms in print: one colour and one shape each, the control ink and hollow.

The colours are those of Okabe and Ito (jfly.uni-koeln.de/color, 2008), darkened on light
grounds and lightened on dark ones until each keeps a contrast of 3 to 1.
"""

from math import cos, pi, sin

Point = tuple[float, float]

LIGHT = (
    "#231F1B",
    "#0067A6",
    "#C44E00",
    "#00805C",
    "#B0578B",
    "#A86F00",
    "#2A86BC",
    "#857600",
)
NIGHT = (
    "#EFE6D8",
    "#4FA8DE",
    "#F0803C",
    "#3CC49A",
    "#DB93B9",
    "#EDB33F",
    "#8FD0F5",
    "#F0E442",
)
SHAPES = (
    "hollow circle",
    "square",
    "triangle",
    "diamond",
    "triangle down",
    "pentagon",
    "plus",
    "star",
)

SIGNS = ("○", "■", "▲", "◆", "▼", "⬟", "✚", "★")
"""The shapes as signs, for text."""

_PLUS = (
    (-0.35, -1.0),
    (0.35, -1.0),
    (0.35, -0.35),
    (1.0, -0.35),
    (1.0, 0.35),
    (0.35, 0.35),
    (0.35, 1.0),
    (-0.35, 1.0),
    (-0.35, 0.35),
    (-1.0, 0.35),
    (-1.0, -0.35),
    (-0.35, -0.35),
)


def look_of(look: int) -> int:
    """Return a look that exists: the eighth arm after the control begins anew at blue."""
    return look if look < len(LIGHT) else 1 + (look - 1) % (len(LIGHT) - 1)


def outline(look: int) -> tuple[Point, ...]:
    """Return the corners of a look's shape within ±1 (y down); empty for the circle."""
    return (
        (),
        ((-0.85, -0.85), (0.85, -0.85), (0.85, 0.85), (-0.85, 0.85)),
        ((0.0, -1.0), (1.0, 0.8), (-1.0, 0.8)),
        ((0.0, -1.1), (1.1, 0.0), (0.0, 1.1), (-1.1, 0.0)),
        ((0.0, 1.0), (1.0, -0.8), (-1.0, -0.8)),
        _round(5, 1.0, 1.0),
        _PLUS,
        _round(10, 1.15, 0.5),
    )[look_of(look)]


def _round(corners: int, far: float, near: float) -> tuple[Point, ...]:
    angles = [2 * pi * corner / corners for corner in range(corners)]
    radii = [near if corner % 2 and far != near else far for corner in range(corners)]
    return tuple((r * sin(a), -r * cos(a)) for r, a in zip(radii, angles, strict=True))
