"""Draw a cook's day for a summary: the ribbon that the window has, as SVG."""

from collections.abc import Callable
from datetime import UTC, datetime

from pitjournal.domain.day.course import CARVING, Part
from pitjournal.domain.day.ribbon_axis import axis_of
from pitjournal.domain.times.moments import show_time
from pitjournal.files.marks import LIGHT, look_of
from pitjournal.files.summary.content import RibbonChart
from pitjournal.files.summary.ribbon import bar_height, lay_out
from pitjournal.files.summary.ribbon_shapes import Box, Picture, Room
from pitjournal.files.summary.ribbon_words import ribbon_sentence
from pitjournal.files.summary.svg import CARD, INK, QUIET, Drawing

WIDTH = 680.0
BAR, LINES, TOP, EDGE = 30.0, 2, 12.0, 4.0
PLAIN, HEAVY = 7.4, 7.9
"""No letter of the words is wider on average, px: what lays out here has no letters to measure."""

LOOK, RIGHT = "#7A5200", "#1F6A54"
GROUNDS = {"wrapped": "#F6EACB", "rest": "#DDEDE4"}


def ribbon_chart(chart: RibbonChart) -> str:
    """Return a cook's day as a picture; "" where nothing is known of it."""
    ribbon = chart.ribbon
    if not ribbon:
        return ""
    clock = clock_of(chart)
    lanes = sum(bool(lane.pieces) for lane in ribbon.lanes)
    room = Room(axis_of(ribbon, EDGE, WIDTH - EDGE), WIDTH, TOP, BAR, LINES, _measure, clock)
    picture = lay_out(ribbon, room)
    height = TOP + bar_height(lanes, BAR) + 18 * LINES + 26
    drawing = Drawing(WIDTH, height, chart.title, ribbon_sentence(ribbon, clock))
    _draw(drawing, picture)
    drawing.text(
        (EDGE, height - 6), "solid: as it happened; outlined: planned", quiet=True, size=12
    )
    return drawing.svg()


def clock_of(chart: RibbonChart) -> Callable[[float], str]:
    """Return what says a moment: by the clock, or from the first piece that went on."""
    if chart.zone:
        return lambda at: show_time(datetime.fromtimestamp(at, UTC), chart.zone)

    def since(at: float) -> str:
        minutes = round(abs(at - chart.begun) / 60)
        sign = "" if not minutes else "−" if at < chart.begun else "+"
        return f"{sign}{minutes // 60}:{minutes % 60:02d}"

    return since


def _measure(text: str, heavy: bool) -> float:
    return (HEAVY if heavy else PLAIN) * len(text)


def _draw(drawing: Drawing, picture: Picture) -> None:
    for box in picture.boxes:
        _box(drawing, box)
    for stroke in picture.strokes:
        ends = (stroke.x1, stroke.y1), (stroke.x2, stroke.y2)
        drawing.line(*ends, strong=True, card=stroke.ink == "card")
    for word in picture.words:
        drawing.text((word.x, word.y), word.text, bold=word.bold, quiet=word.quiet, size=13)


def _box(drawing: Drawing, box: Box) -> None:
    middle = box.y + box.height / 2
    if box.part in {Part.SLACK, *CARVING}:
        dashed = box.part == Part.SLACK or not box.solid
        drawing.line((box.x + 2, middle), (box.right, middle), strong=True, dashed=dashed)
        return
    name = {"held": "rest"}.get(box.part, box.part)
    edge, ground, ink = _colours(box, name)
    classes = (name if box.solid else "card", name)
    if box.part == "prepared" and box.look is not None:
        classes = (f"arm fill arm-{look_of(box.look)}", "none") if box.solid else ("card", "ink")
    drawing.box(box.x, box.y, box.width, box.height, ground, edge, classes)
    if box.word and box.height >= 14 and _measure(box.word, False) + 8 <= box.width:
        plain = "card" if ink == CARD else name if name in GROUNDS else "ink"
        at = (box.x + box.width / 2, middle + 4.5)
        drawing.text(at, box.word, anchor="middle", ink=(ink, plain))


def _colours(box: Box, name: str) -> tuple[str, str, str]:
    """Return the edge, the ground and the ink of a box."""
    if name in GROUNDS:
        edge = LOOK if name == "wrapped" else RIGHT
        return edge, GROUNDS[name] if box.solid else CARD, edge
    dark = QUIET if name == "lit" else INK
    if box.part == "prepared" and box.look is not None:
        dark = LIGHT[look_of(box.look)]
    return dark, dark if box.solid else CARD, CARD if box.solid else INK
