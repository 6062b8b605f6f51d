"""What stands beside a fact of safety, so that no line alone reads as more than is known.

Rows: FDA Food Code 2017/2022 3-401.11(A)(1) to (3); (A)(2) names injected, mechanically tenderized
and comminuted meat, and says nothing of a thermometer's hole. That a probe is corrected by 5 K
at most: common practice, no source.
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import SafetyFact, State
from pitjournal.domain.trace import Sits
from tests.analysis.test_no_false_reached import a_cook_with, ramp, told


def fact(facts: tuple[SafetyFact, ...], words: str) -> SafetyFact:
    return next(one for one in facts if words in one.fact)


def test_that_a_probe_counts_as_a_cut_is_called_this_programs_own_caution() -> None:
    facts = told("pork loin", ramp(146.5))
    judged = fact(facts, "Counts as non-intact (probed early)")
    assert judged.state is not State.REACHED
    assert "this program’s own caution, no source" in judged.source
    beside = fact(facts, "By the row for whole meat")
    assert "145 °F (63 °C) for 15 s" in beside.fact
    assert beside.source == "FDA Food Code 2017/2022 3-401.11(A)(1)"
    assert beside.state is State.REACHED


@pytest.mark.parametrize(
    ("correction", "state", "said"),
    [
        (20.0, State.UNKNOWN, "with +36.0 °F (+20.0 K) of correction: so much is a slip"),
        (1.0, State.REACHED, "with +1.8 °F (+1.0 K) of correction"),
        (0.0, State.REACHED, ""),
    ],
)
def test_what_was_added_to_a_probe_is_said_and_much_of_it_questioned(
    correction: float, state: State, said: str
) -> None:
    whole, kept = a_cook_with("whole chicken", ramp(178.0))
    traces = tuple(
        replace(one, correction=correction) if one.sits is Sits.MEAT else one
        for one in whole.traces
    )
    facts = facts_of(replace(whole, traces=traces), lambda trace: kept[trace.id])
    assert fact(facts, "all through").state is state
    assert said in fact(facts, "all through").fact
    assert fact(facts, "published table").state is state


def test_of_two_pieces_of_which_one_has_a_probe_no_line_is_said_of_both() -> None:
    whole, kept = a_cook_with("whole chicken", ramp(178.0))
    (piece,) = whole.pieces
    other = replace(piece, id="other", label="A2", position=1)
    facts = facts_of(replace(whole, pieces=(piece, other)), lambda trace: kept[trace.id])
    for words in ("published table", "Past 140"):
        assert "1 of 2 pieces with a probe" in fact(facts, words).fact
        assert fact(facts, words).state is State.UNKNOWN


def test_no_table_is_said_to_be_met_by_meat_that_is_not_known() -> None:
    facts = told("mystery lump", ramp(164.0))
    table = fact(facts, "published table for poultry")
    assert table.state is State.UNKNOWN
    assert "so this may not be its table" in table.fact
