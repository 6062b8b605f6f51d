"""A piece that never got there is never said to have: damage, chance and the hand's gaps.

Rows: FDA Food Code 2017/2022 3-401.11 (145 °F for 15 s whole, 155 °F for 17 s and its chart,
165 °F poultry); tables FSIS-GD-2021-14. How meat rises, and that a cook probes about every
quarter of an hour at the end: common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from pitjournal.analysis.safety.coldest import Logs
from pitjournal.analysis.safety.end_points import seen
from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import SafetyFact, State
from pitjournal.analysis.traces.probe_out import out_of_meat
from pitjournal.domain.cuts.meat import JudgedAs
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import a_pit, happened
from tests.analysis.test_all_through import a_piece, arms
from tests.builders import NOON

OFF = 180
START = NOON.timestamp()
Points = Sequence[tuple[float, float]]
Readings = tuple[NDArray[np.float64], NDArray[np.float64]]


def ramp(top: float, step: float = 60.0, start: float = 40.0, length: float = OFF) -> Readings:
    """Return times after on, s, and °F of a straight rise."""
    at = np.arange(0.0, length * 60.0 + 1.0, step)
    return at, np.interp(at, [0.0, length * 60.0], [start, top])


def with_spikes(readings: Readings, *spikes: tuple[float, float]) -> Readings:
    """Return readings with those at some minutes replaced by °F."""
    at, values = readings[0], readings[1].copy()
    for minute, degrees in spikes:
        values[np.argmin(np.abs(at - 60.0 * minute))] = degrees
    return at, values


def a_cook_with(
    cut: str,
    *logs: Readings,
    probed: Sequence[tuple[float, float, str]] = (),
    kind: TreatmentKind | None = None,
    pit: bool = True,
) -> tuple[WholeCook, dict[str, Samples]]:
    """Return a piece on at noon and off three hours later, with probes in it and in the pit."""
    treatments = () if kind is None else (arms(kind),)
    whole = a_piece(cut, *probed, treatments=treatments)
    traces, kept = [], {}
    for number, (at, degrees) in enumerate(logs):
        trace = Trace(
            cook_id=whole.cook.id,
            probe_file_id="x",
            channel=str(number),
            unit_in_file="degC",
            sits=Sits.MEAT,
            samples=str(number),
            count=at.size,
            starts_at=NOON,
            ends_at=NOON + timedelta(seconds=float(at[-1])),
            interval=60.0,
            piece_id="piece",
        )
        traces.append(trace)
        kept[trace.id] = Samples(START + at, ((degrees - 32) / 1.8).astype(np.float32))
    if pit:
        trace, kept["pit"] = a_pit(whole.cook, OFF)
        traces.append(replace(trace, id="pit"))
    events = happened(whole.cook, on=0, off=OFF)
    return replace(whole, events=events, traces=tuple(traces)), kept


def told(
    cut: str,
    *logs: Readings,
    probed: Sequence[tuple[float, float, str]] = (),
    kind: TreatmentKind | None = None,
    pit: bool = True,
) -> tuple[SafetyFact, ...]:
    whole, kept = a_cook_with(cut, *logs, probed=probed, kind=kind, pit=pit)
    return facts_of(whole, lambda trace: kept[trace.id])


def state(facts: tuple[SafetyFact, ...], words: str) -> State:
    return next(fact.state for fact in facts if words in fact.fact)


def all_through(facts: tuple[SafetyFact, ...]) -> State:
    return state(facts, "all through")


@pytest.mark.parametrize("step", [10.0, 60.0, 300.0])
@pytest.mark.parametrize("degrees", [165.0, 167.0, 185.0, 212.0, 230.0, 400.0])
@pytest.mark.parametrize("minute", [90.0, 170.0, 180.0])
@pytest.mark.parametrize("cut", ["chicken breast", "pork loin", "brisket"])
def test_one_hot_reading_in_a_climb_reaches_nothing(
    step: float, degrees: float, minute: float, cut: str
) -> None:
    facts = told(cut, with_spikes(ramp(120.0, step), (minute, degrees)))
    assert all(fact.state is not State.REACHED for fact in facts), facts


def test_one_hot_reading_holds_no_table() -> None:
    at, low = ramp(40.0)
    for cut, top in (("chicken breast", 155.0), ("pork loin", 128.0)):
        last_hour = np.interp(at, [7200.0, 10800.0], [40.0, top])  # 150 °F asks over 2 min
        facts = told(cut, with_spikes((at, np.maximum(low, last_hour)), (170, 167)))
        assert state(facts, "published table") is not State.REACHED
        assert all_through(facts) is not State.REACHED


def test_two_hot_readings_ten_seconds_apart_reach_nothing() -> None:
    hot = with_spikes(ramp(150.0, 10.0), (170, 170), (170 + 1 / 6, 170))
    assert all_through(told("chicken breast", hot)) is not State.REACHED


@pytest.mark.parametrize("step", [1.0, 10.0, 60.0, 300.0])
@pytest.mark.parametrize("cut", ["chicken breast", "pork loin", "brisket"])
def test_a_true_climb_to_170_degrees_is_reached(step: float, cut: str) -> None:
    facts = told(cut, ramp(170.0, step))
    assert all_through(facts) is State.REACHED
    assert state(facts, "published table") is State.REACHED
    assert state(facts, "Past 140") is State.REACHED


@pytest.mark.parametrize("step", [10.0, 30.0, 60.0])
@pytest.mark.parametrize("air", [170.0, 200.0, 250.0])
@pytest.mark.parametrize("since", [160.0, 177.0, 179.5])
def test_a_probe_in_the_air_of_the_pit_at_the_end_reaches_nothing(
    step: float, air: float, since: float
) -> None:
    at, values = ramp(120.0, step)
    values = np.where(at >= 60 * since, air, values)
    for left_out in (False, True):
        log = at, values
        if left_out:
            samples = Samples(START + at, ((values - 32) / 1.8).astype(np.float32))
            spans = out_of_meat(samples, START, START + 60.0 * OFF)
            away = np.zeros(at.size, dtype=bool)
            for first, last in spans:
                assert first <= last
                away |= (START + at >= first) & (START + at <= last)
            log = at[~away], values[~away]
        for cut in ("chicken breast", "pork loin"):
            assert all(fact.state is not State.REACHED for fact in told(cut, log))


@pytest.mark.parametrize(
    "minutes", [(170, 3 * 24 * 60), (-300, 170), (30, 170), (170, 24 * 60), (-10, -5), (150, 170)]
)
def test_two_readings_by_hand_far_apart_or_not_of_this_cook_are_no_hold(
    minutes: tuple[float, float],
) -> None:
    facts = told("pork loin", probed=[(minute, 146, "") for minute in minutes])
    assert all_through(facts) is State.UNKNOWN


def test_two_readings_by_hand_close_together_at_one_point_are_a_hold() -> None:
    assert all_through(told("pork loin", probed=[(165, 146, ""), (178, 147, "")])) is State.REACHED
    rest = [(179, 146, "middle"), (186, 147, "middle")]
    assert all_through(told("pork loin", probed=rest)) is State.REACHED


def test_two_points_read_once_each_are_no_hold() -> None:
    points = [(168, 146, "thick"), (178, 147, "thin")]
    assert all_through(told("pork loin", probed=points)) is State.UNKNOWN


def test_of_two_probes_the_coldest_decides_in_any_order() -> None:
    cold, hot = ramp(120.0), ramp(170.0)
    for logs in ((cold, hot), (hot, cold)):
        facts = told("pork loin", *logs)
        assert all_through(facts) is State.NOT_REACHED
        assert state(facts, "published table") is State.NOT_REACHED
        assert state(facts, "Past 140") is State.UNKNOWN  # three hours were not four


def test_a_colder_reading_by_hand_decides() -> None:
    cold = [(minute, 120.0, "") for minute in (170, 172, 175)]
    facts = told("pork loin", ramp(170.0), probed=cold)
    assert all_through(facts) is State.NOT_REACHED
    assert state(facts, "published table") is State.NOT_REACHED


def test_a_reading_above_boiling_is_not_of_the_meat() -> None:
    facts = told("chicken breast", probed=[(170, 400, ""), (175, 400, "")])
    assert all_through(facts) is State.UNKNOWN


def test_a_trace_of_one_reading_is_unknown() -> None:
    one = np.array([170 * 60.0]), np.array([170.0])
    for cut in ("pork loin", "chicken breast"):
        assert all(fact.state is State.UNKNOWN for fact in told(cut, one))


ORDER = tuple(JudgedAs)
DEGREES = st.floats(100.0, 200.0)


@settings(max_examples=150, deadline=None)
@given(
    probed=st.lists(
        st.tuples(
            st.floats(100.0, 200.0), DEGREES, st.sampled_from(["", "thick", "thin", "thigh"])
        ),
        max_size=6,
    ),
    tops=st.lists(DEGREES, max_size=2),
    step=st.sampled_from([10.0, 60.0, 300.0]),
    minutes=st.integers(1, OFF),
)
def test_a_rule_that_asks_more_is_never_reached_where_one_that_asks_less_is_not(
    probed: list[tuple[float, float, str]], tops: list[float], step: float, minutes: int
) -> None:
    logs = [ramp(top, step, length=minutes) for top in tops]
    whole, kept = a_cook_with("pork loin", *logs, probed=sorted(probed))
    logs_of = Logs(whole, lambda trace: kept[trace.id])
    found = [seen(logs_of, whole.pieces[0], rule).state for rule in ORDER]
    for less, more in pairwise(found):
        assert more is not State.REACHED or less is State.REACHED, found


@settings(max_examples=150, deadline=None)
@given(
    core=st.floats(60.0, 125.0),
    step=st.sampled_from([5.0, 10.0, 30.0, 60.0, 300.0]),
    spikes=st.lists(st.tuples(st.floats(0.05, 1.0), st.floats(130.0, 500.0)), max_size=6),
    air=st.none() | st.tuples(st.floats(0.3, 1.0), st.floats(190.0, 300.0)),
    others=st.lists(st.floats(60.0, 200.0), max_size=2),
    order=st.integers(0, 5),
    checks=st.lists(st.tuples(st.floats(-300.0, 4000.0), st.floats(0.6, 1.0)), max_size=5),
    seed=st.integers(0, 999),
)
def test_a_core_that_never_got_there_is_never_said_to_have(  # noqa: PLR0917 - drawn
    core: float,
    step: float,
    spikes: list[tuple[float, float]],
    air: tuple[float, float] | None,
    others: list[float],
    order: int,
    checks: list[tuple[float, float]],
    seed: int,
) -> None:
    at, values = ramp(core, step)
    noise = np.random.default_rng(seed)
    values = values + noise.normal(0.0, 0.3, at.size)
    if air is not None:
        values = np.where(at >= air[0] * at[-1], air[1], values)
    places = {int(share * (at.size - 1)) // 4 * 4 for share, _ in spikes}  # each by itself
    for place, (_, degrees) in zip(sorted(places), spikes, strict=False):
        values[place] = degrees
    logs = [(at, values), *(ramp(top, step) for top in others)]
    logs = logs[order % len(logs) :] + logs[: order % len(logs)]
    probed = [(minute, core * share, "") for minute, share in sorted(checks)]
    for cut in ("chicken breast", "pork loin"):
        for kind in (None, TreatmentKind.INJECTED):
            for fact in told(cut, *logs, probed=probed, kind=kind):
                assert fact.state is not State.REACHED, fact
