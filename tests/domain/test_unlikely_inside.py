"""What is asked of a probe before it is kept. All of it is common practice, no source."""

from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.unlikely_inside import unlikely_inside
from pitjournal.domain.whole_cook import WholeCook
from tests.builders import NOON, a_cook, an_event


def probe(
    piece: Piece, minutes: float, fahrenheit: float, feel: int | None = None
) -> DonenessCheck:
    celsius = (fahrenheit - 32) / 1.8
    at = NOON + timedelta(minutes=minutes)
    return DonenessCheck(
        cook_id=piece.cook_id,
        piece_id=piece.id,
        at=at,
        internal=celsius,
        feel=feel,
    )


@pytest.fixture
def whole() -> WholeCook:
    """Two lamb shoulders on since noon, the first at 198 °F seven hours later."""
    cook = a_cook()
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=f"A{n}", cut="lamb shoulder") for n in (1, 2)
    )
    on = an_event(cook.id, EventKind.ON)
    checks = (probe(pieces[0], 420, 198, 4),)
    return WholeCook(cook=cook, pieces=pieces, events=(on,), checks=checks)


@pytest.mark.parametrize(
    ("probed", "said"),
    [
        ((1, 421, 195, 4), ""),
        ((1, 421, 19, 1), "so cold"),
        ((1, 421, 95, None), "so far from the others"),
        ((1, 480, 95, 4), "right so far below"),
        ((1, 480, 95, 2), ""),  # an hour later, and hard: it may have gone on later
        ((1, 421, 295, 4), "than water boils"),
        ((0, 430, 158, None), "so much colder"),
        ((0, 430, 196, 5), ""),  # probed at another place
        ((1, 0, 168, 4), "only just gone on"),
        ((1, 0, 38, None), ""),
    ],
)
def test_that_what_a_probe_hardly_says_is_asked_about(
    whole: WholeCook, probed: tuple[int, float, float, int | None], said: str
) -> None:
    place, minutes, fahrenheit, feel = probed
    asked = unlikely_inside(whole, probe(whole.pieces[place], minutes, fahrenheit, feel))
    assert (said in asked) if said else not asked


def test_that_meat_that_rests_may_cool(whole: WholeCook) -> None:
    off = an_event(whole.cook.id, EventKind.OFF, minutes=425)
    rests = replace(whole, events=(*whole.events, off))
    assert not unlikely_inside(rests, probe(whole.pieces[0], 480, 150))
