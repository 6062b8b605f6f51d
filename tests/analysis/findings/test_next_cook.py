"""How many packs the same cook would need. Source: the published table of pairs, 80 % power.

34, 15, 10 and 5 pairs show a mean difference of 0.5, 0.8, 1 and 2 of its standard deviations
(`tests/science/data/power_paired_t.csv`).
"""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.found import findings_of
from pitjournal.analysis.findings.next_cook import Suggestion, start, suggestions
from pitjournal.domain.cook import Arm
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE, compared, felt, no_readings
from tests.builders import NOON

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


def test_that_the_same_again_of_halves_is_in_slabs_and_keeps_each_way_as_it_was() -> None:
    whole = compared(("Left alone", "In foil"), ((5, 5, 5), (5, 6, 7)))
    by_block = {block: n for n, block in enumerate(sorted({p.block for p in whole.pieces}), 1)}
    pieces = tuple(
        replace(p, pack="", pair=f"slab {by_block[p.block]}", end="back" if p.arm_id else "front")
        for p in whole.pieces
    )
    arms = tuple(replace(arm, wrap="" if arm.control else "foil") for arm in whole.arms)
    whole = replace(whole, pieces=pieces, arms=arms)
    found = findings_of(whole, values_of(whole, no_readings), CATALOGUE, no_readings, UnitSystem.US)
    (more,) = suggestions(found, whole, UnitSystem.US)
    assert "about 10 slabs" in more.words  # differences 0, 1 and 2: a mean of one, a spread of one
    assert "more slabs" in more.heading
    assert more.plan is not None
    _, parts = start(more.plan, whole, NOON, seed=7)
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
