"""Which stage a photo shows and of which piece, by what was logged. Common practice, no source."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.event import DonenessCheck, Event, EventKind, Photo
from pitjournal.domain.photo_stage import (
    as_added,
    by_stage,
    partner_of,
    photo_words,
    piece_at,
    stage_of,
)
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook

NOON = datetime(2026, 6, 6, 12, tzinfo=UTC)
COOK = Cook(number=1, title="Ribs", starts_at=NOON, zone="UTC")
ONE, TWO = (
    Piece(cook_id=COOK.id, position=place, label=label, cut="back ribs")
    for place, label in enumerate(("A1", "B1"))
)


def at(minutes: float) -> datetime:
    return NOON + timedelta(minutes=minutes)


def event(kind: str, minutes: float, *pieces: Piece) -> Event:
    return Event(
        cook_id=COOK.id,
        kind=kind,
        happened_at=at(minutes),
        entered_at=at(minutes),
        pieces=tuple(piece.id for piece in pieces),
    )


def photo(minutes: float | None, piece: Piece | None = None, stage: str = "") -> Photo:
    return Photo(
        cook_id=COOK.id,
        name="a.jpg",
        attachment="0",
        thumbnail="0",
        width=4,
        height=3,
        taken_at=None if minutes is None else at(minutes),
        piece_id=piece.id if piece else None,
        stage=stage,
    )


DAY = (
    event(EventKind.ON, 0),
    event(EventKind.LID, 50),
    event(EventKind.WRAP, 120, ONE),
    event(EventKind.OFF, 240),
    event(EventKind.SLICED, 270, TWO),
)
WHOLE = WholeCook(cook=COOK, pieces=(ONE, TWO), events=DAY)


def test_that_the_stage_is_the_one_under_way_for_the_piece() -> None:
    assert stage_of(WHOLE, photo(-5)) == "before the fire"
    assert stage_of(WHOLE, photo(51)) == "on"  # a lid dip is no stage
    assert stage_of(WHOLE, photo(130, ONE)) == "wrapped"
    assert stage_of(WHOLE, photo(130, TWO)) == "on"
    assert stage_of(WHOLE, photo(280, ONE)) == "off"
    assert stage_of(WHOLE, photo(280, TWO)) == "sliced"


def test_that_what_the_cook_says_goes_before_the_log_and_nothing_is_made_up() -> None:
    assert stage_of(WHOLE, photo(130, ONE, "sliced")) == "sliced"
    assert stage_of(WHOLE, photo(None)) == ""


def test_that_a_piece_is_filled_in_only_where_one_alone_was_concerned() -> None:
    assert piece_at(WHOLE, at(122)) == ONE.id
    assert piece_at(WHOLE, at(51)) is None  # the lid was everyone's
    assert piece_at(WHOLE, at(130)) is None  # too long after
    check = DonenessCheck(cook_id=COOK.id, piece_id=TWO.id, at=at(180))
    probed = WholeCook(cook=COOK, pieces=(ONE, TWO), checks=(check,))
    assert piece_at(probed, at(183)) == TWO.id
    assert piece_at(WholeCook(cook=COOK, pieces=(ONE,)), None) == ONE.id


def test_that_photos_stand_by_stage_and_piece() -> None:
    late, early, other = photo(140, ONE), photo(10, TWO), photo(20, ONE)
    found = by_stage(
        WholeCook(cook=COOK, pieces=(ONE, TWO), events=DAY, photos=(late, early, other))
    )
    assert list(found) == ["on", "wrapped"]
    assert list(found["on"]) == [other, early]


def test_that_of_two_stages_logged_at_once_the_first_one_counts() -> None:
    day = (event(EventKind.ON, 0), event(EventKind.WRAP, 60), event(EventKind.OFF, 60))
    whole = WholeCook(cook=COOK, pieces=(ONE, TWO), events=day)
    assert [stage_of(whole, photo(m)) for m in (0, 59, 60, 61)] == [
        "on",
        "on",
        "wrapped",
        "wrapped",
    ]


def test_that_a_photo_lies_beside_one_of_its_stage_and_another_piece() -> None:
    mine, like, same, other = photo(130, ONE), photo(10, TWO, "wrapped"), photo(140, ONE), photo(-5)
    whole = replace(WHOLE, photos=(other, same, mine, like))
    assert partner_of(whole, mine) == like
    assert partner_of(replace(whole, photos=(other, same, mine)), mine) == same
    assert partner_of(replace(whole, photos=(other, mine)), mine) == other
    assert partner_of(replace(whole, photos=(mine,)), mine) is None


def test_that_a_photo_is_called_by_its_piece_and_its_stage() -> None:
    assert photo_words(WHOLE, photo(130, ONE)) == "A1, wrapped"
    assert photo_words(WHOLE, photo(-5)) == "before the fire"


def test_that_a_photo_without_a_time_shows_what_a_running_cook_was_when_it_was_added() -> None:
    running = replace(WHOLE, cook=replace(COOK, status=CookStatus.RUNNING))
    assert as_added(running, photo(None, ONE), at(130)).stage == "wrapped"
    assert as_added(running, photo(None, TWO), at(130)).stage == "on"
    assert as_added(running, photo(50, ONE), at(130)).stage == ""  # its own time says it
    assert as_added(running, photo(None, ONE, "off"), at(130)).stage == "off"
    done = replace(WHOLE, cook=replace(COOK, status=CookStatus.DONE))
    assert as_added(done, photo(None, ONE), at(3000)).stage == ""
