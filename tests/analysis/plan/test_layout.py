"""From a question to a layout: what blocks and lots must have by the theory of designs.

A randomised complete block layout holds every treatment once a block; in a two-by-two factorial
each level of each factor stands equally often with each of the other (Box, Hunter and Hunter,
Statistics for Experimenters, chapters 3 and 5; from memory).
"""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pitjournal.analysis.plan.again import what_changes
from pitjournal.analysis.plan.layout import (
    BARE,
    Blocks,
    Draft,
    PlannedArm,
    Recipe,
    Ways,
    arms_of,
    cook_of,
    drawn_again,
    swapped,
    two_things,
    warning_of,
)
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.builders import NOON

K = TreatmentKind


def draft(arms: tuple[PlannedArm, ...], blocks: int, **fields: object) -> Draft:
    values: dict[str, object] = {"seed": 1234, "within": Blocks.PACKS}
    return Draft(
        title="Ribs",
        cut="back ribs",
        arms=arms,
        blocks=blocks,
        starts_at=NOON,
        zone="America/Chicago",
        **{**values, **fields},  # type: ignore[arg-type]
    )


def whole_of(made: Draft) -> WholeCook:
    cook, parts = cook_of(made)
    return WholeCook(
        cook=cook,
        arms=tuple(part for part in parts if isinstance(part, Arm)),
        pieces=tuple(part for part in parts if isinstance(part, Piece)),
        treatments=tuple(part for part in parts if isinstance(part, Treatment)),
    )


ALONE, INJECTED = PlannedArm("Left alone", (K.NONE,)), PlannedArm("Injected", (K.INJECTED,))


@given(arms=st.integers(2, 5), blocks=st.integers(1, 8), seed=st.integers(0, 9999))
def test_that_every_block_holds_each_way_once_and_every_slot_one_piece(
    arms: int, blocks: int, seed: int
) -> None:
    ways = tuple(PlannedArm(f"Way {n}") for n in range(arms))
    whole = whole_of(draft(ways, blocks, seed=seed))
    packs = Counter((piece.pack, piece.arm_id) for piece in whole.pieces)
    assert set(packs.values()) == {1}
    assert len(packs) == arms * blocks
    assert sorted(int(piece.slot) for piece in whole.pieces) == list(range(1, arms * blocks + 1))
    assert whole.cook.seed == seed
    again = drawn_again(whole, seed + 1)
    assert sorted(int(new["slot"]) for new in again.values()) == list(range(1, arms * blocks + 1))
    for block in {piece.pack for piece in whole.pieces}:
        mine = [int(again[p.id]["slot"]) for p in whole.pieces if p.pack == block]
        assert max(mine) - min(mine) == arms - 1  # a block stays together
    assert drawn_again(whole, seed + 1) == again


@given(blocks=st.integers(1, 9), seed=st.integers(0, 9999))
def test_that_the_ends_of_halves_are_balanced(blocks: int, seed: int) -> None:
    whole = whole_of(draft((ALONE, INJECTED), blocks, seed=seed, within=Blocks.HALVES))
    for pieces in (whole.pieces, _redrawn(whole, seed + 1).pieces):
        pairs: dict[str, set[str]] = {}
        for piece in pieces:
            pairs.setdefault(piece.pair, set()).add(piece.end)
        assert set(map(frozenset, pairs.values())) == {frozenset({"front", "back"})}
        fronts = Counter(piece.arm_id for piece in pieces if piece.end == "front")
        counts = [fronts[arm.id] for arm in whole.arms]
        assert abs(counts[0] - counts[1]) <= 1


def _redrawn(whole: WholeCook, seed: int) -> WholeCook:
    drawn = drawn_again(whole, seed)
    pieces = tuple(replace(p, **drawn[p.id]) for p in whole.pieces)  # type: ignore[arg-type]
    return replace(whole, pieces=pieces)


@given(slots=st.integers(0, 24))
def test_that_a_swap_half_way_gives_every_piece_the_same_mean_place(slots: int) -> None:
    order = [str(n) for n in range(1, slots + 1)]
    after = {slot: slot for slot in order}
    for one, two in swapped(order):
        after[one], after[two] = two, one
    assert {(int(slot) + int(after[slot])) / 2 for slot in order} <= {(slots + 1) / 2}


def test_that_two_by_two_has_each_way_with_and_without_the_other() -> None:
    arms = arms_of(Ways(treatments=(K.NONE, K.INJECTED, K.NEEDLED), every=True))
    assert [arm.name for arm in arms] == ["Left alone", "Injected", "Needled", "Both"]
    levels = {(K.INJECTED in arm.kinds, K.NEEDLED in arm.kinds) for arm in arms}
    assert levels == {(False, False), (True, False), (False, True), (True, True)}
    whole = whole_of(draft(arms, 2))
    both = next(arm for arm in whole.arms if arm.name == "Both")
    kinds = [t.kind for t in whole.treatments if t.arm_id == both.id]
    assert kinds == [K.INJECTED, K.NEEDLED]


def test_that_a_treatment_and_a_wrap_make_every_combination() -> None:
    ways = Ways((K.NONE, K.INJECTED), (BARE, "foil"), every=True)
    arms = arms_of(ways)
    assert [(arm.kinds, arm.wrap) for arm in arms] == [
        ((K.NONE,), BARE),
        ((K.NONE,), "foil"),
        ((K.INJECTED,), BARE),
        ((K.INJECTED,), "foil"),
    ]
    assert arms[0].name == "Left alone, not wrapped"
    assert warning_of(ways, 4, Blocks.PACKS) == ""
    assert [arm.wrap for arm in whole_of(draft(arms, 1)).arms] == [BARE, "foil", BARE, "foil"]


def test_that_two_things_at_once_are_warned_of() -> None:
    ways = Ways((K.NONE, K.INJECTED), (BARE, "foil"))
    assert len(arms_of(ways)) == 2
    assert "which of them did it" in warning_of(ways, 2, Blocks.PACKS)
    one = Ways(names=("thin", "thick"))
    assert [arm.name for arm in arms_of(one)] == ["thin", "thick"]
    assert warning_of(one, 2, Blocks.PACKS) == ""


def test_that_two_things_are_seen_in_a_plan_too() -> None:
    paired = arms_of(Ways((K.NONE, K.INJECTED), (BARE, "foil")))
    every = arms_of(Ways((K.NONE, K.INJECTED), (BARE, "foil"), every=True))
    assert two_things(whole_of(draft(paired, 2)))
    assert not two_things(whole_of(draft(every, 2)))
    assert not two_things(whole_of(draft((ALONE, INJECTED), 2)))
    assert not two_things(whole_of(draft((ALONE,), 2)))


@pytest.mark.parametrize(
    ("ways", "arms", "blocks", "said"),
    [
        (Ways((K.NONE,)), 0, Blocks.PACKS, "at least one other arm"),
        (Ways((K.NONE, K.INJECTED), every=True), 2, Blocks.PACKS, "needs two things"),
        (Ways((K.NONE, K.INJECTED, K.NEEDLED)), 3, Blocks.HALVES, "two halves"),
        (Ways(names=tuple("abcde")), 5, Blocks.PACKS, "few pieces"),
    ],
)
def test_that_what_will_not_do_is_said(ways: Ways, arms: int, blocks: Blocks, said: str) -> None:
    assert said in warning_of(ways, arms, blocks)


def test_that_a_recipe_comes_with_its_shares() -> None:
    recipe = Recipe("house injection", 0.025, 0.015)
    way = PlannedArm("house injection", (K.INJECTED,), recipe=recipe)
    beside = whole_of(draft((ALONE, way), 2))
    told = {t.kind: (t.recipe, t.salt, t.phosphate) for t in beside.treatments}
    assert told == {K.NONE: ("", None, None), K.INJECTED: ("house injection", 0.025, 0.015)}
    single = whole_of(draft((way,), 3))
    assert not single.arms
    assert [t.piece_id for t in single.treatments] == [p.id for p in single.pieces]
    assert not any(p.block for p in single.pieces)


def test_that_what_changes_against_an_older_cook_is_listed() -> None:
    old = whole_of(draft((ALONE, INJECTED), 2, set_point=107.0))
    assert what_changes(old, "back ribs", "", 107.0, UnitSystem.METRIC) == []
    changed = what_changes(old, "spare ribs", "the drum", 121.0, UnitSystem.METRIC)
    assert changed == [
        "cut: back ribs → spare ribs",
        "cooker: not recorded → the drum",
        "set point: 107.0 °C → 121.0 °C",
    ]
    assert isinstance(old.cook, Cook)
