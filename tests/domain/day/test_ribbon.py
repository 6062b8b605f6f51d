"""A cook's day as a ribbon, whatever was logged or planned, in any order, and what is missing."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.domain.cook import Arm, CookStatus
from pitjournal.domain.day.course import Part, Stretch
from pitjournal.domain.day.on_time import time_on
from pitjournal.domain.day.ribbon import Ribbon, ribbon_of, sections_of, slices_of
from pitjournal.domain.day.ribbon_axis import axis_of
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.event import Event, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.ribbon import lay_out
from pitjournal.files.summary.ribbon_shapes import Room
from pitjournal.files.summary.ribbon_words import ribbon_sentence, ribbon_table
from tests.builders import a_cook

START = datetime(2026, 10, 31, 12, 0, tzinfo=UTC)
COOK = a_cook(status=CookStatus.RUNNING)
ARMS = (
    Arm(cook_id=COOK.id, position=0, name="Left alone", control=True),
    Arm(cook_id=COOK.id, position=1, name="Injected"),
)
PIECES = tuple(
    Piece(cook_id=COOK.id, position=n, label=f"P{n}", cut="St. Louis ribs", arm_id=ARMS[n % 2].id)
    for n in range(4)
)
IDS = [piece.id for piece in PIECES]
KINDS = (
    "lit",
    "on",
    "wrap",
    "unwrap",
    "off",
    "held",
    "sliced",
    "boxed",
    "flip",
    "lid",
    "my own doing",
    StepKind.TRIM,
    StepKind.INJECT,
    StepKind.RUB,
    StepKind.PROBE,
    StepKind.TURN_IN,
)


def happened(kind: str, minutes: float, *pieces: Piece, **details: str) -> Event:
    at = START + timedelta(minutes=minutes)
    ids = tuple(piece.id for piece in pieces)
    return Event(
        cook_id=COOK.id, kind=kind, happened_at=at, entered_at=at, pieces=ids, details=details
    )


def planned(kind: str, minutes: float, *pieces: Piece, takes: float | None = None) -> Event:
    at = START + timedelta(minutes=minutes)
    ids = tuple(piece.id for piece in pieces)
    return Event(
        cook_id=COOK.id,
        kind=kind,
        happened_at=None,
        entered_at=START,
        planned_at=at,
        pieces=ids,
        takes=takes,
    )


def a_whole(*events: Event, status: CookStatus = CookStatus.RUNNING) -> WholeCook:
    cook = replace(COOK, status=status)
    return WholeCook(cook=cook, arms=ARMS, pieces=PIECES, events=events)


@st.composite
def any_event(draw: st.DrawFn) -> Event:
    kind = draw(st.sampled_from(KINDS))
    pieces = draw(st.lists(st.sampled_from(PIECES), unique_by=lambda one: one.id, max_size=4))
    minutes = draw(st.integers(-900, 2000))
    if draw(st.booleans()):
        return happened(kind, minutes, *pieces, **draw(st.sampled_from([{}, {"wrap": "foil"}])))
    return planned(kind, minutes, *pieces, takes=draw(st.sampled_from([None, 0.0, 1200.0])))


EVENTS = st.lists(any_event(), max_size=14)
NOWS = st.integers(-1000, 2500).map(lambda minutes: START + timedelta(minutes=minutes))
STATUSES = st.sampled_from(CookStatus)


def stretches(ribbon: Ribbon) -> list[Stretch]:
    return [s for lane in ribbon.lanes for course in lane.courses for s in course]


@given(EVENTS, NOWS, STATUSES)
@settings(deadline=None)
def test_that_each_piece_is_in_one_lane_and_does_one_thing_at_a_time(
    events: list[Event], now: datetime, status: CookStatus
) -> None:
    ribbon = ribbon_of(a_whole(*events, status=status), now)
    assert sorted(one for lane in ribbon.lanes for one in lane.pieces) == sorted(IDS)
    for lane in ribbon.lanes:
        assert len(lane.courses) == len(lane.pieces)
        for course in lane.courses:
            assert all(s.end > s.start for s in course)
            assert all(a.end <= b.start for a, b in pairwise(course))


@given(EVENTS, NOWS, STATUSES)
@settings(deadline=None)
def test_that_solid_is_what_happened_and_comes_before_what_is_planned(
    events: list[Event], now: datetime, status: CookStatus
) -> None:
    ribbon = ribbon_of(a_whole(*events, status=status), now)
    done = [e.happened_at.timestamp() for e in events if e.happened_at]
    until = max([now.timestamp(), *done])
    for stretch in stretches(ribbon):
        assert stretch.planned or (done and stretch.end <= until)
        assert not stretch.open or (not stretch.planned and stretch.end >= now.timestamp())
    for lane in ribbon.lanes:
        for course in lane.courses:
            hollow = [s.start for s in course if s.planned]
            solid = [s.end for s in course if not s.planned]
            assert not (hollow and solid) or max(solid) <= min(hollow)


@given(EVENTS, NOWS, STATUSES, st.randoms())
@settings(deadline=None)
def test_that_the_order_of_the_log_says_nothing(
    events: list[Event], now: datetime, status: CookStatus, chance: object
) -> None:
    by_time = sorted(events, key=lambda e: (e.happened_at or e.planned_at or START, e.id))
    other = list(events)
    chance.shuffle(other)  # type: ignore[attr-defined]
    one, two = (ribbon_of(a_whole(*log, status=status), now) for log in (by_time, other))
    assert one.lanes == two.lanes
    assert [(m.word, m.at, set(m.pieces)) for m in one.marks] == [
        (m.word, m.at, set(m.pieces)) for m in two.marks
    ]


@given(st.integers(0, 300), st.integers(1, 600), st.integers(0, 600), st.booleans())
def test_that_time_over_the_fire_is_the_time_on_that_every_page_says(
    on: int, lasts: int, wrap: int, is_off: bool
) -> None:
    piece = PIECES[0]
    log = [happened("lit", -40), happened("on", on), happened("wrap", on + wrap)]
    if is_off:
        log.append(happened("off", on + lasts))
    now = START + timedelta(minutes=on + lasts)
    log = [e for e in log if e.happened_at and e.happened_at <= now]
    course = ribbon_of(a_whole(*log), now).lanes[0].courses[0]
    fire = sum(s.end - s.start for s in course if s.part in {Part.ON, Part.WRAPPED})
    assert timedelta(seconds=fire) == time_on(log, [piece.id], now)


def test_that_an_open_wrap_goes_to_now_and_on_as_planned() -> None:
    log = (happened("on", 0), happened("wrap", 120, wrap="foil"), planned("off", 300, takes=1200.0))
    now = START + timedelta(minutes=200)
    (on, solid, hollow, rest) = ribbon_of(a_whole(*log), now).lanes[0].courses[0]
    assert (on.part, on.planned) == (Part.ON, False)
    assert (solid.part, solid.open, solid.word) == (Part.WRAPPED, True, "foil")
    assert solid.end == hollow.start == now.timestamp()
    assert (hollow.part, hollow.planned, hollow.word) == (Part.WRAPPED, True, "foil")
    assert (rest.part, rest.end - rest.start) == (Part.REST, 1200.0)


def test_that_lanes_part_only_where_arms_differ() -> None:
    even, odd = PIECES[::2], PIECES[1::2]
    log = (
        happened("on", 0),
        happened("wrap", 120, *odd),
        happened("off", 300, *even),
        happened("off", 300, *odd),
    )
    whole = a_whole(*log)
    slices = slices_of(ribbon_of(whole, START + timedelta(minutes=330)))
    minutes = [
        ((s.start - START.timestamp()) / 60, (s.end - START.timestamp()) / 60, s.same)
        for s in slices
    ]
    assert minutes == [(0, 120, True), (120, 300, False), (300, 330, True)]


def test_that_pieces_that_come_off_one_by_one_lower_the_bar_step_by_step() -> None:
    log = (happened("on", 0), happened("off", 240, PIECES[0]), happened("off", 270, *PIECES[1:]))
    slices = slices_of(ribbon_of(a_whole(*log), START + timedelta(minutes=280)))
    shares = [{s.part: s.count for s in one.lanes[0]} for one in slices]
    assert shares == [{"on": 2}, {"on": 1, "rest": 1}, {"rest": 2}]


def test_that_an_off_that_was_never_logged_makes_no_time_up() -> None:
    log = (happened("lit", 0), happened("on", 40), happened("wrap", 200))
    done = a_whole(*log, status=CookStatus.DONE)
    course = ribbon_of(done, START + timedelta(days=40)).lanes[0].courses[0]
    assert max(s.end for s in course) == (START + timedelta(minutes=200)).timestamp()


def test_that_a_cook_left_running_on_another_day_stops_where_its_log_does() -> None:
    whole = a_whole(happened("on", 0), happened("off", 300))
    ribbon = ribbon_of(whole, START + timedelta(days=9))
    assert ribbon.now is None
    assert max(s.end for s in stretches(ribbon)) <= (START + timedelta(minutes=300)).timestamp()


def test_that_three_hours_over_the_night_the_clocks_go_back_are_four() -> None:
    """The clocks of Chicago go back from 2:00 to 1:00 on 1 November 2026 (IANA, tzdata)."""
    place = ZoneInfo("America/Chicago")
    on = datetime(2026, 11, 1, 0, 30, tzinfo=place).astimezone(UTC)
    off = datetime(2026, 11, 1, 3, 30, tzinfo=place).astimezone(UTC)
    log = [replace(happened(kind, 0), happened_at=at) for kind, at in (("on", on), ("off", off))]
    ribbon = ribbon_of(a_whole(*log), off)
    (fire,) = ribbon.lanes[0].courses[0]
    assert fire.end - fire.start == 4 * 3600
    axis = axis_of(ribbon, 0.0, 400.0)
    assert axis.at(on.timestamp() + 2 * 3600) == pytest.approx(200.0)


def test_that_the_night_before_has_its_own_piece_of_the_ribbon() -> None:
    night = planned(StepKind.TRIM, -14 * 60, takes=1800.0)
    day = (planned("lit", -45), planned("on", 0), planned("off", 300), planned("taste", 360))
    ribbon = ribbon_of(a_whole(night, *day, status=CookStatus.PLANNED), START - timedelta(days=3))
    assert len(sections_of(ribbon)) == 2
    axis = axis_of(ribbon, 0.0, 1000.0)
    assert len(axis.breaks) == 1
    assert axis.sections[0].right == pytest.approx(200.0)
    assert ribbon.now is None


@given(EVENTS, NOWS, STATUSES, st.integers(120, 1400))
@settings(deadline=None)
def test_that_a_place_on_the_axis_is_the_moment_that_stands_there(
    events: list[Event], now: datetime, status: CookStatus, width: int
) -> None:
    ribbon = ribbon_of(a_whole(*events, status=status), now)
    axis = axis_of(ribbon, 0.0, float(width))
    places = [axis.at(mark.at) for mark in ribbon.marks]
    assert places == sorted(places)
    if axis.sections[axis.main].right - axis.sections[axis.main].left < 2:
        return
    for section in axis.sections:
        middle = (section.left + section.right) / 2
        assert axis.at(axis.time(middle)) == pytest.approx(middle, abs=0.1)


def room_of(ribbon: Ribbon, width: float) -> Room:
    axis = axis_of(ribbon, 4.0, width - 4.0)
    return Room(
        axis, width, 30.0, 36.0, 2, lambda text, _heavy: 7.0 * len(text), lambda at: f"{at:.0f}"
    )


@given(EVENTS, NOWS, STATUSES, st.integers(300, 1400))
@settings(deadline=None)
def test_that_no_words_of_a_ribbon_lie_over_each_other_and_no_box_outside(
    events: list[Event], now: datetime, status: CookStatus, width: int
) -> None:
    ribbon = ribbon_of(a_whole(*events, status=status), now)
    picture = lay_out(ribbon, room_of(ribbon, float(width)))
    lines: dict[float, list[tuple[float, float]]] = {}
    for word in picture.words:
        lines.setdefault(word.y, []).append((word.x, word.x + 7.0 * len(word.text)))
    for spans in lines.values():
        assert all(a[1] <= b[0] + 0.01 for a, b in pairwise(sorted(spans)))
    for box in picture.boxes:
        assert box.width >= 0
        assert box.x >= -1
        assert box.right <= width + 1
        assert box.y >= 29
        assert box.y + box.height <= 30 + picture.bar + 1


@given(EVENTS, NOWS, STATUSES)
@settings(deadline=None)
def test_that_words_and_table_have_everything(
    events: Sequence[Event], now: datetime, status: CookStatus
) -> None:
    ribbon = ribbon_of(a_whole(*events, status=status), now)
    said = ribbon_sentence(ribbon, lambda at: f"@{at:.0f}")
    assert said.endswith(".")
    rows = ribbon_table(ribbon, lambda at: f"@{at:.0f}")
    assert len(rows) == len(ribbon.marks) + 1
    if len(ribbon.marks) <= 12:
        assert all(mark.word in said for mark in ribbon.marks)


def test_that_the_sentence_says_it_as_a_cook_would() -> None:
    log = (
        happened("lit", -45),
        happened(EventKind.ON, 0),
        happened("wrap", 120, *PIECES[1::2], wrap="foil"),
        planned("off", 300),
    )
    ribbon = ribbon_of(a_whole(*log), START + timedelta(minutes=200))
    clock = lambda at: f"{datetime.fromtimestamp(at, UTC):%H:%M}"  # noqa: E731 - a clock
    assert ribbon_sentence(ribbon, clock) == (
        "So far lit 11:15, on 12:00, wrap in foil 14:00 for Injected. "
        "On now: Left alone; Wrapped in foil now: Injected. Planned off 17:00."
    )
