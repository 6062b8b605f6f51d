"""Invented cooks for tests of the window."""

from datetime import timedelta

from pitjournal.domain.piece import Piece
from pitjournal.journal.commands.records import AddCook
from pitjournal.ui.window import Window
from tests.builders import NOON, a_cook

CUTS = ("brisket", "back ribs", "chicken thighs")


def with_cooks(window: Window, count: int = 12) -> list[str]:
    """Add cooks of two pieces each, a month apart; brisket is thickest. Return their ids."""
    ids = []
    for number in range(count):
        cut = CUTS[number % 3]
        cook = a_cook(
            f"Cook {number}",
            starts_at=NOON + timedelta(days=30 * number),
            set_point=110.0 + 5 * (number % 4),
            place="yard" if number % 2 else "field",
        )
        pieces = tuple(
            Piece(
                cook_id=cook.id,
                position=place,
                label=f"P{place}",
                cut=cut,
                thickness_1=0.05 - 0.012 * (number % 3) + 0.001 * ((number * 7) % 5),
                price=0.01 + 0.001 * number,
            )
            for place in range(2)
        )
        window.desk.journal.do(AddCook(cook, pieces))
        ids.append(cook.id)
    window.desk.journal.worked_out.catch_up()  # so that questions are answered at once
    return ids
