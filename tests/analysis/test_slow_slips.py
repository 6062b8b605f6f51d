"""A probe that slips out of the meat slowly makes no false "reached".

Physics written apart (`meat_in_a_pit`, `slow_slips`); rows: FDA Food Code 2017/2022 3-401.11
(165 °F poultry). Water boils at 100 °C; how probes slip: common practice, no source.
"""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import SafetyFact, State
from pitjournal.analysis.traces.slipped import BOILED, SLIPPED
from pitjournal.domain.samples import Samples
from tests.analysis.slow_slips import slips
from tests.analysis.test_no_false_reached import START, a_cook_with
from tests.analysis.test_probe_in_the_air import HELD_TO, WHOLE, untrue
from tests.builders import NOON

OFF = 180


def told(
    celsius: NDArray[np.float64],
    pit: NDArray[np.float64],
    cut: str = "whole chicken",
    altitude: float | None = None,
) -> SafetyFact:
    """Return the end point of a piece probed every minute until it came off after three hours."""
    at = 60.0 * np.arange(OFF + 1.0)
    whole, kept = a_cook_with(cut, (at, celsius * 1.8 + 32))
    kept["pit"] = Samples(START + at, pit.astype(np.float32))
    traces = tuple(
        replace(one, count=at.size, starts_at=NOON) if one.id == "pit" else one
        for one in whole.traces
    )
    cook = replace(whole.cook, altitude=altitude)
    facts = facts_of(replace(whole, cook=cook, traces=traces), lambda trace: kept[trace.id])
    return next(fact for fact in facts if "all through" in fact.fact)


def path(*points: tuple[float, float]) -> NDArray[np.float64]:
    minutes, levels = zip(*points, strict=True)
    return np.asarray(np.interp(np.arange(OFF + 1.0), minutes, levels))


def wavering(level: float, by: float) -> NDArray[np.float64]:
    return level + by * np.sin(np.arange(OFF + 1.0) / 3.0)


def test_a_probe_that_slips_out_in_twelve_minutes_and_is_above_boiling_then_says_nothing() -> None:
    fact = told(path((0, 4), (164, 57), (176, 105), (180, 105)), wavering(120, 1))
    assert fact.state is State.UNKNOWN
    assert BOILED in fact.fact or SLIPPED in fact.fact


def test_at_a_height_boiling_is_lower_and_so_is_what_no_meat_reaches() -> None:
    # Water boils at 89.98 °C at 3,000 m (standard atmosphere of ISO 2533, saturation by IAPWS).
    rise = path((0, 4), (140, 88), (160, 96), (180, 97))
    low, high = (told(rise, wavering(120, 1), altitude=metres) for metres in (0.0, 3000.0))
    assert low.state is State.REACHED
    assert high.state is State.UNKNOWN
    assert BOILED in high.fact


@pytest.mark.parametrize("top", [85.0, 88.0, 96.0])
@pytest.mark.parametrize("lasts", [8.0, 20.0, 30.0])
def test_a_rise_several_times_as_fast_as_before_says_nothing(top: float, lasts: float) -> None:
    fact = told(path((0, 4), (130, 56), (130 + lasts, top), (180, top)), wavering(top + 5, 2))
    assert fact.state is State.UNKNOWN
    assert not fact.fact.endswith("known")  # and why is said


def test_the_reason_is_said_in_plain_words() -> None:
    fact = told(path((0, 4), (120, 56), (150, 86), (180, 86)), wavering(120, 0))
    assert SLIPPED in fact.fact


def test_the_same_rise_in_a_pit_that_was_made_hotter_is_meat() -> None:
    pit = path((0, 100), (120, 100), (140, 190), (180, 190))
    fact = told(path((0, 4), (60, 34), (125, 58), (180, 84)), pit)
    assert fact.state is State.REACHED


def test_an_even_climb_to_the_end_is_meat() -> None:
    assert told(path((0, 4), (20, 8), (180, 80)), wavering(130, 2)).state is State.REACHED


def test_of_slow_slips_hardly_any_makes_a_false_reached() -> None:
    found = slips(300, 2)
    cold = [c for c in found if _hottest(c.at_probe[c.true_times <= c.off]) < _needed(c.cut)]
    shows_hot = [c for c in cold if c.probe.max() > _needed(c.cut)]
    assert len(shows_hot) >= 40
    assert sum(untrue(c) for c in cold) <= 0.02 * len(cold)  # before: one in seven


def _hottest(values: NDArray[np.float64]) -> float:
    return float(values.max())


def _needed(cut: str) -> float:
    return HELD_TO.get(cut, WHOLE) - 0.9


def test_a_slip_that_begins_while_the_meat_is_cool_says_nothing() -> None:
    # 0.2 °F a minute to 78 °F, then eleven times as fast without a wrap or a hotter pit.
    celsius = path((0, 3.3), (100, 25.5), (140, 74.5), (180, 74.5))
    fact = told(celsius, wavering(121, 2), "brisket")
    assert fact.state is State.UNKNOWN
    assert SLIPPED in fact.fact
