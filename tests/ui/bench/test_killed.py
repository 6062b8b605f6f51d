"""The program killed in the middle of fast tapping: what ticked is there, and nothing by half."""

from tests.benchmarks.kill_taps import run


def test_that_a_kill_in_the_middle_of_tapping_loses_nothing_that_ticked() -> None:
    told = run(4)
    assert told.rounds == 4
    assert told.ticks
    assert told.events >= told.ticks
    assert (told.lost, told.halves, told.broken) == (0, 0, 0)
