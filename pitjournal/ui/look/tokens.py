"""Every colour, size and stroke of the window, in one place. Pages name none of their own.

Sizes are px at a text size of 100 %; `Sizes` makes them those of the size that is set.
"""

from dataclasses import dataclass

from pitjournal.files.marks import LIGHT as ARMS_ON_LIGHT
from pitjournal.files.marks import NIGHT as ARMS_AT_NIGHT
from pitjournal.files.marks import look_of

SERIES = 1000
"""Looks from here on are of series that are no arms."""


def series(place: int) -> int:
    """Return the look of the series at a place, from 0: a colour and a shape that no arm has."""
    return SERIES + place


@dataclass(frozen=True, kw_only=True)
class Theme:
    """Colours (``#RRGGBB``) and strokes (px) of one theme.

    Attributes
    ----------
    paper, card
        The ground, and the cards that lie on it.
    ink, quiet
        Text, and text that steps back.
    ember, on_ember, ember_tint
        The one accent for the thing to do now, text on it, and its ground.
    right, right_tint, look, look_tint
        "Right" or "saved", and "look at this".
    wrap_tint, rest_tint
        The ground of wrapped time and of a rest on the day's ribbon; grey in the sun.
    hairline, grid
        The edge of a card, and the lines of a chart.
    field
        The edge of what is typed or chosen in, which must be found by it.
    rail, rail_ink, rail_chosen, rail_bright
        The rail at the left, what is on it, and the ground and ink of the place chosen.
    line, edge
        Strokes of a chart's line, and of an edge.
    arms
        The control and seven more.
    series
        What is set apart and is no arm: a cook, a cooker, a month.
    """

    name: str
    paper: str
    card: str
    ink: str
    quiet: str
    ember: str
    on_ember: str
    ember_tint: str
    right: str
    right_tint: str
    look: str
    look_tint: str
    wrap_tint: str
    rest_tint: str
    hairline: str
    field: str
    grid: str
    rail: str
    rail_ink: str
    rail_chosen: str
    rail_bright: str
    line: float
    edge: int
    arms: tuple[str, ...]
    series: tuple[str, ...]

    def arm(self, look: int | None) -> str:
        """Return the colour of an arm's or a series' look; a piece without an arm is quiet."""
        if look is not None and look >= SERIES:
            return self.series[(look - SERIES) % len(self.series)]
        return self.quiet if look is None else self.arms[look_of(look)]


LIGHT = Theme(
    name="light",
    paper="#F5F0E6",
    card="#FFFDF9",
    ink="#231F1B",
    quiet="#655C52",
    ember="#A83A0B",
    on_ember="#FFFFFF",
    ember_tint="#F6E2D5",
    right="#1F6A54",
    right_tint="#DDEDE4",
    look="#7A5200",
    look_tint="#F6EACB",
    wrap_tint="#F6EACB",
    rest_tint="#DDEDE4",
    hairline="#DCD2C2",
    field="#8A7F70",
    grid="#EAE2D4",
    rail="#231F1B",
    rail_ink="#CFC4B4",
    rail_chosen="#3B3530",
    rail_bright="#FFFFFF",
    line=2.4,
    edge=1,
    arms=ARMS_ON_LIGHT,
    series=("#231F1B", "#8A2D3B", "#00707A", "#4B4B8F", "#3F6B1F", "#7B5A3C"),
)
NIGHT = Theme(
    name="night",
    paper="#151210",
    card="#1E1A17",
    ink="#EFE6D8",
    quiet="#A99E8F",
    ember="#F28C4F",
    on_ember="#231F1B",
    ember_tint="#3A2417",
    right="#63C2A2",
    right_tint="#1B2E27",
    look="#E3B04B",
    look_tint="#33280F",
    wrap_tint="#33280F",
    rest_tint="#1B2E27",
    hairline="#3B342E",
    field="#7D7367",
    grid="#2A2521",
    rail="#0D0B0A",
    rail_ink="#9B9082",
    rail_chosen="#2A2521",
    rail_bright="#FFFFFF",
    line=2.4,
    edge=1,
    arms=ARMS_AT_NIGHT,
    series=("#EFE6D8", "#E58A98", "#5FC7D1", "#A9A9F0", "#A7CF7C", "#CFA983"),
)
SUN = Theme(
    name="sun",
    paper="#FFFFFF",
    card="#FFFFFF",
    ink="#000000",
    quiet="#333333",
    ember="#8A2A00",
    on_ember="#FFFFFF",
    ember_tint="#FFFFFF",
    right="#00513C",
    right_tint="#FFFFFF",
    look="#5C3D00",
    look_tint="#FFFFFF",
    wrap_tint="#E8E8E8",
    rest_tint="#E8E8E8",
    hairline="#000000",
    field="#000000",
    grid="#BBBBBB",
    rail="#000000",
    rail_ink="#FFFFFF",
    rail_chosen="#444444",
    rail_bright="#FFFFFF",
    line=3.5,
    edge=2,
    arms=(
        "#000000",
        "#00507F",
        "#9A3C00",
        "#006347",
        "#8D3F6C",
        "#805300",
        "#1C6691",
        "#655800",
    ),
    series=("#000000", "#6E1F2C", "#00565E", "#2F2F75", "#2E5214", "#5C4027"),
)
THEMES = {theme.name: theme for theme in (LIGHT, NIGHT, SUN)}

XS, S, M, L, XL = 4, 8, 12, 16, 24
"""Spacing, px; the same at every text size, so that words get the room."""

SMALL, BODY, LARGE, DUE, TITLE, CLOCK = 13, 15, 17, 19, 25, 46
"""Type, px; nothing is smaller than the first."""

LINE = 20
"""A line of words, px."""

TEXT_SIZES = ("100", "110", "125", "150")
"""The text sizes there are, per cent."""


@dataclass(frozen=True)
class Sizes:
    """How large words are, and what holds them: px of the screen from px at 100 %.

    Attributes
    ----------
    scale
        The text size, as a number: 1 at 100 %.
    """

    scale: float = 1.0

    def px(self, at_100: float) -> int:
        """Return a size that goes with the words: a font's, a width that holds some letters."""
        return round(at_100 * self.scale)

    def high(self, at_100: float, lines: int = 1) -> int:
        """Return the height of what holds so many lines: they grow, and the air about them not."""
        return round(at_100 + lines * LINE * (self.scale - 1))


CONTROL_RADIUS, CARD_RADIUS, TAP_RADIUS = 10, 12, 14
CONTROL_HEIGHT = 38
TAP_WIDTH, TAP_HEIGHT = 76, 60
"""The least size of what is tapped in gloves, px."""

GLOVE = 44
"""The least height of anything that is tapped at the bench, px (W3C, WCAG 2.1, 2.5.5)."""

RAIL_WIDTH = 84
"""The width a field takes when nothing says more, px."""

READING_WIDTH = 760
"""No card of running words is wider, px."""

FORM_WIDTH = 980
"""No card of a few fields is wider, px."""

PANEL_HEIGHT = 460
"""The least height of a panel that scrolls, px."""

CHART_HEIGHT, SMALL_CHART_HEIGHT = 300, 190
"""The least heights of charts, px."""

FOREST_ROW = 50
"""A cook's line among several that made the same comparison, px."""

BAND_HEIGHT = 82
"""The band of the clock on the bench, px."""

BENCH_HEIGHT = 660
"""A bench that is lower shows the band or an alarm, not both, px."""

ANSWER_WIDTH = 112
"""What answers an alarm, px."""

BAR_HEIGHT = 52
"""The strip in which the window says what was saved, px."""

PIECES_WIDTH = 270
"""The column of pieces on the bench, px."""

MOMENT_WIDTH = 118
"""What a moment takes, "yesterday 22:00", px."""

SCORE_WIDTH = 84
"""The field of a score, px."""

MARK = 7
"""Half the size of an arm's mark, px."""

LEAST_WIDTH, LEAST_HEIGHT = 1024, 700
