"""The shapes a verdict plate is laid out in, and the room it is laid out for, px."""

from collections.abc import Callable
from dataclasses import dataclass, field

Measure = Callable[[str, float, bool], float]
"""How wide a text is in a size, plain or bold, px."""

INK, QUIET, GRID, HAIR, THREAD = "ink", "quiet", "grid", "hair", "thread"
"""The inks of lines and words; a thread joins the pieces of a pack."""


@dataclass(frozen=True)
class PlateLine:
    """A straight line in an ink, or with a `look` in that arm's colour."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float = 1.0
    ink: str = INK
    look: int | None = None
    dashed: bool = False


@dataclass(frozen=True)
class PlateText:
    """A text whose baseline begins at a place; `x` is its left edge.

    `lifted` has the card's ground under it, so that no line goes through it.
    """

    x: float
    y: float
    text: str
    size: float = 13
    bold: bool = False
    ink: str = INK
    lifted: float = 0.0

    @property
    def ground(self) -> tuple[float, float, float, float] | None:
        """Left, top, width and height of the ground under it, px; None where it has none."""
        return (self.x - 2, self.y - 12, self.lifted + 4, 16) if self.lifted else None


@dataclass(frozen=True)
class PlateMark:
    """An arm's mark; `name` tells what it is to whoever rests on it."""

    x: float
    y: float
    look: int
    size: float
    name: str = ""


@dataclass(frozen=True)
class PlateBar:
    """How long a piece stayed right: filled in its arm's colour, or an outline."""

    x: float
    y: float
    width: float
    height: float
    look: int
    filled: bool = True


@dataclass(frozen=True)
class PlateTip:
    """The arrow of what came off while right; it points to the right from `x`."""

    x: float
    y: float
    half: float
    look: int
    width: float

    @property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Its corners, px."""
        x, y, half = self.x, self.y, self.half
        return (x, y - half), (x + self.width, y), (x, y + half)


@dataclass(frozen=True)
class PlateBand:
    """Where the words of an arm's row lie, and what they say."""

    left: float
    top: float
    right: float
    bottom: float
    sentence: str


@dataclass(frozen=True)
class PlateRoom:
    """What a plate is laid out in.

    Attributes
    ----------
    width
        Of the whole, px.
    measure
        How wide a text is.
    edge
        Left and right of what is on it, px.
    large, small
        The size of a verdict, and of one that is too long for it, px.
    """

    width: float
    measure: Measure
    edge: float = 24.0
    large: int = 30
    small: int = 26


@dataclass
class PlatePicture:
    """A plate laid out."""

    lines: list[PlateLine] = field(default_factory=list)
    texts: list[PlateText] = field(default_factory=list)
    marks: list[PlateMark] = field(default_factory=list)
    bars: list[PlateBar] = field(default_factory=list)
    tips: list[PlateTip] = field(default_factory=list)
    bands: list[PlateBand] = field(default_factory=list)
    height: float = 0.0

    def under_and_over(self, inks: frozenset[str]) -> tuple[list[PlateLine], list[PlateLine]]:
        """Return the lines that lie under all else, in these inks, and the others."""
        parts: tuple[list[PlateLine], list[PlateLine]] = ([], [])
        for line in self.lines:
            parts[line.look is not None or line.ink not in inks].append(line)
        return parts
