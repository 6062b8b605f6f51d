"""Lay a verdict plate out: lines, marks, bars and words in px, for whoever paints them.

Three columns with shared rows, one row an arm, so that the sentence is the label of its own
picture: words, points on one axis, minutes on one scale. The window paints the shapes with its
own brush and a summary as SVG.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pitjournal.domain.plate import Plate, PlateRow
from pitjournal.files.summary.plate_minutes import Minutes
from pitjournal.files.summary.plate_points import points_of
from pitjournal.files.summary.plate_shapes import (
    HAIR,
    QUIET,
    PlateBand,
    PlateLine,
    PlateMark,
    PlatePicture,
    PlateRoom,
    PlateText,
)
from pitjournal.files.summary.plate_text import cut, wrapped
from pitjournal.science.scale import is_known

WIDE, NARROW = 1148.0, 844.0
"""The widths for which the columns are given; between and beyond they are worked out, px."""

COLUMNS = ((424.0, 387.0, 241.0), (300.0, 290.0, 190.0))
"""Words, points and minutes at these widths, px."""

HEAD = 30.0
NAME, LINE = 20.0, 17.0
PAD = 8.0
"""Above and below what stands in a row, px."""

CONTROL = 20
LEADING = 1.12
MOST_LINES = 2


def lay_out_plate(plate: Plate, room: PlateRoom) -> PlatePicture:
    """Return a plate laid out in a room."""
    picture = PlatePicture()
    if not plate.rows:
        _lead(picture, plate, room)
        return picture
    plate = _drawable(plate)
    columns = _columns(plate, room)
    points = points_of(plate, columns.points, room.measure)
    minutes = Minutes(plate, columns.minutes, room.measure) if plate.felt else None
    _heads(picture, plate, columns, room)
    y = HEAD
    tops: list[float] = []
    for place, row in enumerate(plate.rows):
        if place:
            picture.lines.append(PlateLine(room.edge, y, room.width - room.edge, y, ink=HAIR))
        words = _words(row, columns.words, room)
        high = max(
            words.height,
            points.height(row),
            minutes.height(row) if minutes else 0.0,
        )
        tops.append(y)
        words.put(picture, y + PAD)
        if minutes is not None:
            minutes.row(picture, row, y)
        left, right = columns.words
        picture.bands.append(PlateBand(left, y, right, y + high + 2 * PAD, row.sentence))
        y += high + 2 * PAD
    points.put(picture, tops, y)
    foot = points.foot(picture, y)
    if minutes is not None:
        foot = max(foot, minutes.foot(picture, HEAD, y))
    picture.height = y + foot
    return picture


def _drawable(plate: Plate) -> Plate:
    """Return a plate without what no axis can hold; its words stay."""
    rows = (
        replace(
            row,
            points=tuple(point for point in row.points if is_known(point.value)),
            mean=row.mean if is_known(row.mean) else None,
            this=row.this if row.this is not None and is_known(row.this.estimate) else None,
            joined=row.joined if row.joined is not None and is_known(row.joined.estimate) else None,
        )
        for row in plate.rows
    )
    return replace(plate, rows=tuple(rows))


@dataclass(frozen=True)
class Columns:
    """Where the columns lie, px: each from its left to its right."""

    words: tuple[float, float]
    points: tuple[float, float]
    minutes: tuple[float, float]


def _columns(plate: Plate, room: PlateRoom) -> Columns:
    """Return the columns for the width there is; without minutes the points take their room."""
    inner = room.width - 2 * room.edge
    wide, narrow = WIDE - 48, NARROW - 48
    share = (inner - narrow) / (wide - narrow)
    if share > 1:
        more = inner - wide
        parts = [COLUMNS[0][0] + more / 4, COLUMNS[0][1] + more / 2, COLUMNS[0][2] + more / 4]
    elif share >= 0:
        parts = [low + (high - low) * share for high, low in zip(*COLUMNS, strict=True)]
    else:
        parts = [size * inner / narrow for size in COLUMNS[1]]
    gap = (inner - sum(parts)) / 2
    if not plate.felt:
        parts[1] += gap + parts[2]
    left = room.edge
    found = []
    for size in parts:
        found.append((left, left + size))
        left += size + gap
    return Columns(found[0], found[1], found[2])


def _heads(picture: PlatePicture, plate: Plate, columns: Columns, room: PlateRoom) -> None:
    """Say over each column what it shows."""
    joined = ", packs joined" if plate.packed else ""
    heads = [
        (columns.words, ("What this cook showed",)),
        (
            columns.points,
            (
                f"{plate.measure}: each {plate.noun}{joined}, 95 % intervals",
                f"{plate.measure}: each {plate.noun}, 95 % intervals",
                f"{plate.measure}, 95 % intervals",
                plate.measure,
            ),
        ),
    ]
    if plate.felt:
        heads.append((columns.minutes, ("Stayed right, by feel", "Stayed right")))
    for (left, right), said in heads:
        fits = [one for one in said if room.measure(one, 13, True) <= right - left]
        text = fits[0] if fits else cut(said[-1], right - left, 13, room.measure, bold=True)
        picture.texts.append(PlateText(left, 22, text, bold=True, ink=QUIET))


# the words of a row


@dataclass(frozen=True)
class _Words:
    """The words of a row: the arm's name, the answer, and what it rests on."""

    row: PlateRow
    left: float
    name: str
    verdict: Sequence[str]
    size: int
    line: Sequence[str]

    @property
    def height(self) -> float:
        return NAME + self.size * LEADING * len(self.verdict) + 2 + LINE * len(self.line)

    def put(self, picture: PlatePicture, top: float) -> None:
        row, left = self.row, self.left
        picture.marks.append(PlateMark(left + 8, top + 8, row.look, 7, row.name))
        picture.texts.append(PlateText(left + 22, top + 13, self.name, 15, bold=True))
        y = top + NAME
        for text in self.verdict:
            y += self.size * LEADING
            at = y - self.size * (LEADING - 1)
            picture.texts.append(PlateText(left, at, text, self.size, bold=True))
        y += 2
        for text in self.line:
            y += LINE
            picture.texts.append(PlateText(left, y - 3, text, ink=QUIET))


def _words(row: PlateRow, column: tuple[float, float], room: PlateRoom) -> _Words:
    left, right = column
    width, measure = right - left, room.measure
    sizes = (CONTROL, 17, 15) if row.control else (room.large, room.small, CONTROL, 17)
    for size in sizes:
        verdict = wrapped(row.verdict, width, size, measure, bold=True)
        if len(verdict) <= MOST_LINES:
            break
    line = wrapped(row.line, width, 13, measure) if row.line else []
    name = cut(row.name, width - 22, 15, measure, bold=True)
    return _Words(row, left, name, verdict, size, line)


def _lead(picture: PlatePicture, plate: Plate, room: PlateRoom) -> None:
    """Say in large words what there is to say where nothing was compared."""
    width = room.width - 2 * room.edge
    y = PAD + 6
    for place, sentence in enumerate(plate.lead):
        size = 17 if place else room.small - 4
        for text in wrapped(sentence, width, size, room.measure, bold=not place):
            y += size * 1.3
            picture.texts.append(PlateText(room.edge, y - 4, text, size, bold=not place))
        y += 6
    picture.height = y + PAD
    sentence = " ".join(plate.lead)
    picture.bands.append(PlateBand(room.edge, 0, room.edge + width, picture.height, sentence))
