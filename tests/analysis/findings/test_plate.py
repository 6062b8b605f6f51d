"""The verdict plate: no answer is larger than the findings it stands for."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.findings import Findings, findings_of
from pitjournal.analysis.findings.plate import NOT_TASTED, cooks_behind, plate_of, verdicts
from pitjournal.analysis.findings.plate_words import NOT_ENOUGH, but_of, concluded, more_or_less
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.conclusion import Conclusion
from pitjournal.domain.samples import Samples
from pitjournal.domain.tasting import TastingState
from pitjournal.domain.trace import Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import compared

SLEEP = (
    (0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0),
    (1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4),
)
"""Student (1908), Biometrika 6, p. 20: the second drug's gain over the first is 1.58."""

ARMS = ("Left alone", "Injected")


def no_samples(_trace: Trace) -> Samples:
    raise AssertionError


def found_of(whole: WholeCook) -> Findings:
    values = values_of(whole, no_samples)
    return findings_of(whole, values, Catalogue(), no_samples, UnitSystem.METRIC)


def test_that_a_pair_of_arms_is_answered_by_the_mean_difference_of_students_sleep() -> None:
    plate = plate_of(found_of(compared(ARMS, SLEEP)), UnitSystem.METRIC)
    control, injected = plate.rows
    assert control.control
    assert injected.verdict == "More tender: by 1.58 points, this cook"
    assert injected.this is not None
    assert injected.this.estimate == pytest.approx(1.58)
    # the interval of Student's table, t = 4.0621 on 9 degrees of freedom (R, datasets::sleep)
    assert (injected.this.low, injected.this.high) == pytest.approx((0.7001, 2.4599), abs=1e-3)
    assert plate.packed
    assert [point.value for point in control.points] == list(SLEEP[0])


def test_that_what_does_not_tell_is_never_said_to_be_more() -> None:
    found = found_of(compared(ARMS, ((5, 6, 7), (6, 6, 7))))
    row = plate_of(found, UnitSystem.METRIC).rows[1]
    assert not found.declared[0].tells
    assert row.verdict == NOT_ENOUGH
    assert "could show" in row.line
    alone = plate_of(found_of(compared(ARMS, ((5,), (9,)))), UnitSystem.METRIC).rows[1]
    assert alone.verdict == NOT_ENOUGH
    assert "no interval exists" in alone.line


def test_that_scores_under_seal_are_not_tasted_yet_and_nothing_is_drawn() -> None:
    found = found_of(compared(ARMS, SLEEP, state=TastingState.LOCKED))
    for row in plate_of(found, UnitSystem.METRIC).rows:
        assert row.verdict == NOT_TASTED
        assert not row.points
        assert row.this is None


def test_that_what_cannot_be_told_apart_stands_before_all_else_that_differed() -> None:
    whole = compared(ARMS, SLEEP)
    slots = {arm.id: f"{place}" for place, arm in enumerate(whole.arms)}
    parted = replace(
        whole, pieces=tuple(replace(p, slot=slots[p.arm_id or ""]) for p in whole.pieces)
    )
    found = found_of(parted)
    said, _ = but_of(found, UnitSystem.METRIC)
    verdict = plate_of(found, UnitSystem.METRIC).rows[1].verdict
    assert verdict.startswith("More tender, by the arm or by the slot: by 1.58")
    assert said.startswith("But injected racks cannot be told apart from the slot")


def test_that_nothing_compared_leaves_the_sentences_in_the_plate() -> None:
    found = found_of(compared(("Left alone",), ((5, 6),)))
    plate = plate_of(found, UnitSystem.METRIC)
    assert not plate.rows
    assert plate.lead == found.words
    assert but_of(found, UnitSystem.METRIC) == ("", 0)


def test_that_a_conclusion_says_how_many_cooks_came_since_and_whether_the_answer_is_another() -> (
    None
):
    found = found_of(compared(ARMS, SLEEP))
    said = verdicts(plate_of(found, UnitSystem.METRIC))
    behind = cooks_behind(found)
    kept = Conclusion(
        cook_id=found.cook_id,
        text="Inject.",
        at=datetime(2026, 11, 14, 20, tzinfo=UTC),
        over=behind,
        said=said,
    )
    assert concluded(kept, "UTC", behind, said) == "written 14 Nov 2026"
    later = concluded(kept, "UTC", (*behind, "a", "b", "c"), said)
    assert later == "written 14 Nov 2026, three more cooks since"
    assert "the answer was another then" in concluded(kept, "UTC", behind, ("Injected: x",))


def test_that_more_and_less_are_said_as_a_cook_says_them() -> None:
    catalogue = Catalogue()
    assert more_or_less(1, catalogue["score.tenderness"]) == "More tender"
    assert more_or_less(-1, catalogue["time_on"]) == "Came off earlier"
    assert more_or_less(-1, catalogue["yield_off"]) == "Yielded less"
