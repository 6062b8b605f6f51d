"""Where a moment stands on a ribbon: long gaps in which nothing happens are left out."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pitjournal.domain.day.ribbon import Ribbon, sections_of

BREAK = 40.0
"""What a gap takes at most, px."""

OTHERS = 0.3
"""All gaps together take no more of the whole, nor do all sections beside the day."""

NIGHT, NIGHT_SHARE = 212.0, 0.2
"""What a section before the day takes at most, px, and of the whole."""

LEAST = 600.0
"""No section is shorter, s."""


@dataclass(frozen=True)
class Section:
    """A stretch of time, s since 1970, and where it lies, px."""

    start: float
    end: float
    left: float
    right: float

    def at(self, time: float) -> float:
        """Return where a moment stands, px."""
        share = (time - self.start) / (self.end - self.start)
        return self.left + share * (self.right - self.left)

    def time(self, x: float) -> float:
        """Return the moment at a place."""
        share = (x - self.left) / max(self.right - self.left, 1.0)
        return self.start + share * (self.end - self.start)


@dataclass(frozen=True)
class RibbonAxis:
    """Sections in time order, at least one; `main` is the one of the fire."""

    sections: tuple[Section, ...]
    main: int = 0

    def section_at(self, time: float) -> Section:
        """Return the section of a moment, or the one nearest before it."""
        found = self.sections[0]
        for section in self.sections:
            if time >= section.start:
                found = section
        return found

    def at(self, time: float) -> float:
        """Return where a moment stands, px; in a gap, in the middle of the break."""
        here = self.section_at(time)
        place = self.sections.index(here)
        if time > here.end and place + 1 < len(self.sections):
            return (here.right + self.sections[place + 1].left) / 2
        return min(max(here.at(time), -1e5), 1e5)

    def time(self, x: float) -> float:
        """Return the moment at a place, px."""
        near = min(self.sections, key=lambda s: max(s.left - x, x - s.right, 0.0))
        return near.time(x)

    @property
    def breaks(self) -> tuple[float, ...]:
        """Where the ribbon is broken, px."""
        return tuple((one.right + two.left) / 2 for one, two in pairwise(self.sections))


def axis_of(ribbon: Ribbon, left: float, right: float) -> RibbonAxis:
    """Return the axis of a ribbon between two places, px; the day takes most of it."""
    spans = sections_of(ribbon) or ((0.0, LEAST),)
    main = _main(ribbon, spans)
    space, more = right - left, len(spans) - 1
    broken = min(BREAK, OTHERS * space / max(more, 1))
    widths = [min(NIGHT, NIGHT_SHARE * space, OTHERS * space / max(more, 1))] * len(spans)
    widths[main] = 0.0
    widths[main] = max(space - sum(widths) - broken * more, 1.0)
    sections, x = [], left
    for (start, end), width in zip(spans, widths, strict=True):
        sections.append(Section(start, max(end, start + LEAST), x, x + width))
        x += width + broken
    return RibbonAxis(tuple(sections), main)


def _main(ribbon: Ribbon, spans: Sequence[tuple[float, float]]) -> int:
    """Return the section of the fire: the one that most of the courses lie in."""
    stretches = [s for lane in ribbon.lanes for course in lane.courses for s in course]

    def cooked(span: tuple[float, float]) -> float:
        return sum(s.end - s.start for s in stretches if span[0] <= s.start <= span[1])

    return max(range(len(spans)), key=lambda place: (cooked(spans[place]), place))
