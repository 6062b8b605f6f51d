"""A log from paper: times of the cook's own day, over midnight, sorted, with what is doubtful.

The words of the trade are common practice, no source; days and offsets are worked out by hand.
"""

from datetime import UTC, datetime

import pytest

from pitjournal.domain.cook import Arm
from pitjournal.domain.day.paper_log import PaperLog, read_paper
from pitjournal.domain.piece import Piece
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.builders import a_cook

NOW = datetime(2026, 5, 20, 12, 0, tzinfo=UTC)
"""Eighteen days after the cook, which is of 2 May 2026, 7:00 in Chicago (12:00 UTC, −5 h)."""


def a_whole() -> WholeCook:
    cook = a_cook()
    arms = tuple(
        Arm(cook_id=cook.id, position=place, name=name, control=not place)
        for place, name in enumerate(("Control", "Injected"))
    )
    pieces = tuple(
        Piece(cook_id=cook.id, position=place, label=label, cut="ribs", arm_id=arms[place // 2].id)
        for place, label in enumerate(("A1", "A2", "B1", "B2"))
    )
    return WholeCook(cook=cook, arms=arms, pieces=pieces)


WHOLE = a_whole()


def read(*lines: str, whole: WholeCook = WHOLE) -> PaperLog:
    return read_paper("\n".join(lines), whole, NOW, UnitSystem.US)


def clocks(log: PaperLog) -> list[str]:
    """Return each line's UTC day and clock, and its kind."""
    return [f"{line.at:%d %H:%M} {line.kind}" for line in log.lines]


def labels(log: PaperLog, place: int = 0) -> list[str]:
    return [piece.label for piece in WHOLE.pieces if piece.id in log.lines[place].pieces]


def test_that_times_are_of_the_cooks_own_day_and_not_of_today() -> None:
    log = read("6:10 lit", "7:05 – on – all", "9.30 spritz", "10h15\twrap in foil\tA1")
    assert clocks(log) == ["02 11:10 lit", "02 12:05 on", "02 14:30 spritz", "02 15:15 wrap"]
    assert log.lines[3].details == {"wrap": "foil"}
    assert not log.doubtful
    assert not log.unread


def test_that_midnight_lies_where_the_clock_goes_back_by_much() -> None:
    log = read("20:30 lit", "22:00 on", "0:20 spritz", "5:15 wrap paper", "14:00 off")
    assert clocks(log) == [
        "03 01:30 lit",
        "03 03:00 on",
        "03 05:20 spritz",
        "03 10:15 wrap",
        "03 19:00 off",
    ]


def test_that_am_and_pm_noon_and_a_named_day_are_understood() -> None:
    log = read("7 am on", "noon lid", "1:15 pm flip", "3 May 2:00 off", "2026-05-03 02:30 sliced")
    assert clocks(log) == [
        "02 12:00 on",
        "02 17:00 lid",
        "02 18:15 flip",
        "03 07:00 off",
        "03 07:30 sliced",
    ]


def test_that_a_line_out_of_order_is_sorted_and_marked() -> None:
    log = read("7:00 on", "9:30 spritz", "9:00 spritz", "10:00 off")
    assert [line.number for line in log.lines] == [1, 3, 2, 4]
    assert [line.doubts for line in log.lines] == [
        (),
        ("stands before the line above: sorted",),
        (),
        (),
    ]


def test_that_pieces_are_meant_by_label_arm_or_all() -> None:
    assert labels(read("7:00 on A1, B2")) == ["A1", "B2"]
    assert labels(read("7:00 off injected")) == ["B1", "B2"]
    assert labels(read("7:00 on all four")) == []
    log = read("7:00 off C7")  # not taken for all: that would put every piece off
    assert not log.lines
    assert log.unread[0].why == "No piece is called C7. Pieces here: A1, A2, B1, B2."


@pytest.mark.parametrize(
    ("line", "internal", "feel", "piece"),
    [
        ("11:00 A1 165", 73.9, None, ["A1"]),  # (165 − 32) ÷ 1.8
        ("11:00 probe B1 92 C", 92.0, None, ["B1"]),
        ("11:00 A2 203°F feel 4", 95.0, 4, ["A2"]),
        ("11:00 B2 feel 6", None, 6, ["B2"]),
    ],
)
def test_that_a_probe_is_read_with_its_piece_and_unit(
    line: str, internal: float | None, feel: int | None, piece: list[str]
) -> None:
    log = read(line)
    (one,) = log.lines
    assert not one.kind
    assert (None if one.internal is None else round(one.internal, 1)) == internal
    assert one.feel == feel
    assert labels(log) == piece


def test_that_a_probe_of_no_piece_is_asked_about_and_not_made_up_for_all() -> None:
    log = read("11:00 probed 165")
    assert not log.lines
    assert "which piece" in log.unread[0].why


def test_that_own_words_are_kept_and_marked_and_what_cannot_be_read_is_named() -> None:
    log = read("7:00 on", "8:15 moved to the top shelf A1", "spritzed twice", "9:00", "25:70 off")
    assert log.lines[1].kind == "moved to the top shelf"
    assert log.lines[1].doubts == ("kept in your own words",)
    assert [one.number for one in log.unread] == [3, 4, 5]
    assert "time" in log.unread[0].why


def test_that_a_long_gap_and_what_lies_ahead_are_marked() -> None:
    log = read("7:00 on", "18:30 off")  # 11.5 h
    assert "11 h 30" in log.lines[1].doubts[0]
    ahead = read_paper("13:00 on", WHOLE, datetime(2026, 5, 2, 15, 0, tzinfo=UTC), UnitSystem.US)
    assert ahead.lines[0].doubts == ("has not happened yet",)


def test_that_meat_no_thermometer_can_show_is_refused_with_its_line() -> None:
    log = read("11:00 A1 700 F")
    assert not log.lines
    assert log.unread[0].number == 1
