"""A contest day for three hands, from the plan to the prize-giving, over the night the clocks go back.

Sums are by hand on what is typed here. Common practice, no source: windows of ten minutes half an
hour apart, six judges, the lowest weighted card left out; 0.56 × 41 + 2.2972 × 43 + 1.1428 × 40 =
167.4516, the last card, all sevens, being the lowest.
"""

from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt

from tests.journeys.hands import Hand

READ_OUT = "998898898888888777"
CONTROL = Qt.KeyboardModifier.ControlModifier
MOST_STEPS = 40


def until(hand: Hand, clock: str, day: int = 1) -> None:
    """Wait until a time of the contest's day, or of the evening before."""
    month = 11 if day == 1 else 10
    hour, minute = map(int, clock.split(":"))
    there = datetime(2026, month, day, hour, minute, tzinfo=ZoneInfo("America/Chicago"))
    hand.wait(seconds=(there.astimezone(UTC) - hand.now).total_seconds())


def enter(hand: Hand) -> None:
    """Enter a contest of two categories, each with its window."""
    hand.key(Qt.Key.Key_2, CONTROL)
    hand.press("New contest")
    hand.must_see("the judges' cards, as they are read out")
    hand.write("Name", "Field day")
    hand.write("Day, and when the first box is due", "1 Nov 12:00")
    hand.write("How many take part", "3")
    for gone in ("pork ribs", "brisket"):
        hand.press(gone)
        hand.press("Remove this category")
    for name, clocks in (
        ("chicken", ("11:55", "12:00", "12:05")),
        ("pork butt", ("12:25", "12:30", "12:35")),
    ):
        hand.press(name)
        fields = ("Window opens", "Best turned in", "Window closes")
        for field, clock in zip(fields, clocks, strict=True):
            hand.write(field, clock)
        hand.must_see(f"{name}, turned in at {clocks[1]}, window {clocks[0]} to {clocks[2]}")


def share_out(hand: Hand, folder: Path) -> None:
    """Plan the whole day as one cook, deal its steps to three hands, write one of their cards."""
    hand.press("Plan the whole day")
    hand.must_see("Field day, chicken", "12:00, window 11:55 to 12:05")
    hand.press("Work the day out")
    hand.must_see("Turn in chicken, window 11:55 to 12:05", "Pulled", "12:20 Photo of the box")
    hand.write("Who helps, with commas between", "Ana, Ben, Cy")
    hand.must_see("Ana: nothing yet")
    hand.press("Deal the steps out")
    hand.must_see("by Ana", "by Ben")
    hand.press("Cards for the hands")
    hand.must_see("When each box is due", "- Pork butt: 12:30, window 12:25 to 12:35")
    hand.press("all of them")
    hand.press("plain words")
    hand.write("file to write", str(folder / "hands.txt"))
    hand.press("Write it")
    hand.must_see("Written to")
    written = (folder / "hands.txt").read_text(encoding="utf-8")
    assert written.count("Build the box") == 2
    assert "Pork butt: pull it" in written


def cook(hand: Hand) -> None:
    """Do what is due, by whoever does it, until both boxes could be on their way."""
    hand.turn("Bench")
    hand.must_see("not lit yet")
    until(hand, "19:00", 31)
    for _ in range(MOST_STEPS):
        if hand.sees("Turn in chicken") or not hand.sees_what_is_due():
            break
        hand.do_what_is_due()
        hand.must_see("✓ saved")
        if hand.sees("Off pork butt") or hand.sees("Off chicken"):
            until(hand, "11:20")
    hand.must_see("Turn in chicken")


def turn_in(hand: Hand) -> None:
    """Turn one box in while its window is open, and the other too late; each is called by itself."""
    until(hand, "11:56")
    hand.must_see("Chicken: window open until 12:05")
    hand.press("Turn in")
    hand.must_see("Turn in, chicken, 11:56")
    hand.must_not_see("Chicken: window open until 12:05")
    until(hand, "12:30")
    hand.must_see("Pork butt: five minutes, closes 12:35")
    until(hand, "12:37")
    hand.must_see("Pork butt: window closes now, 12:35")
    hand.press("Turn in")
    hand.must_see("2 min after the window closed")
    hand.turn("Plan")
    hand.must_see("turned in 11:56, in time", "turned in 12:37, 2 min after the window closed")


def prize_giving(hand: Hand) -> None:
    """Hear the cards of both, the places, and what it paid."""
    hand.press("Field day, chicken")
    hand.must_see("the judges' cards, as they are read out")
    hand.key(Qt.Key.Key_E, CONTROL)
    hand.type(READ_OUT)
    hand.must_see("chicken · 167.4516")
    hand.press("chicken · 167.4516")
    hand.write("Totals of all others here", "171.25 160.5")
    hand.must_see("2nd of 3, by the totals of all others.")
    hand.write("Place over all, as announced", "2")
    hand.write("It paid", "150")
    hand.press("All contests")
    hand.must_see("1 of 1 held", "categories judged", "contests paid")
    hand.must_see("Chicken: taste")  # what the judges held back is what to practise
    hand.undo()
    hand.must_not_see("contests paid")


def contest_day(hand: Hand, folder: Path) -> None:
    """Enter a contest, share the day out, cook, turn in, hear the cards and the places."""
    enter(hand)
    share_out(hand, folder)
    cook(hand)
    turn_in(hand)
    prize_giving(hand)
