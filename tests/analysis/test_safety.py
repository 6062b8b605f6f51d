"""Safety facts say reached, not reached or unknown, with the rule's own number and source.

Rules: FDA Food Code 2017/2022 3-401.11 (resources/safety/rules.csv, graded published).
"""

from datetime import timedelta

import numpy as np
import pytest
from numpy.typing import NDArray

from pitjournal.analysis.safety.end_points import AT_ONCE
from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import SafetyFact, State
from pitjournal.domain.cook import Arm
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import safety_rules
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import happened, no_readings
from tests.analysis.test_all_through import with_a_pit
from tests.builders import NOON, a_cook


def a_whole(cut: str, kind: TreatmentKind, *internals: float | None) -> WholeCook:
    cook = a_cook()
    arm = Arm(cook_id=cook.id, position=0, name="one", control=True)
    pieces = tuple(
        Piece(cook_id=cook.id, position=n, label=f"A{n}", cut=cut, arm_id=arm.id)
        for n in range(len(internals))
    )
    checks = tuple(  # probed twice before it comes off: one reading is not all through
        DonenessCheck(
            cook_id=cook.id,
            piece_id=piece.id,
            at=NOON + timedelta(minutes=minutes),
            internal=internal,
        )
        for minutes in (190, 198)
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


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def test_that_the_rules_are_those_of_the_published_chart() -> None:
    # FDA Food Code 2017/2022 3-401.11: 158 °F at once for what is non-intact, 165 °F for poultry.
    rules = safety_rules()
    assert rules[AT_ONCE].celsius == pytest.approx(celsius(158))
    assert rules[AT_ONCE].hold == 0
    assert rules["fc-cook-poultry"].celsius == pytest.approx(celsius(165))
    assert rules["fc-cook-intact"].hold == 15


@pytest.mark.parametrize(
    ("internals", "state"),
    [
        ((70.1, 75.0), State.REACHED),  # 158 °F is 70 °C
        ((69.0, 75.0), State.REACHED),  # 156 °F for eight minutes: 155 °F for 17 s is its row
        ((62.0, 75.0), State.NOT_REACHED),  # 144 °F is below every row
        ((75.0, None), State.UNKNOWN),
        ((62.0, None), State.NOT_REACHED),
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
    for hours, state in ((3.0, State.REACHED), (5.0, State.NOT_REACHED)):
        minutes = np.arange(0.0, 8 * 60.0)
        facts = traced("brisket", minutes, 4.0 + minutes / (hours * 60.0) * 56.0)
        assert facts[-1].fact.startswith("Past 140")
        assert facts[-1].state is state


def traced(
    cut: str, minutes: NDArray[np.float64], values: NDArray[np.float64]
) -> tuple[SafetyFact, ...]:
    """Return the facts of one piece, on at noon and off 200 min later, with this trace."""
    whole = a_whole(cut, TreatmentKind.NONE, None)
    trace = Trace(
        cook_id=whole.cook.id,
        probe_file_id="x",
        channel="1",
        unit_in_file="degC",
        sits=Sits.MEAT,
        samples="x",
        count=minutes.size,
        starts_at=NOON,
        ends_at=NOON,
        interval=60.0,
        piece_id=whole.pieces[0].id,
    )
    readings = Samples(NOON.timestamp() + 60.0 * minutes, values.astype(np.float32))
    return with_a_pit(whole, trace, readings, float(minutes[-1]))


def rounded(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return readings of each minute whose corners are round: the middle of meat turns slowly."""
    padded = np.pad(values, 6, mode="edge")
    return np.convolve(padded, np.full(13, 1 / 13), mode="valid")


def of_table(facts: tuple[SafetyFact, ...]) -> SafetyFact:
    return next(fact for fact in facts if "published table" in fact.fact)


@pytest.mark.parametrize(
    ("cut", "fahrenheit", "held", "state"),
    [
        # Table 2, 6.5-log: 134 °F for 45 min.
        ("brisket", 134.5, 60, State.REACHED),
        ("brisket", 134.5, 30, State.NOT_REACHED),
        ("brisket", 129.0, 180, State.NOT_REACHED),  # below the table
        # Table 3: chicken at 145 °F, fat unknown, for 13 min.
        ("chicken thighs", 145.5, 30, State.REACHED),
        ("chicken thighs", 145.5, 4, State.NOT_REACHED),
    ],
)
def test_that_a_trace_is_read_by_the_next_lower_row(
    cut: str, fahrenheit: float, held: int, state: State
) -> None:
    minutes = np.arange(0.0, 201.0)
    top = celsius(fahrenheit)  # up to it and down again as meat goes: a leap would be damage
    knots = [0, 45, 57 + held, 110 + held]  # rounding takes six minutes of each end
    values = np.interp(minutes, knots, [20.0, top, top, 30.0])
    noise = np.random.default_rng(1).normal(0.0, 0.1, minutes.size)  # a dead one stands still
    fact = of_table(traced(cut, minutes, rounded(values) + noise))
    assert fact.state is state
    assert "FSIS-GD-2021-14" in fact.source


def test_that_cooling_is_held_to_both_stages() -> None:
    # FDA Food Code 3-501.14(A): 135 to 70 °F in 2 h, and to 41 °F in 6 h in all.
    minutes = np.arange(0.0, 200 + 8 * 60.0)
    for first, whole, states in (
        (100.0, 300.0, [State.REACHED, State.REACHED]),
        (150.0, 300.0, [State.NOT_REACHED, State.REACHED]),
        (100.0, 420.0, [State.REACHED, State.NOT_REACHED]),
    ):
        hot, mid, low = celsius(135), celsius(70), celsius(41)
        values = np.interp(
            minutes, [0, 190, 205, 205 + first, 205 + whole, 680], [5, 95, hot, mid, low, low - 1]
        )
        facts = traced("brisket", minutes, rounded(values))
        assert [f.state for f in facts if f.fact.startswith("Cooled")] == states
        unsteady = values + 3.0 * np.sin(minutes)  # as air is: it tells nothing
        facts = traced("brisket", minutes, unsteady)
        told = [f.state for f in facts if f.fact.startswith("Cooled")]
        assert State.REACHED not in told
