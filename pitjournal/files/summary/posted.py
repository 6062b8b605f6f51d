"""A picture for posting that stands by itself: as long as it is, or a card in one of three shapes."""

from dataclasses import dataclass
from enum import StrEnum
from math import ceil

from pitjournal.files.summary.content import PlateChart, Summary
from pitjournal.files.summary.plate import lay_out_plate
from pitjournal.files.summary.plate_shapes import PlatePicture, PlateRoom
from pitjournal.files.summary.plate_svg import Plated, measure, told
from pitjournal.files.summary.plate_text import wrapped
from pitjournal.files.summary.svg import CARD, Drawing

POSTED = 1196.0
"""The width of a picture as long as it is; its plate is as wide as in the window, px."""

EDGE = 24.0
LOOK, PAPER, HAIR = "#7A5200", "#F5F0E6", "#DCD2C2"
NAMED, TITLED = 15, 30
"""Sizes of what stands over the title, and of the title."""

LINE, WORDS = 17, 22
"""Sizes of the lines below a plate, and of the words of a card without one."""

HEAD, FOOT = 40.0, 64.0
NARROWEST, WIDEST, STEP = 700, 4000, 20
"""The widths that a card is laid out for until all of it has room, px; then it is shown smaller."""

TWO_COLUMNS = 1200.0
"""On a wider picture the lines stand in two columns, px."""

MOST_FACTS = 6
"""So many plain facts stand on a card without a plate."""


class Shape(StrEnum):
    """The shape of a card."""

    WIDE = "wide"
    SQUARE = "square"
    TALL = "tall"


SIZES = {Shape.WIDE: (1200, 630), Shape.SQUARE: (1080, 1080), Shape.TALL: (1080, 1920)}
"""Width and height of each, px: about 1.9 to 1, 1 to 1 and 9 to 16 (common practice, no source)."""


@dataclass(frozen=True)
class _Laid:
    """What stands on a picture of a width, px: lines with their sizes, and the plate between."""

    width: float
    title: tuple[str, ...]
    plate: PlatePicture | None
    lines: tuple[tuple[str, int, bool], ...]
    columns: int

    @property
    def rows(self) -> int:
        """How many lines stand below each other."""
        return ceil(len(self.lines) / self.columns)

    @property
    def top(self) -> float:
        """Where the plate begins."""
        return HEAD + 1.2 * TITLED * len(self.title) + 12

    @property
    def paces(self) -> list[float]:
        """How high each row of lines is."""
        return [
            max(_pace(size) for _, size, _ in self.lines[row :: self.rows])
            for row in range(self.rows)
        ]

    @property
    def height(self) -> float:
        """How high all of it is."""
        plate = 0.0 if self.plate is None else self.plate.height + 6
        return self.top + plate + sum(self.paces) + FOOT


def plate_to_post(summary: Summary) -> str:
    """Return title, plate, what has to be known, and the cook's conclusion, as long as that is.

    It is empty where nothing was compared.
    """
    if summary.plate is None or not summary.plate.plate.rows:
        return ""
    laid = _lay_out(summary, POSTED)
    return _drawn(summary, laid, laid.height, 0.0, 1.0)


def card_to_post(summary: Summary, shape: Shape) -> str:
    """Return the same in a shape; where nothing was compared, with the words instead of a plate."""
    wide, high = SIZES[shape]
    for width in range(NARROWEST, WIDEST, STEP):
        laid = _lay_out(summary, float(width))
        room = width * high / wide
        if laid.height <= room:
            break
    return _drawn(summary, laid, room, (room - laid.height) / 2, wide / width)


def _pace(size: int) -> float:
    return size * 1.65


def _lay_out(summary: Summary, width: float) -> _Laid:
    chart = summary.plate if summary.plate and summary.plate.plate.rows else None
    inner = width - 2 * EDGE
    plate = lay_out_plate(chart.plate, PlateRoom(inner, measure, EDGE)) if chart else None
    said = [(text, LINE, True) for text in summary.protects]  # never left out
    said += [(text, LINE, False) for text in _below(chart)] if chart else _words(summary)
    columns = 2 if chart and width > TWO_COLUMNS else 1
    wide = inner / columns - 2 * EDGE
    lines = [
        (line, size, warns)
        for text, size, warns in said
        for line in wrapped(text, wide, size, measure, bold=warns)
    ]
    title = wrapped(summary.title, inner, TITLED, measure, bold=True)
    return _Laid(width, tuple(title), plate, tuple(lines), columns)


def _below(chart: PlateChart) -> list[str]:
    quoted = f"“{chart.conclusion}” ({chart.concluded})" if chart.conclusion else ""
    return [text for text in (chart.but, quoted) if text]


def _words(summary: Summary) -> list[tuple[str, int, bool]]:
    """Return what is said where nothing was compared: what was found, and the first plain facts."""
    facts = [f"{label}: {words}" for label, words in summary.facts[:MOST_FACTS]]
    said = [(text, WORDS, False) for text in summary.words]
    return said + [(text, LINE, False) for text in facts]


def _drawn(summary: Summary, laid: _Laid, height: float, slack: float, shown: float) -> str:
    words = told(summary.plate.plate) if summary.plate else " ".join(summary.words)
    drawing = Drawing(laid.width, height, summary.title, words, shown)
    drawing.box(0, 0, laid.width, height, PAPER, PAPER, ("paper", "paper"))
    drawing.text((EDGE, slack + 30), summary.under_title, quiet=True, size=NAMED)
    for place, line in enumerate(laid.title):
        y = slack + HEAD + 26 + 1.2 * TITLED * place
        drawing.text((EDGE, y), line, bold=True, size=TITLED)
    y = slack + laid.top
    if laid.plate is not None:
        wide = laid.width - 2 * EDGE
        drawing.box(EDGE, y, wide, laid.plate.height, CARD, HAIR, ("card", "hair"))
        Plated(drawing, EDGE, y).draw(laid.plate)
        y += laid.plate.height + 6
    for place, (line, size, warns) in enumerate(laid.lines):
        column, row = divmod(place, laid.rows)
        at = (EDGE + column * (laid.width - 2 * EDGE) / 2, y + sum(laid.paces[: row + 1]))
        ink = (LOOK, "wrapped") if warns else None
        drawing.text(at, line, bold=warns, size=size, ink=ink)
    at = (laid.width - EDGE, height - 18)
    drawing.text(at, "Pitjournal", anchor="end", quiet=True, size=13)
    return drawing.svg()
