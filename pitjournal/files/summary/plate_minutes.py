"""The right of a verdict plate: how long each piece stayed right, on one scale from 0."""

from pitjournal.domain.plate import Plate, PlateRow, Stay
from pitjournal.files.summary.plate_shapes import (
    GRID,
    QUIET,
    Measure,
    PlateBar,
    PlateLine,
    PlatePicture,
    PlateText,
    PlateTip,
)
from pitjournal.files.summary.plate_text import cut
from pitjournal.science.scale import is_known, multiples, round_step
from pitjournal.units.figures import figure

FEW = 4
"""Beyond so many pieces an arm bars are low and bear no names."""

BAR, PITCH = 11.0, 20.0
LOW_BAR, LOW_PITCH = 7.0, 12.0
LEAST = 15.0
"""The scale is at least so long, min."""

TIP = 9.0
HATCH = 5.0
LEGEND = (("bar", "at least"), ("hatch", "perhaps"), ("tip", "off while right"))
NAMES = 40.0
BEYOND = 20.0
"""Words may reach so far into the edge of the plate, px."""


class Minutes:
    """The scale and the bars of every arm."""

    def __init__(self, plate: Plate, column: tuple[float, float], measure: Measure) -> None:
        self._left, self._right = column
        self._measure = measure
        most = max(len(row.stays) for row in plate.rows)
        self._named = most <= FEW
        self._bar, self._pitch = (BAR, PITCH) if self._named else (LOW_BAR, LOW_PITCH)
        stays = [stay for row in plate.rows for stay in row.stays]
        names = [measure(stay.label, 13, False) for stay in stays]
        self._names = min(max(names, default=0.0), NAMES) + 8 if self._named else 0.0
        ends = [end for stay in stays for end in (stay.least, stay.most) if is_known(end)]
        self._most = max([LEAST, *(end for end in ends if end is not None)]) * 1.04
        self._rows = plate.rows

    def _at(self, minutes: float) -> float:
        left, right = self._left + self._names, self._right - TIP
        return left + (right - left) * min(max(minutes / self._most, 0.0), 1.0)

    def height(self, row: PlateRow) -> float:
        """Return what a row needs within its pads, px."""
        return self._pitch * len(row.stays) + 18

    def row(self, picture: PlatePicture, row: PlateRow, top: float) -> None:
        """Lay out the bars of an arm's pieces, and what they come to."""
        y = top + 12
        for stay in row.stays:
            self._stay(picture, row.look, stay, y)
            y += self._pitch
        told = any(stay.least is not None for stay in row.stays)
        room = self._right + BEYOND - self._left
        text = cut(row.stayed, room, 13, self._measure, bold=told)
        wide = self._measure(text, 13, told)
        indent = self._names if told and wide + self._names <= room else 0.0
        ink = "ink" if told else QUIET
        picture.texts.append(PlateText(self._left + indent, y + 14, text, bold=told, ink=ink))

    def _stay(self, picture: PlatePicture, look: int, stay: Stay, y: float) -> None:
        if self._named:
            label = cut(stay.label, NAMES, 13, self._measure)
            picture.texts.append(PlateText(self._left, y + self._bar - 1, label, ink="ink"))
        zero = self._at(0)
        if stay.least is None or not is_known(stay.least):
            words = "not right" if self._named else ""
            picture.texts.append(PlateText(zero, y + self._bar - 1, words, ink=QUIET))
            return
        end = max(self._at(stay.least), zero + 3)
        picture.bars.append(PlateBar(zero, y, end - zero, self._bar, look))
        if stay.most is not None and is_known(stay.most) and stay.most > stay.least:
            far = self._at(stay.most)
            _hatched(picture, PlateBar(end, y, far - end, self._bar, look, filled=False))
        elif stay.off_right:
            picture.tips.append(PlateTip(end, y + self._bar / 2, self._bar / 2 + 2, look, TIP))

    def foot(self, picture: PlatePicture, top: float, bottom: float) -> float:
        """Lay out the scale and what the bars mean; return how high that is, px."""
        room = self._right - self._left
        step = round_step(self._most, max(int(room // 50), 2), minutes=True)
        free = -1e9
        places = multiples(0, self._most, step)
        grid = []
        for place in places:
            x = self._at(place)
            grid.append(PlateLine(x, top + 6, x, bottom, ink=GRID))
            bare = figure(place)
            text = f"{bare} min" if place == places[-1] else bare
            wide = self._measure(text, 13, False)
            number = self._measure(bare, 13, False)
            left = min(x - number / 2, self._right + BEYOND - wide)
            if left >= free:
                picture.texts.append(PlateText(left, bottom + 17, text, ink=QUIET))
                free = left + wide + 8
        picture.lines[:0] = grid
        return self._legend(picture, bottom + 42) - bottom + 10

    def _legend(self, picture: PlatePicture, y: float) -> float:
        """Say what the bars mean, in as many lines as it takes; return where the last one lies."""
        stays = [stay for row in self._rows for stay in row.stays]
        shown = {
            "bar": True,
            "hatch": any(s.most is not None and s.least != s.most for s in stays),
            "tip": any(s.off_right and s.most is None for s in stays),
        }
        x = self._left
        for kind, words in LEGEND:
            if not shown[kind]:
                continue
            begin = 13 if kind == "tip" else 20
            wide = begin + self._measure(words, 13, False)
            if x > self._left and x + wide > self._right + BEYOND:
                x, y = self._left, y + 17
            if kind == "tip":
                picture.tips.append(PlateTip(x, y - 4.5, 6.0, -1, TIP))
            else:
                bar = PlateBar(x, y - 10, 16, BAR, -1, filled=kind == "bar")
                picture.bars.append(bar) if bar.filled else _hatched(picture, bar)
            picture.texts.append(PlateText(x + begin, y, words, ink=QUIET))
            x += wide + 9
        return y


def _hatched(picture: PlatePicture, bar: PlateBar) -> None:
    """Lay out an outlined bar, hatched by lines that end at its edges, whoever paints them."""
    picture.bars.append(bar)
    right, foot = bar.x + bar.width, bar.y + bar.height
    look = bar.look if bar.look >= 0 else None
    x = bar.x - bar.height + HATCH / 2
    while x < right:
        low, far = max(x, bar.x), min(x + bar.height, right)
        if far > low:
            ends = low, foot - (low - x), far, foot - (far - x)
            picture.lines.append(PlateLine(*ends, 1.2, ink=QUIET, look=look))
        x += HATCH
