"""What the findings say of how good the forecast of the day was."""

from pitjournal.journal.queries.graded import Graded
from pitjournal.ui.findings.graded_line import graded_words


def _one(minutes: float, *, inside: bool = True, label: str = "I1") -> Graded:
    return Graded("p", label, minutes, inside)


def test_that_a_forecast_too_late_and_one_too_early_are_said_as_such() -> None:
    last = [_one(0)] * 9 + [_one(0, inside=False)]
    said = graded_words([_one(12.2)], last)
    assert said == (
        "The forecast at half time was 12 min too late. "
        "Inside its band of nine in ten in 9 of your last 10 pieces."
    )
    several = graded_words([_one(-75), _one(0.2, label="L1")], [])
    assert several == (
        "The forecast at half time was, by piece: I1 1 h 15 min too early, L1 right to the minute."
    )


def test_that_where_nothing_can_be_asked_again_nothing_is_said() -> None:
    assert graded_words([], [_one(3)]) == ""
