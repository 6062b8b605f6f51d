"""A small writer of SVG (Tiny 1.2, which print engines also read).

Every element carries its colours as attributes, for print, and a class, for a page's style
sheet to recolour at night.
"""

from collections.abc import Iterable
from html import escape

from pitjournal.files.marks import LIGHT, Point, look_of, outline

INK, QUIET, LINE = "#231F1B", "#655C52", "#DCD2C2"
CARD = "#FFFDF9"


class Drawing:
    """A picture being drawn, in pixels from the top left.

    Parameters
    ----------
    width, height
        Its size.
    title, words
        What it shows, for those who cannot see it.
    shown
        How large it is shown, as a share of its size.
    """

    def __init__(
        self, width: float, height: float, title: str, words: str, shown: float = 1.0
    ) -> None:
        self.width, self.height, self._shown = width, height, shown
        self._title, self._words = title, words
        self._parts: list[str] = []

    def line(
        self,
        start: Point,
        end: Point,
        *,
        look: int | None = None,
        strong: bool = False,
        dashed: bool = False,
        card: bool = False,
        quiet: bool = False,
        width: float | None = None,
    ) -> None:
        """Draw a straight line: a hairline, in an arm's colour, or light on what is dark."""
        colour, name = (LINE, "hair") if look is None else (LIGHT[look_of(look)], _class(look))
        if look is None and strong:
            colour, name = (CARD, "card") if card else (INK, "ink")
        if look is None and quiet:
            colour, name = QUIET, "quiet"
        dash = ' stroke-dasharray="3 3"' if dashed else ""
        wide = width if width is not None else 2.4 if strong else 1
        self._parts.append(
            f'<line x1="{start[0]:.1f}" y1="{start[1]:.1f}" x2="{end[0]:.1f}" y2="{end[1]:.1f}"'
            f' class="stroke {name}" stroke="{colour}" stroke-width="{wide:g}"{dash}/>'
        )

    def box(  # noqa: PLR0917 - a box and its colours
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        ground: str,
        edge: str,
        names: tuple[str, str],
    ) -> None:
        """Draw a box in a ground and an edge; `names` are their classes for a style sheet."""
        self._parts.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{max(width, 0.5):.1f}" height="{height:.1f}"'
            f' rx="2" class="ground-{names[0]} edge-{names[1]}" fill="{ground}" stroke="{edge}"'
            ' stroke-width="1.2"/>'
        )

    def curve(self, points: Iterable[Point], *, look: int | None, name: str = "") -> None:
        """Draw a line through points; without a look it is quiet."""
        colour, style = (QUIET, "quiet") if look is None else (LIGHT[look_of(look)], _class(look))
        places = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        told = f"<title>{escape(name)}</title>" if name else ""
        self._parts.append(
            f'<polyline points="{places}" fill="none" class="stroke {style}" stroke="{colour}"'
            f' stroke-width="1.6" stroke-linejoin="round">{told}</polyline>'
        )

    def shape(self, corners: Iterable[Point], look: int | None) -> None:
        """Draw a filled shape in an arm's colour; without a look it is quiet."""
        shade, name = (QUIET, "quiet") if look is None else (LIGHT[look_of(look)], _class(look))
        places = " ".join(f"{x:.1f},{y:.1f}" for x, y in corners)
        self._parts.append(f'<polygon points="{places}" class="fill {name}" fill="{shade}"/>')

    def mark(self, at: Point, look: int, *, size: float = 6.0, name: str = "") -> None:
        """Draw an arm's mark."""
        look = look_of(look)
        x, y = at
        told = f"<title>{escape(name)}</title>" if name else ""
        corners = outline(look)
        if not corners:
            self._parts.append(
                f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{size:g}" class="hollow {_class(look)}"'
                f' fill="{CARD}" stroke="{LIGHT[look]}" stroke-width="2.4">{told}</circle>'
            )
            return
        places = " ".join(f"{x + size * dx:.1f},{y + size * dy:.1f}" for dx, dy in corners)
        self._parts.append(
            f'<polygon points="{places}" class="fill {_class(look)}"'
            f' fill="{LIGHT[look]}">{told}</polygon>'
        )

    def text(
        self,
        at: Point,
        words: str,
        *,
        anchor: str = "start",
        quiet: bool = False,
        bold: bool = False,
        size: float = 13,
        ink: tuple[str, str] | None = None,
    ) -> None:
        """Write words: `anchor` start, middle or end; `ink` is another colour and its class."""
        colour, name = ink or ((QUIET, "quiet") if quiet else (INK, "ink"))
        weight = ' font-weight="bold"' if bold else ""
        self._parts.append(
            f'<text x="{at[0]:.1f}" y="{at[1]:.1f}" text-anchor="{anchor}" class="text {name}"'
            f' fill="{colour}" font-size="{size:g}"{weight}>{escape(words)}</text>'
        )

    def svg(self) -> str:
        """Return the picture."""
        return (
            '<svg xmlns="http://www.w3.org/2000/svg" version="1.2" baseProfile="tiny" role="img"'
            f' viewBox="0 0 {self.width:g} {self.height:g}" width="{self.width * self._shown:g}"'
            f' height="{self.height * self._shown:g}" font-family="Atkinson Hyperlegible Next, sans-serif">'
            f"<title>{escape(self._title)}</title><desc>{escape(self._words)}</desc>"
            f"{''.join(self._parts)}</svg>"
        )


def mark_svg(look: int, size: float = 7.0) -> str:
    """Return an arm's mark alone, for a table or a chip."""
    drawing = Drawing(2 * size + 4, 2 * size + 4, "", "")
    drawing.mark((size + 2, size + 2), look, size=size - 1)
    return (
        drawing.svg()
        .replace("<title></title><desc></desc>", "")
        .replace('role="img"', 'aria-hidden="true" class="mark"')
    )


def _class(look: int) -> str:
    return f"arm-{look_of(look)}"
