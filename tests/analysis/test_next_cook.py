"""How many packs the same cook would need. Source: the published table of pairs, 80 % power.

34, 15, 10 and 5 pairs show a mean difference of 0.5, 0.8, 1 and 2 of its standard deviations
(`tests/science/data/power_paired_t.csv`).
"""

from collections.abc import Sequence

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings import findings_of
from pitjournal.analysis.next_cook import Suggestion, suggestions
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE, compared, no_readings

TABLE = [(0.5, 34), (0.8, 15), (1.0, 10), (2.0, 5)]


def next_of(names: Sequence[str], values: Sequence[Sequence[float]]) -> tuple[Suggestion, ...]:
    whole = compared(names, values)
    worked_out = values_of(whole, no_readings)
    found = findings_of(whole, worked_out, CATALOGUE, no_readings, UnitSystem.US)
    return suggestions(found, whole, UnitSystem.US)


@pytest.mark.parametrize(("effect", "packs"), TABLE)
def test_that_two_arms_in_packs_need_the_published_pairs(effect: float, packs: int) -> None:
    other = [5 + effect + step for step in (-1, 0, 1)]  # differences with a spread of one
    (more,) = next_of(("Left alone", "Injected"), ([5, 5, 5], other))
    assert f"about {packs} packs" in more.words


@pytest.mark.parametrize(("effect", "packs"), TABLE[:3])
def test_that_a_third_arm_changes_nothing_about_that(effect: float, packs: int) -> None:
    # Left over after arms and packs: a mean square of 1/2 on 4 degrees of freedom, so that a
    # difference of two pieces of a pack scatters by one.
    left = [[-1, 0, 1], [0, 1, -1], [1, -1, 0]]
    values = [[5 + cell / 3**0.5 + effect * (arm == 1) for cell in left[arm]] for arm in range(3)]
    said = next_of(("Left alone", "Injected", "Wrapped"), values)
    assert f"about {packs} packs" in said[-1].words


def test_that_one_pack_asks_for_more() -> None:
    (more,) = next_of(("Left alone", "Injected"), ([5], [6]))
    assert more.words == "Two packs or more: only then can an interval be given."
