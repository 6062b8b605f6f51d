"""The shapes a ribbon is laid out in, and the room it is laid out for, px."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from pitjournal.domain.day.ribbon_axis import RibbonAxis

Measure = Callable[[str, bool], float]
"""How wide a text is, plain or bold, px."""


@dataclass(frozen=True)
class Box:
    """A stretch of a lane: `part` gives its colours; an open one has no right edge."""

    x: float
    y: float
    width: float
    height: float
    part: str
    solid: bool
    word: str = ""
    look: int | None = None

    @property
    def right(self) -> float:
        """Its right edge, px."""
        return self.x + self.width


@dataclass(frozen=True)
class Stroke:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    ink: str = "ink"
    width: float = 1.6


@dataclass(frozen=True)
class Word:
    """A text whose baseline begins at a place; `x` is its left edge."""

    x: float
    y: float
    text: str
    bold: bool = False
    quiet: bool = False


@dataclass(frozen=True)
class Pill:
    """The present: a line through the ribbon, and its words."""

    x: float
    top: float
    bottom: float
    text: str
    left: float
    width: float


@dataclass(frozen=True)
class Hump:
    """When the meat comes off: the chances as a hump over the bar, and its words.

    The words begin at (`left`, `y`). `inner` is the part of it that holds the likelier half, where the rest is known apart.
    """

    points: tuple[tuple[float, float], ...]
    x: float
    top: float
    bottom: float
    text: str
    left: float
    y: float
    inner: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class Handle:
    """What is taken hold of to choose or to move a mark."""

    mark: int
    x: float
    top: float
    bottom: float


@dataclass(frozen=True)
class Room:
    """What a ribbon is laid out in.

    Attributes
    ----------
    axis
        Where a moment stands.
    width
        Of the whole picture, px.
    top, bar
        Where the bar begins, and how high it is, px.
    lines
        Lines of words below it; 0 for none.
    measure, clock
        How wide a text is; a moment in words.
    days
        Moments at which a day begins or is named, with its words; over the bar.
    seen
        From where to where is painted, px: a chart that is zoomed shows a part of the day.
    """

    axis: RibbonAxis
    width: float
    top: float
    bar: float
    lines: int
    measure: Measure
    clock: Callable[[float], str]
    days: Sequence[tuple[float, str]] = ()
    seen: tuple[float, float] = (-1e5, 1e5)


@dataclass
class Picture:
    """A ribbon laid out."""

    boxes: list[Box] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    handles: list[Handle] = field(default_factory=list)
    pill: Pill | None = None
    hump: Hump | None = None
    bar: float = 0.0
    height: float = 0.0
