"""Bounds of the window by arm, against hand-made checks."""

from pitjournal.analysis.findings.leeway import (
    NOT_BEFORE,
    NOT_FELT,
    NOT_PAST,
    leeways,
    piece_windows,
)
from pitjournal.analysis.findings.wording import leeway_sentence
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import felt, happened
from tests.builders import a_cook


def a_whole(*feels: tuple[tuple[float, int], ...], off: float) -> WholeCook:
    cook = a_cook()
    arm = Arm(cook_id=cook.id, position=0, name="Left alone", control=True)
    pieces: list[Piece] = []
    checks: list[DonenessCheck] = []
    for number, given in enumerate(feels):
        piece = Piece(
            cook_id=cook.id, position=number, label=f"A{number}", cut="brisket", arm_id=arm.id
        )
        pieces.append(piece)
        checks += felt(cook, piece, *given)
    events: tuple[Event, ...] = happened(cook, on=0, off=off)
    ordered: list[DonenessCheck] = sorted(checks, key=lambda check: check.at)
    return WholeCook(
        cook=cook, arms=(arm,), pieces=tuple(pieces), checks=tuple(ordered), events=events
    )


def test_that_a_piece_past_right_bounds_both_ends() -> None:
    whole = a_whole(((200, 2), (215, 4), (245, 4), (260, 6)), off=261)
    time = leeways(whole)[0]
    assert time.axis == "time"
    assert time.known
    assert time.at_least == 1800.0  # 245 − 215 min
    assert time.at_most == 3600.0  # 260 − 200 min
    (window,) = (w for w in piece_windows(whole) if w.axis == "time")
    assert (window.first_right, window.last_right) == (900.0, 2700.0)
    assert not window.off_right


def test_that_a_pull_while_right_is_no_end() -> None:
    whole = a_whole(((200, 2), (215, 4), (230, 5)), off=231)
    time = leeways(whole)[0]
    assert not time.known
    assert time.at_most is None
    assert time.reason == NOT_PAST
    assert piece_windows(whole)[0].off_right


def test_that_a_first_feel_that_is_right_already_asks_to_probe_earlier() -> None:
    whole = a_whole(((215, 4), (245, 4), (260, 7)), off=261)
    time = leeways(whole)[0]
    assert time.reason == NOT_BEFORE
    assert "probe earlier" in leeway_sentence(leeways(whole))
    assert "past right" not in leeway_sentence(leeways(whole))


def test_that_nothing_felt_is_nothing_known() -> None:
    time, degrees, hold = leeways(a_whole((), off=200))
    assert time.reason == NOT_FELT
    assert time.at_least is None
    assert not degrees.known
    assert not hold.known
