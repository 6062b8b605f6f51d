"""Safety facts say reached, not reached or unknown, with the rule's own number and source.

Rules: FDA Food Code 2017/2022 3-401.11 (resources/safety/rules.csv, graded published).
"""

from functools import partial

import numpy as np
import pytest

from pitjournal.analysis.safety import NON_INTACT_RULE, POULTRY_RULE, State, facts_of
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.safety_tables import safety_rules
from tests.analysis.makers import happened, no_readings
from tests.builders import NOON, a_cook


def a_whole(cut: str, kind: TreatmentKind, *internals: float | None) -> WholeCook:
    cook = a_cook()
    arm = Arm(cook_id=cook.id, position=0, name="one", control=True)
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=f"A{n}", cut=cut, arm_id=arm.id)
        for n in range(len(internals))
    )
    checks = tuple(
        DonenessCheck(cook_id=cook.id, piece_id=piece.id, at=NOON, internal=internal)
        for piece, internal in zip(pieces, internals, strict=True)
        if internal is not None
    )
    treatment = Treatment(cook_id=cook.id, arm_id=arm.id, kind=kind)
    return WholeCook(
        cook=cook,
        arms=(arm,),
        pieces=pieces,
        checks=checks,
        treatments=(treatment,),
        events=happened(cook, on=0, off=200),
    )


def _always(readings: Samples, _trace: Trace) -> Samples:
    return readings


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def test_that_the_rules_are_those_of_the_published_tables() -> None:
    rules = safety_rules()
    assert rules["fc-cook-nonintact-alt-158"].value == NON_INTACT_RULE.fahrenheit
    assert rules["fc-cook-poultry"].value == POULTRY_RULE.fahrenheit


@pytest.mark.parametrize(
    ("internals", "state"),
    [
        ((70.1, 75.0), State.REACHED),  # 158 °F is 70 °C
        ((69.0, 75.0), State.NOT_REACHED),
        ((75.0, None), State.UNKNOWN),
        ((69.0, None), State.NOT_REACHED),
    ],
)
def test_that_injected_meat_is_held_to_the_non_intact_row(
    internals: tuple[float | None, ...], state: State
) -> None:
    (fact,) = facts_of(a_whole("brisket", TreatmentKind.INJECTED, *internals), no_readings)
    assert fact.state is state
    assert "non-intact" in fact.fact
    assert "3-401.11" in fact.source


def test_that_poultry_is_held_to_165_degrees() -> None:
    (below,) = facts_of(a_whole("chicken thighs", TreatmentKind.NONE, celsius(164)), no_readings)
    (above,) = facts_of(a_whole("chicken thighs", TreatmentKind.NONE, celsius(165)), no_readings)
    assert (below.state, above.state) == (State.NOT_REACHED, State.REACHED)


def test_that_no_fact_ever_says_safe() -> None:
    whole = a_whole("chicken thighs", TreatmentKind.INJECTED, 80.0)
    for fact in facts_of(whole, no_readings):
        assert "safe" not in f"{fact.fact} {fact.state} {fact.source}".casefold()


def test_that_a_slow_climb_through_the_middle_is_not_reached_in_four_hours() -> None:
    # 40 to 140 °F within four hours: common practice, no source.
    whole = a_whole("brisket", TreatmentKind.NONE, 95.0)
    start = NOON.timestamp()
    for hours, state in ((3.0, State.REACHED), (5.0, State.NOT_REACHED)):
        times = start + np.arange(0.0, 8 * 3600.0, 60.0)
        values = 4.0 + (times - start) / (hours * 3600.0) * 56.0  # 60 °C after so many hours
        trace = Trace(
            cook_id=whole.cook.id,
            probe_file_id="x",
            channel="1",
            unit_in_file="degC",
            sits=Sits.MEAT,
            samples="x",
            count=times.size,
            starts_at=NOON,
            ends_at=NOON,
            interval=60.0,
            piece_id=whole.pieces[0].id,
        )
        probed = WholeCook(**{**vars(whole), "traces": (trace,)})
        readings = Samples(times, values.astype(np.float32))
        facts = facts_of(probed, partial(_always, readings))
        assert facts[-1].state is state
