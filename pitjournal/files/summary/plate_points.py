"""The middle of a verdict plate: pieces, pack lines and intervals on one axis."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from pitjournal.domain.plate import Plate, PlateRow, Reach
from pitjournal.files.summary.plate_shapes import (
    GRID,
    QUIET,
    THREAD,
    Measure,
    PlateLine,
    PlateMark,
    PlatePicture,
    PlateText,
)
from pitjournal.files.summary.plate_text import cut
from pitjournal.science.scale import is_known, multiples, round_step, span_about
from pitjournal.units.figures import trimmed

MARK, THIS, JOINED = 6.5, 5.0, 8.0
CLOSE, SHIFT = 13.0, 7.0
"""Marks nearer to each other move up and down by so much, px."""

HEAP = 32.0
"""Marks at one value take no more height than this, px."""

STEP = 32.0
FIRST = 26.0
"""From the top of a row to its pieces, px; the control has its labels above them."""

CONTROL_FIRST = 60.0
LABEL = 80.0
"""A label stands before its interval where there is less room behind it, px."""

MOST_NAMED = 8
"""So many packs are named over the control's marks."""

FOOT = 50.0
WIDEST = 1.6
"""An interval reaches no further than so many spans of the pieces; it is cut with an arrow."""


@dataclass(frozen=True)
class Points:
    """The axis and what stands on it."""

    plate: Plate
    left: float
    right: float
    low: float
    high: float
    measure: Measure

    @property
    def known(self) -> bool:
        """Whether anything can be drawn."""
        return any(row.points for row in self.plate.rows)

    @property
    def zero(self) -> float | None:
        """The control's mean, where no difference is."""
        control = self.plate.control
        return None if control is None else control.mean

    def at(self, value: float) -> float:
        """Return where a value stands, px."""
        share = (value - self.low) / (self.high - self.low)
        return self.left + min(max(share, -1.0), 2.0) * (self.right - self.left)

    def height(self, row: PlateRow) -> float:
        """Return what a row needs within its pads, px."""
        if not self.known:
            return 40.0
        if row.control:
            return CONTROL_FIRST
        return FIRST + STEP * len(list(self._reaches(row))) - 6

    def _reaches(self, row: PlateRow) -> Iterator[tuple[Reach, bool]]:
        if self.zero is None or row.control:
            return
        if row.this is not None:
            yield row.this, False
        if row.joined is not None:
            yield row.joined, True

    # what is drawn

    def put(self, picture: PlatePicture, tops: Sequence[float], bottom: float) -> None:
        """Lay out the grid, the pack lines, and each row."""
        if not self.known:
            words = cut("Nothing to draw yet", self.right - self.left, 13, self.measure)
            picture.texts.append(PlateText(self.left, tops[0] + 30, words, ink=QUIET))
            return
        for value in self._ticks():
            x = self.at(value)
            picture.lines.append(PlateLine(x, tops[0] + 6, x, bottom, ink=GRID))
        if self.zero is not None:
            x = self.at(self.zero)
            top = tops[0] + 26
            picture.lines.append(PlateLine(x, top, x, bottom + 14, 1.6, dashed=True))
        places = [
            self._spots(row, top + (CONTROL_FIRST if row.control else FIRST))
            for row, top in zip(self.plate.rows, tops, strict=True)
        ]
        self._packs(picture, places)
        for row, top, spots in zip(self.plate.rows, tops, places, strict=True):
            for (x, y), point in zip(spots, row.points, strict=True):
                name = f"{point.label}: {trimmed(round(point.value, 2))}"
                picture.marks.append(PlateMark(x, y, row.look, MARK, name))
            if row.control:
                self._over_control(picture, row, top, spots)
            for place, (reach, joined) in enumerate(self._reaches(row), 1):
                self._reach(picture, row, reach, top + FIRST + STEP * place, joined=joined)

    def _spots(self, row: PlateRow, y: float) -> list[tuple[float, float]]:
        """Return where each piece stands; those that would touch stand over each other."""
        order = sorted(range(len(row.points)), key=lambda n: row.points[n].value)
        heaps: list[list[tuple[int, float]]] = []
        for number in order:
            x = self.at(row.points[number].value)
            if heaps and x - heaps[-1][-1][1] < CLOSE:
                heaps[-1].append((number, x))
            else:
                heaps.append([(number, x)])
        found: dict[int, tuple[float, float]] = {}
        for heap in heaps:
            apart = min(2 * SHIFT, HEAP / max(len(heap) - 1, 1))
            for place, (number, x) in enumerate(heap):
                found[number] = x, y + apart * (place - (len(heap) - 1) / 2)
        return [found[number] for number in range(len(row.points))]

    def _packs(
        self, picture: PlatePicture, places: Sequence[Sequence[tuple[float, float]]]
    ) -> None:
        """Join the pieces of a pack from row to row."""
        packs = dict.fromkeys(p.pack for row in self.plate.rows for p in row.points if p.pack)
        for pack in packs:
            rows = [
                [spot for spot, point in zip(spots, row.points, strict=True) if point.pack == pack]
                for row, spots in zip(self.plate.rows, places, strict=True)
            ]
            for here, there in pairwise([spots for spots in rows if spots]):
                for (x1, y1), (x2, y2) in zip(here, there, strict=False):
                    picture.lines.append(PlateLine(x1, y1, x2, y2, 1.2, THREAD))

    def _over_control(
        self,
        picture: PlatePicture,
        row: PlateRow,
        top: float,
        spots: Sequence[tuple[float, float]],
    ) -> None:
        """Name the control over its mean, and the packs over its pieces, where they have room."""
        if row.mean is not None:
            text = f"{row.name.casefold()}, {trimmed(round(row.mean, 2), 3)}"
            text = cut(text, self.right - self.left, 13, self.measure)
            wide = self.measure(text, 13, False)
            left = self._within(self.at(row.mean) - wide / 2, wide)
            picture.texts.append(PlateText(left, top + 20, text, ink=QUIET, lifted=wide))
        named = [(x, y, p.pack) for (x, y), p in zip(spots, row.points, strict=True) if p.pack]
        if not self.plate.packed or len(named) > MOST_NAMED:
            return
        free = -math.inf
        for place, (x, y, pack) in enumerate(sorted(named)):
            short = pack.removeprefix("pack ").removeprefix("Pack ")
            last = place == len(named) - 1
            text = f"pack {short}" if last and short.isdecimal() else short
            wide = self.measure(text, 13, False)
            left = self._within(x - wide / 2, wide)
            if left >= free and wide < LABEL:
                at = min(y - 12, top + CONTROL_FIRST - 12)
                picture.texts.append(PlateText(left, at, text, ink=QUIET))
                free = left + wide + 5

    def _within(self, left: float, wide: float) -> float:
        return min(max(left, self.left), max(self.right - wide, self.left))

    def _reach(
        self, picture: PlatePicture, row: PlateRow, reach: Reach, y: float, *, joined: bool
    ) -> None:
        """Lay out a difference: its interval, its mark, and what it is of."""
        zero = self.zero
        assert zero is not None
        x = self.at(zero + reach.estimate)
        ends = [x - JOINED, x + JOINED]
        if is_known(reach.low) and is_known(reach.high):
            assert reach.low is not None
            assert reach.high is not None
            low, high = self.at(zero + reach.low), self.at(zero + reach.high)
            edges = max(low, self.left), min(high, self.right)
            width = 6.0 if joined else 2.4
            picture.lines.append(PlateLine(edges[0], y, edges[1], y, width, look=row.look))
            for at, edge, way in ((low, edges[0], -1), (high, edges[1], 1)):
                cut_off = abs(at - edge) > 0.5
                _end(picture, edge, y, row.look, way * cut_off)
            ends = [min(edges[0], ends[0]), max(edges[1], ends[1])]
        if self.left <= x <= self.right:
            picture.marks.append(PlateMark(x, y, row.look, JOINED if joined else THIS, reach.words))
        wide = self.measure(reach.words, 13, joined)
        behind = self.right - ends[1] >= min(wide + 10, LABEL)
        left = ends[1] + 8 if behind else ends[0] - 8 - wide
        if left < self.left:  # no room on either side: below it
            left, y = self._within((ends[0] + ends[1]) / 2 - wide / 2, wide), y + 14
        ink = "ink" if joined else QUIET
        text = PlateText(left, y + 4.5, reach.words, bold=joined, ink=ink, lifted=wide)
        picture.texts.append(text)

    # the foot

    def foot(self, picture: PlatePicture, top: float) -> float:
        """Lay out the scores and the differences below; return how high that is, px."""
        if not self.known:
            return 12.0
        free = -math.inf
        for value in self._ticks():
            free = self._number(picture, self.at(value), top + 17, trimmed(value, 6), free)
        zero, control = self.zero, self.plate.control
        if zero is None or control is None:
            return 30.0
        y = top + 25
        picture.lines.append(PlateLine(self.left, y, self.right, y, ink=GRID))
        free = -math.inf
        for value in multiples(self.low - zero, self.high - zero, self._step()):
            x = self.at(zero + value)
            picture.lines.append(PlateLine(x, y - 3, x, y + 3, ink=QUIET))
            free = self._number(picture, x, y + 17, trimmed(value, 6, signed=True), free)
        unit = "" if self.plate.unit == "points" else f", {self.plate.unit}"
        for words, line in (
            (f"{_short(self.plate)}{unit}", top + 17),
            (f"against {control.name.casefold()}{unit}", y + 17),
        ):
            text = cut(words, self.left - 40, 13, self.measure)
            left = self.left - 10 - self.measure(text, 13, False)
            picture.texts.append(PlateText(left, line, text, ink=QUIET))
        return FOOT

    def _number(self, picture: PlatePicture, x: float, y: float, text: str, free: float) -> float:
        """Put a number under its place where it has room; return where the next one may begin."""
        wide = self.measure(text, 13, False)
        left = min(x - wide / 2, self.right - wide)
        if left < free:
            return free
        picture.texts.append(PlateText(left, y, text, ink=QUIET))
        return left + wide + 8

    def _step(self) -> float:
        most = max(int((self.right - self.left) // 60), 2)
        minutes = self.plate.unit == "min"
        return round_step(self.high - self.low, most, (1.0, 2.0, 5.0, 10.0), minutes=minutes)

    def _ticks(self) -> list[float]:
        return multiples(self.low, self.high, self._step())


def _short(plate: Plate) -> str:
    return "score" if plate.unit == "points" else plate.measure[:1].lower() + plate.measure[1:]


def _end(picture: PlatePicture, x: float, y: float, look: int, way: int) -> None:
    """End an interval with a tick, or with an arrow where it goes on beyond the axis."""
    if not way:
        picture.lines.append(PlateLine(x, y - 5, x, y + 5, 1.6, look=look))
        return
    for side in (-5, 5):
        picture.lines.append(PlateLine(x - 5 * way, y + side, x, y, 1.6, look=look))


def points_of(plate: Plate, column: tuple[float, float], measure: Measure) -> Points:
    """Return the axis of a plate: all pieces, and the intervals as far as they leave them room."""
    values = [p.value for row in plate.rows for p in row.points if is_known(p.value)]
    control = plate.control
    zero = None if control is None else control.mean
    edges = list(values)
    if values and zero is not None:
        room = WIDEST * max(max(values) - min(values), 1e-9)
        for row in plate.rows:
            for reach in (row.this, row.joined):
                if reach is None or row.control:
                    continue
                told = [zero + v for v in (reach.estimate, reach.low, reach.high) if v is not None]
                edges += [v for v in told if min(values) - room <= v <= max(values) + room]
    low, high = span_about(edges, 0.05)
    return Points(plate, *column, low, high, measure)
