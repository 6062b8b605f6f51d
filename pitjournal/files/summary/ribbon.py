"""Lay a ribbon out: boxes, strokes and words in px, for whoever paints them.

The window paints them with its own brush and a summary as SVG, so that a cook's day is one
picture everywhere.
"""

from collections.abc import Sequence
from dataclasses import replace

from pitjournal.domain.day.course import CARVING, Part
from pitjournal.domain.day.ribbon import Lane, Mark, Ribbon, Share, Slice, Style, slices_of
from pitjournal.domain.day.schedule import ENDS, StepKind
from pitjournal.domain.event import EventKind
from pitjournal.files.summary.ribbon_hump import hump_of
from pitjournal.files.summary.ribbon_shapes import (
    Box,
    Handle,
    Picture,
    Pill,
    Room,
    Stroke,
    Word,
)

BETWEEN = 3.0
"""Between two lanes, px."""

LEAST_LANE, LEAST_BOX = 14.0, 4.0
TEXT_LINE = 18.0
APART = 10.0
"""Between two words of one line, px."""

TICK, LOW_TICK, LOW = 9.0, 4.0, 20.0
"""How long the stroke of a mark is, and how long in a low bar, px."""
CLOSE = 2.0
MARK = 5.0

PILL = 22.0
"""Over a bar with less room the present is a line without its time, px."""

_STACK = (Part.LIT, Part.ON, Part.WRAPPED, Part.HELD, Part.REST, Part.SLACK, *sorted(CARVING))
_FIRST: tuple[str, ...] = (
    EventKind.LIT,
    EventKind.ON,
    EventKind.WRAP,
    EventKind.OFF,
    *sorted(ENDS),
)
_SECOND: tuple[str, ...] = (EventKind.UNWRAP, StepKind.PROBE, EventKind.FLIP, StepKind.SWAP)


def bar_height(lanes: int, wanted: float) -> float:
    """Return how high the bar is, so that no lane is too low, px."""
    if lanes <= 3:
        return wanted
    return max(wanted, LEAST_LANE * lanes + BETWEEN * (lanes - 1))


def lay_out(ribbon: Ribbon, room: Room) -> Picture:
    """Return a ribbon laid out in a room."""
    picture = Picture()
    lanes = [lane for lane in ribbon.lanes if lane.pieces]
    picture.bar = bar_height(len(lanes), room.bar)
    slices = slices_of(ribbon)
    rows = _rows(room.top, picture.bar, len(lanes))
    _courses(picture, slices, lanes, rows, room)
    first = min((one.start for one in slices), default=None)
    prepared = _prepared(picture, ribbon, lanes, rows, room, first)
    _strokes(picture, ribbon, lanes, rows, room, prepared)
    _labels(picture, ribbon, room, prepared)
    _above(picture, ribbon, room)
    if room.top >= PILL:
        _days(picture, room)
    return picture


def _rows(top: float, bar: float, lanes: int) -> list[tuple[float, float]]:
    if lanes < 2:
        return [(top, bar)]
    high = (bar - BETWEEN * (lanes - 1)) / lanes
    return [(top + place * (high + BETWEEN), high) for place in range(lanes)]


# the courses


def _courses(
    picture: Picture,
    slices: Sequence[Slice],
    lanes: Sequence[Lane],
    rows: Sequence[tuple[float, float]],
    room: Room,
) -> None:
    """Lay out who is on, wrapped or at rest; what goes on in the next slice is one box.

    Where lanes part each bears the mark of its arm, or its name where it is of no arm.
    """
    runs: dict[tuple[object, ...], Box] = {}
    before = True
    for one in slices:
        left = max(room.axis.at(one.start), room.seen[0])
        right = min(room.axis.at(one.end), room.seen[1])
        if right <= left:
            continue
        full: list[tuple[tuple[float, float], Sequence[Share], int, Lane | None]]
        if one.same:
            full = [((room.top, picture.bar), one.lanes[0], one.sizes[0], None)]
        else:
            names: list[Lane | None] = [lane if before else None for lane in lanes]
            full = list(zip(rows, one.lanes, one.sizes, names, strict=True))
        before = one.same
        for (top, high), shares, size, lane in full:
            for number, (y, height, share) in enumerate(_stacked(top, high, shares, size)):
                key = (round(y, 1), round(height, 1), share.part, share.word, share.style)
                run = runs.get(key)
                if run is not None and abs(run.right - left) < 0.5:
                    runs[key] = replace(run, width=right - run.x)
                else:
                    if run is not None:
                        picture.boxes.append(run)
                    named = lane if not number else None
                    runs[key] = _box(left, y, right - left, height, share, named)
    picture.boxes += runs.values()
    picture.boxes.sort(key=lambda box: (box.x, box.y))


def _stacked(
    top: float, high: float, shares: Sequence[Share], size: int
) -> list[tuple[float, float, Share]]:
    """Return each share of a lane with where it stands: fire above, rest below."""
    found, y = [], top
    done = size - sum(share.count for share in shares)
    ordered = sorted(shares, key=lambda share: (_STACK.index(Part(share.part)), share.word))
    for share in ordered:
        height = high * share.count / size
        found.append((y, height, share))
        y += height
    resting = {Part.REST, Part.HELD, Part.SLACK, *CARVING}
    if done and all(Part(share.part) in resting for share in ordered):
        lift = high * done / size  # what is left of a rest lies at the foot
        found = [(y + lift, height, share) for y, height, share in found]
    return found


def _box(  # noqa: PLR0917 - a box and what is in it
    x: float, y: float, width: float, height: float, share: Share, lane: Lane | None
) -> Box:
    word = {Part.WRAPPED: "wrapped"}.get(Part(share.part), share.part)
    if share.word:
        word = f"{word} in {share.word}"
    look = None if lane is None else lane.look
    if lane is not None and look is None and lane.name:
        word = f"{lane.name}: {word}"
    return Box(x, y, width, height, share.part, share.style is Style.SOLID, word, look)


# what is done before the fire


def _prepared(  # noqa: PLR0917 - what it lies among
    picture: Picture,
    ribbon: Ribbon,
    lanes: Sequence[Lane],
    rows: Sequence[tuple[float, float]],
    room: Room,
    first: float | None,
) -> set[int]:
    """Lay out what is done before the fire as boxes; return the marks whose word has its place."""
    wanted: list[tuple[int, Mark, float, float, int | None]] = []
    for place, mark in enumerate(ribbon.marks):
        if not mark.prepared or (first is not None and mark.at >= first):
            continue
        if not room.seen[0] <= room.axis.at(mark.at) <= room.seen[1]:
            continue
        for top, high, look in _rows_of(mark, lanes, rows, room.top, picture.bar):
            wanted.append((place, mark, top, high, look))
    said: set[int] = set()
    for number, (place, mark, top, high, look) in enumerate(wanted):
        left = min(room.axis.at(mark.at), room.width - LEAST_BOX)
        section = room.axis.section_at(mark.at)
        later = [
            room.axis.at(other.at)
            for _, other, y, tall, _ in wanted[number + 1 :]
            if y < top + high and top < y + tall
        ]
        fire = [room.axis.at(first)] if first is not None and first <= section.end else []
        limit = min([*(x for x in (*later, *fire) if x > left), section.right]) - 2
        natural = room.measure(mark.word, False) + (2 * MARK + 8 if look is not None else 0) + 14
        until = min(mark.until, section.end)
        width = max(min(max(room.axis.at(until) - left, natural), limit - left), LEAST_BOX)
        fits = natural <= width + 1
        picture.boxes.append(
            Box(left, top, width, high, "prepared", not mark.planned, mark.word * fits, look)
        )
        if fits:
            said.add(place)
    return said


def _rows_of(
    mark: Mark,
    lanes: Sequence[Lane],
    rows: Sequence[tuple[float, float]],
    top: float,
    bar: float,
) -> list[tuple[float, float, int | None]]:
    """Return the rows a mark stands in, with the look of the arm; the whole bar for all."""
    if not mark.pieces or len(lanes) < 2:
        return [(top, bar, None)]
    own = set(mark.pieces)
    found = [
        (*row, lane.look) for lane, row in zip(lanes, rows, strict=True) if own & set(lane.pieces)
    ]
    return [(top, bar, None)] if len(found) == len(lanes) or not found else found


# strokes


def _strokes(  # noqa: PLR0917 - what they stand among
    picture: Picture,
    ribbon: Ribbon,
    lanes: Sequence[Lane],
    rows: Sequence[tuple[float, float]],
    room: Room,
    prepared: set[int],
) -> None:
    bottom, ticked = room.top + picture.bar, -1e9
    for place, mark in enumerate(ribbon.marks):
        x = room.axis.at(mark.at)
        if not room.seen[0] <= x <= room.seen[1]:
            continue
        if room.lines:
            foot = bottom + TEXT_LINE * room.lines + 4
            picture.handles.append(Handle(place, x, room.top - 6, foot))
        if mark.kind in ENDS:
            for top, high, _ in _rows_of(mark, lanes, rows, room.top, picture.bar):
                ends = (top - 8, top + high + 3) if high == picture.bar else (top - 1, top + high)
                picture.strokes.append(Stroke(x, ends[0], x, ends[1], width=3.0))
        elif mark.kind in _FIRST or place in prepared or x - ticked < CLOSE:
            continue  # strokes nearer than that would be one
        elif not _in_box(picture, mark, x):
            picture.strokes.append(_tick(picture, x, bottom))
            ticked = x
    _stand_alone(picture, ribbon, room, bottom)


def _stand_alone(picture: Picture, ribbon: Ribbon, room: Room, bottom: float) -> None:
    """Lay out the turn-in where no step is for it, and where the ribbon is broken."""
    if ribbon.turn_in is not None and not any(m.kind in ENDS for m in ribbon.marks):
        x = room.axis.at(ribbon.turn_in)
        if room.seen[0] <= x <= room.seen[1]:
            picture.strokes.append(Stroke(x, room.top - 8, x, bottom + 3, width=3.0))
    for x in room.axis.breaks:
        for shift in (-4.0, 2.0):
            picture.strokes.append(
                Stroke(x + shift, bottom - 8, x + shift + 5, room.top + 8, "quiet")
            )


def _tick(picture: Picture, x: float, bottom: float) -> Stroke:
    """Return the stroke of a mark; of a low bar it stands below, where no words are."""
    if picture.bar < LOW:
        return Stroke(x, bottom, x, bottom + LOW_TICK)
    ink = "card" if _on_dark(picture, x, bottom - 2) else "ink"
    return Stroke(x, bottom - min(TICK, picture.bar / 4), x, bottom, ink)


def _in_box(picture: Picture, mark: Mark, x: float) -> bool:
    return mark.prepared and any(
        box.part == "prepared" and abs(box.x - x) < 0.5 for box in picture.boxes
    )


def _on_dark(picture: Picture, x: float, y: float) -> bool:
    return any(
        box.solid
        and box.part in {Part.ON, Part.LIT}
        and box.x <= x <= box.right
        and box.y <= y <= box.y + box.height
        for box in picture.boxes
    )


# words below


def _labels(picture: Picture, ribbon: Ribbon, room: Room, prepared: set[int]) -> None:
    """Put the time and the word of each mark below it, what matters most first, where it fits."""
    if not room.lines:
        picture.height = room.top + picture.bar + 4
        return
    taken: list[list[tuple[float, float]]] = [[] for _ in range(room.lines)]
    base = room.top + picture.bar + 15
    for place in sorted(range(len(ribbon.marks)), key=lambda p: _rank(ribbon.marks[p])):
        mark = ribbon.marks[place]
        clock = room.clock(mark.at)
        word = "" if place in prepared else mark.word
        wide = room.measure(f"{clock} ", False) + room.measure(word, True)
        left = min(max(room.axis.at(mark.at) - wide / 2, 0.0), max(room.width - wide, 0.0))
        for line, there in enumerate(taken):
            if all(left >= right + APART or left + wide <= begin - APART for begin, right in there):
                there.append((left, left + wide))
                y = base + TEXT_LINE * line
                picture.words.append(Word(left, y, clock, quiet=True))
                after = left + room.measure(f"{clock} ", False)
                if word:
                    picture.words.append(Word(after, y, word, bold=True))
                break
    used = max((place + 1 for place, there in enumerate(taken) if there), default=0)
    picture.height = room.top + picture.bar + 4 + TEXT_LINE * used


def _days(picture: Picture, room: Room) -> None:
    """Name the days over the bar, where nothing else stands there."""
    free, y = -1e9, room.top - 7
    taken = [(one.left, one.left + one.width) for one in (picture.pill,) if one is not None]
    hump = picture.hump
    if hump is not None:
        xs = [x for x, _ in hump.points]
        taken.append((min(*xs, hump.left), max(*xs, hump.left + room.measure(hump.text, True))))
    for at, text in room.days:
        wide = room.measure(text, False)
        left = min(max(room.axis.at(at), 0.0), room.width - wide)
        if left >= free and all(left + wide < begin or left > end for begin, end in taken):
            picture.words.append(Word(left, y, text, quiet=True))
            free = left + wide + APART


def _rank(mark: Mark) -> tuple[int, float]:
    if mark.kind in _FIRST:
        return 0, _FIRST.index(mark.kind)
    return (1 if mark.kind in _SECOND or mark.prepared else 2), mark.at


# above the bar


def _above(picture: Picture, ribbon: Ribbon, room: Room) -> None:
    """Lay out when the meat comes off, and the present."""
    bottom = room.top + picture.bar
    if ribbon.now is not None:
        x = room.axis.at(ribbon.now)
        text = f"now {room.clock(ribbon.now)}" if room.top >= PILL else ""
        wide = room.measure(text, True) + 16 if text else 0.0
        left = min(max(x - wide / 2, 0.0), room.width - wide)
        if -1 <= x <= room.width + 1:
            over = 12 if text else room.top
            picture.pill = Pill(x, room.top - over, bottom + 4, text, left, wide)
    if ribbon.fan is not None:
        picture.hump = hump_of(picture, ribbon.fan, room)
