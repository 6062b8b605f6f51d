"""Hot at the surface says nothing of the middle, and what is done to all is done to each piece.

FDA Food Code 2017/2022 3-401.11(A)(2) and (3): 155 °F for 17 s for injected meat, 165 °F for
poultry, "all parts". USDA FSIS: in the thickest part (from memory).
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import State
from pitjournal.domain.treatment import Treatment, TreatmentKind
from tests.analysis.test_all_through import named
from tests.analysis.test_no_false_reached import a_cook_with, all_through, ramp, told


@pytest.mark.parametrize("place", ["surface", "skin side", "edge", "in the foil"])
def test_hot_readings_by_hand_outside_the_middle_leave_it_unknown(place: str) -> None:
    facts = told("chicken breast", probed=((170, 168, place), (175, 168, place)), pit=False)
    assert all_through(facts) is State.UNKNOWN
    assert f"“{place}”, which is not the middle" in facts[0].fact


def test_a_cold_edge_beside_a_hot_middle_still_decides() -> None:
    both = ((170, 168, "middle"), (175, 168, "middle"), (176, 150, "edge"))
    assert all_through(told("chicken breast", probed=both, pit=False)) is State.NOT_REACHED
    hot = ((170, 168, "middle"), (175, 168, "middle"), (176, 175, "edge"))
    assert all_through(told("chicken breast", probed=hot, pit=False)) is State.REACHED


def test_a_probe_that_sat_at_the_surface_reaches_nothing() -> None:
    whole, kept = a_cook_with("chicken breast", ramp(175.0))
    sat = [replace(t, place="surface") if t.piece_id else t for t in whole.traces]
    whole = replace(whole, traces=tuple(sat))
    facts = facts_of(whole, lambda trace: kept[trace.id])
    assert facts
    assert all(fact.state is not State.REACHED for fact in facts if "Poultry" in fact.fact)


def test_what_is_done_to_the_whole_cook_is_done_to_each_piece() -> None:
    whole, kept = a_cook_with("brisket", probed=((170, 147, ""), (171, 147, "")))
    before = facts_of(whole, lambda trace: kept[trace.id])
    assert named(before, "Whole meat").state is State.REACHED
    injected = Treatment(cook_id=whole.cook.id, kind=TreatmentKind.INJECTED)
    whole = replace(whole, treatments=(injected,))
    after = facts_of(whole, lambda trace: kept[trace.id])
    assert after[0].state is not State.REACHED
    assert "155 °F" in after[0].fact
    assert whole.treated_by(injected) == whole.pieces
