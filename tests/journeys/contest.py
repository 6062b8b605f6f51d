"""A contest day, from the entry to the prize-giving. Sums are by hand on what is typed here.

Common practice, no source: six judges, the lowest weighted card left out; 0.56 × 41 + 2.2972 × 43 +
1.1428 × 40 = 167.4516, the last card, all sevens, being the lowest.
"""

from pathlib import Path

from PySide6.QtCore import Qt

from tests.journeys.hands import Hand

READ_OUT = "998898898888888777"
CONTROL = Qt.KeyboardModifier.ControlModifier


def contest_day(hand: Hand, _folder: Path) -> None:
    """Enter a contest, cook for it, turn in, hear the cards and the place."""
    hand.key(Qt.Key.Key_4, CONTROL)
    hand.press("New contest")
    hand.must_see("the judges' cards, as they are read out")
    hand.write("Name", "Field day")
    hand.write("Day, and when the first box is due", "1 Nov 12:00")
    hand.write("How many take part", "3")
    for field, clock in (
        ("Window opens", "11:55"),
        ("Best turned in", "12:00"),
        ("Window closes", "12:05"),
    ):
        hand.write(field, clock)
    hand.must_see("chicken, turned in at 12:00, window 11:55 to 12:05")
    hand.press("Plan its cook")
    hand.must_see("Field day, chicken", "12:00, window 11:55 to 12:05")
    hand.press("Add a piece")
    hand.turn("Bench")
    hand.must_see("not lit yet")
    hand.tap("Lit")
    hand.wait(minutes=30)
    hand.tap("On")
    hand.wait(minutes=100)
    hand.press("Off")
    hand.must_see("✓ saved")
    hand.turn("Plan")
    hand.press("Field day, chicken")
    hand.must_see("the judges' cards, as they are read out")
    hand.key(Qt.Key.Key_E, CONTROL)
    hand.type(READ_OUT)
    hand.must_see("chicken · 167.4516")
    hand.press("chicken · 167.4516")
    hand.write("Totals of all others here", "171.25 160.5")
    hand.must_see("2nd of 3, by the totals of all others.")
    hand.press("All contests")
    hand.must_see("1 of 1 held", "categories judged")
    hand.undo()
    hand.must_see("No place is known yet.")
