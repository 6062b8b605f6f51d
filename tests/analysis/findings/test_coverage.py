"""A short, seeded run of what `python -m tests.benchmarks.coverage` holds the answers to.

No source but the promise itself: a 95 % interval holds the truth, and of series without a difference
at most one in twenty reads as if there were one.
"""

import pytest

from tests.benchmarks.coverage import Held, run

SHORT = (
    "joined, 4 to 8 cooks, moving by 1",
    "a series of 8 without effect, ever",
    "a series of 8 finds one point",
    "no difference that matters, wrong",
    "borrowed, 3 to 8 past cooks, alike",
)


@pytest.mark.parametrize("name", SHORT)
def test_that_answers_over_several_cooks_hold_what_they_promise(name: str) -> None:
    (held,) = run(40, name)
    assert held.held, f"{held.found:.1%}, wanted {held.least:.0%} to {held.most:.0%}"


def test_that_a_case_that_does_not_hold_is_seen() -> None:
    assert not Held("too short by a third", 0.93, 0.97, 0.80, 40).held
    assert not Held("three in twenty", 0.0, 0.05, 0.15, 40).held
