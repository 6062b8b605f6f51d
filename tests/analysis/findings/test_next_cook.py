"""How many packs the same cook would need. Source: the published table of pairs, 80 % power.

Where the spread is known for sure, 34, 15, 10 and 5 pairs show a mean difference of 0.5, 0.8, 1 and 2 of its standard deviations
(`tests/science/data/power_paired_t.csv`).
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.power import TTestPower

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.findings import findings_of
from pitjournal.analysis.findings.next_cook import Suggestion, start, suggestions
from pitjournal.domain.cook import Arm
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.science.comparison.interim_looks import ALIKE_LEVELS
from pitjournal.science.comparison.power import assurance, pairs_assured
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE, compared, felt, no_readings
from tests.builders import NOON

TABLE = [(0.5, 34), (0.8, 15), (1.0, 10), (2.0, 5)]


def next_of(
    names: Sequence[str], values: Sequence[Sequence[float]], worth: float | None = None
) -> tuple[Suggestion, ...]:
    whole = compared(names, values)
    whole = replace(whole, cook=replace(whole.cook, worth_knowing=worth))
    worked_out = values_of(whole, no_readings)
    found = findings_of(whole, worked_out, CATALOGUE, no_readings, UnitSystem.US)
    return suggestions(found, whole, UnitSystem.US)


@pytest.mark.parametrize(("effect", "packs"), TABLE)
def test_that_a_spread_known_for_sure_needs_the_published_pairs(effect: float, packs: int) -> None:
    assert pairs_assured(effect, 1.0, 1e6) == packs


def test_that_a_spread_known_badly_needs_more_as_another_library_has_it() -> None:
    # The power of the paired t (statsmodels), averaged over what a spread of so few degrees of
    # freedom may truly be (Gauss and Legendre over the shares of χ²).
    points, weights = np.polynomial.legendre.leggauss(80)

    def chance(n: int, df: float) -> float:
        true = np.sqrt(df / stats.chi2.ppf((points + 1) / 2, df))
        power = [TTestPower().power(1.5 / one, n, 0.05, alternative="two-sided") for one in true]
        return float(np.sum(weights * np.nan_to_num(power, nan=1.0)) / 2)  # nan: beyond doubt

    for n, df in ((4, 2.0), (8, 2.0), (5, 8.0)):
        assert assurance(1.5, 1.0, df, n) == pytest.approx(chance(n, df), abs=4e-3)
    needed = pairs_assured(1.5, 1.0, 2.0)
    assert needed is not None
    assert needed > 6  # as many as a spread of one for sure would take
    assert chance(needed - 1, 2.0) < 0.8 + 4e-3


def test_that_the_next_cook_is_sized_on_what_matters_and_not_on_what_was_seen() -> None:
    seen = [(4.6, 5.6, 6.6), (3.7, 4.7, 5.7)]  # +0.6 and −0.3, with a spread of one
    said = [next_of(("Left alone", "Injected"), ((5, 5, 5), one), 1.5)[0].words for one in seen]
    assert said[0] == said[1]
    assert "really differ by 1.5 points, which is worth knowing to you" in said[0]
    # The next look that may find anything is at three cooks, and has three pairs already.
    needed = pairs_assured(1.5, 1.0, 2.0, alpha=ALIKE_LEVELS[3])
    assert needed is not None
    assert f"about {needed - 3} more packs" in said[0]


def test_that_a_cook_that_never_said_what_matters_is_asked_for_it() -> None:
    # Three pairs and the three so far, four times in five at 0.6 %, which three joined cooks are
    # held to: solved by another library.
    least = TTestPower().solve_power(nobs=6, alpha=0.006, power=0.8)
    (more,) = next_of(("Left alone", "Injected"), ([5, 5, 5], [4, 5, 6]))
    assert more.heading == "The same again, with three more packs"
    assert more.words == (
        f"Three more packs could show {least:.2f} points, with those so far. Say in the plan what "
        "difference in tenderness is worth knowing: then this says how many packs it takes."
    )


@pytest.mark.parametrize("worth", [0.8, 1.0])
def test_that_a_third_arm_changes_only_how_well_the_spread_is_known(worth: float) -> None:
    # Left over after arms and packs: a mean square of 1/2 on 4 degrees of freedom, so that a
    # difference of two pieces of a pack scatters by one.
    left = [[-1, 0, 1], [0, 1, -1], [1, -1, 0]]
    values = [[5 + cell / 3**0.5 for cell in left[arm]] for arm in range(3)]
    said = next_of(("Left alone", "Injected", "Wrapped"), values, worth)
    needed = pairs_assured(worth, 1.0, 4.0, alpha=ALIKE_LEVELS[3])
    assert needed is not None
    assert f"about {needed - 3} more packs" in said[-1].words


def test_that_one_pack_asks_for_more() -> None:
    (more,) = next_of(("Left alone", "Injected"), ([5], [6]))
    assert more.words == "Two packs or more: only then can an interval be given."


def test_that_the_same_again_of_halves_is_in_slabs_and_keeps_each_way_as_it_was() -> None:
    whole = compared(("Left alone", "In foil"), ((5, 5, 5), (5, 6, 7)))
    by_block = {block: n for n, block in enumerate(sorted({p.block for p in whole.pieces}), 1)}
    pieces = tuple(
        replace(p, pack="", pair=f"slab {by_block[p.block]}", end="back" if p.arm_id else "front")
        for p in whole.pieces
    )
    arms = tuple(replace(arm, wrap="" if arm.control else "foil") for arm in whole.arms)
    cook = replace(whole.cook, worth_knowing=1.0)
    whole = replace(whole, cook=cook, pieces=pieces, arms=arms)
    found = findings_of(whole, values_of(whole, no_readings), CATALOGUE, no_readings, UnitSystem.US)
    (more,) = suggestions(found, whole, UnitSystem.US)
    # differences 0, 1 and 2: a spread of one
    needed = pairs_assured(1.0, 1.0, 2.0, alpha=ALIKE_LEVELS[3])
    assert needed is not None
    assert f"about {needed - 3} more slabs" in more.words
    assert "more slabs" in more.heading
    assert more.plan is not None
    started, parts = start(more.plan, whole, NOON, seed=7)
    assert started.worth_knowing == 1.0
    made = [part for part in parts if isinstance(part, Piece)]
    assert len({piece.pair for piece in made}) == more.plan.blocks
    assert {piece.end for piece in made} == {"front", "back"}
    assert [part.wrap for part in parts if isinstance(part, Arm)] == ["", "foil"]


def test_that_the_two_by_two_says_what_it_could_show_and_can_be_planned() -> None:
    whole = compared(("Left alone", "Injected", "Needled"), ((5, 6, 7), (6, 7.5, 7.5), (5, 6, 8)))
    kinds = (TreatmentKind.NONE, TreatmentKind.INJECTED, TreatmentKind.NEEDLED)
    treatments = tuple(
        Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, kinds, strict=True)
    )
    whole = replace(whole, treatments=treatments)
    found = findings_of(whole, values_of(whole, no_readings), CATALOGUE, no_readings, UnitSystem.US)
    first = suggestions(found, whole, UnitSystem.US)[0]
    assert "three packs of four" in first.words
    assert "Could show" in first.words
    assert first.plan is not None
    cook, parts = start(first.plan, whole, NOON, seed=7)
    pieces = [part for part in parts if isinstance(part, Piece)]
    arms = [part for part in parts if isinstance(part, Arm)]
    assert (len(arms), len(pieces)) == (4, 12)
    assert {len([p for p in pieces if p.pack == pack]) for pack in {p.pack for p in pieces}} == {4}
    assert all(getattr(part, "cook_id", cook.id) == cook.id for part in parts)
    made = [part for part in parts if isinstance(part, Treatment)]
    assert [t.kind for t in made if t.arm_id == arms[-1].id] == list(kinds[1:])


def test_that_pieces_never_seen_past_right_ask_for_pulls_in_series() -> None:
    whole = compared(("Left alone", "Injected"), ((5, 6, 7), (6, 7, 8.5)))
    checks = [c for p in whole.pieces for c in felt(whole.cook, p, (200, 2), (215, 4))]
    whole = replace(whole, checks=tuple(checks))
    found = findings_of(whole, values_of(whole, no_readings), CATALOGUE, no_readings, UnitSystem.US)
    last = suggestions(found, whole, UnitSystem.US)[-1]
    assert last.heading == "Leave one on past right"
    assert last.plan is not None
    assert last.plan.blocks == 4
    cook, _ = start(last.plan, whole, NOON, seed=1)
    assert "60 min late" in cook.stop_rule


def test_that_arms_of_one_pack_each_are_offered_a_cook_with_each_arm_in_every_pack() -> None:
    whole = compared(("Left alone", "Injected"), ((5, 5, 6), (6, 7, 7)))
    pieces = tuple(
        replace(p, pack=f"pack {1 + (p.arm_id == whole.arms[1].id)}") for p in whole.pieces
    )
    whole = replace(whole, pieces=pieces)
    found = findings_of(whole, values_of(whole, no_readings), CATALOGUE, no_readings, UnitSystem.US)
    first = suggestions(found, whole, UnitSystem.US)[0]
    assert first.heading == "Each arm in every pack"
    assert "cannot be told apart from" in first.words
    assert first.plan is not None
    assert first.plan.blocks == 3


def test_that_two_packs_that_differ_alike_are_not_told_that_they_are_one() -> None:
    (more, *_) = next_of(["plain", "injected"], [[5.0, 6.0], [6.0, 7.0]])
    assert more.words == (
        "Two packs differ by exactly the same in tenderness, so there is no spread to judge it by. "
        "More packs give one, or a finer scale."
    )


def test_that_one_pack_of_two_that_is_known_is_named() -> None:
    whole = compared(["plain", "injected"], [[5.0, 6.0], [6.0, 7.0]])
    first = {piece.id for piece in whole.pieces if piece.block == whole.pieces[0].block}
    samples = {sample.id for sample in whole.samples if sample.piece_id in first}
    scores = tuple(score for score in whole.scores if score.sample_id in samples)
    whole = replace(whole, scores=scores)
    values = values_of(whole, no_readings)
    found = findings_of(whole, values, CATALOGUE, no_readings, UnitSystem.US)
    (more, *_) = suggestions(found, whole, UnitSystem.US)
    assert more.words.startswith("Only one piece of each arm has tenderness: an interval takes two")
