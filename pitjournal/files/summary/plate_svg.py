"""Draw a verdict plate for a summary: the plate that the window has, as SVG."""

from dataclasses import dataclass

from pitjournal.domain.plate import Plate
from pitjournal.files.marks import LIGHT, look_of
from pitjournal.files.summary.content import PlateChart
from pitjournal.files.summary.plate import lay_out_plate
from pitjournal.files.summary.plate_shapes import (
    GRID,
    HAIR,
    QUIET,
    THREAD,
    PlateBar,
    PlateLine,
    PlatePicture,
    PlateRoom,
    PlateText,
)
from pitjournal.files.summary.svg import CARD, Drawing
from pitjournal.files.summary.svg import QUIET as QUIET_INK

WIDTH = 728.0
PLAIN, HEAVY = 0.54, 0.575
"""No letter of the words is wider on average, of its size: nothing here has letters to measure."""

UNDER = frozenset({GRID, HAIR, THREAD})


def measure(text: str, size: float, heavy: bool) -> float:
    """Return about how wide a text is, never less than it is, px."""
    return (HEAVY if heavy else PLAIN) * size * len(text)


def plate_chart(chart: PlateChart, shown: float = 1.0) -> str:
    """Return a plate as a picture, so large; "" where nothing was compared."""
    if not chart.plate.rows:
        return ""
    picture = lay_out_plate(chart.plate, PlateRoom(WIDTH, measure, 2.0, 22, 18))
    drawing = Drawing(WIDTH, picture.height, "What this cook showed", told(chart.plate), shown)
    Plated(drawing).draw(picture)
    return drawing.svg()


def told(plate: Plate) -> str:
    """Return a plate in words."""
    return " ".join(row.sentence for row in plate.rows)


@dataclass
class Plated:
    """Draws a plate that is laid out, so far from the corner of a drawing, px."""

    drawing: Drawing
    dx: float = 0.0
    dy: float = 0.0

    def draw(self, picture: PlatePicture) -> None:
        """Draw it: lines under all, bars, marks over them, words over all."""
        under, over = picture.under_and_over(UNDER)
        for line in under:
            self._line(line)
        for bar in picture.bars:
            self._bar(bar)
        for line in over:
            self._line(line)
        for tip in picture.tips:
            corners = [self._at(*corner) for corner in tip.corners]
            self.drawing.shape(corners, None if tip.look < 0 else tip.look)
        for text in picture.texts:
            self._ground(text)
        for mark in picture.marks:
            at = self._at(mark.x, mark.y)
            self.drawing.mark(at, mark.look, size=mark.size, name=mark.name)
        for text in picture.texts:
            self._text(text)

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return x + self.dx, y + self.dy

    def _line(self, line: PlateLine) -> None:
        self.drawing.line(
            self._at(line.x1, line.y1),
            self._at(line.x2, line.y2),
            look=line.look,
            quiet=line.ink in {QUIET, THREAD},
            strong=line.look is None and line.ink not in UNDER,
            dashed=line.dashed,
            width=line.width,
        )

    def _bar(self, bar: PlateBar) -> None:
        x, y = self._at(bar.x, bar.y)
        shade = QUIET_INK if bar.look < 0 else LIGHT[look_of(bar.look)]
        name = "quiet" if bar.look < 0 else f"arm fill arm-{look_of(bar.look)}"
        edge = "quiet" if bar.look < 0 else f"arm stroke arm-{look_of(bar.look)}"
        ground = shade if bar.filled else CARD
        classes = (name, "none") if bar.filled else ("card", edge)
        self.drawing.box(x, y, bar.width, bar.height, ground, shade, classes)

    def _ground(self, text: PlateText) -> None:
        if text.ground is not None:
            left, top, wide, high = text.ground
            self.drawing.box(*self._at(left, top), wide, high, CARD, CARD, ("card", "card"))

    def _text(self, text: PlateText) -> None:
        at = self._at(text.x, text.y)
        self.drawing.text(at, text.text, quiet=text.ink == QUIET, bold=text.bold, size=text.size)
