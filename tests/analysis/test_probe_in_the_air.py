"""A hard random search: whatever befalls a probe, nothing is reached that was not.

Ground truth is in `meat_in_a_pit`, physics written apart. Rows: FDA Food Code 2017/2022
3-401.11 (145 °F whole, 165 °F poultry and meat not known); 130 °F is the lowest row of
FSIS-GD-2021-14; 140 °F in four hours is common practice, no source.
"""

from collections import Counter
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.safety.facts import facts_of
from pitjournal.analysis.safety.states import SafetyFact, State
from pitjournal.analysis.traces.doubt import UNSTEADY, doubt
from pitjournal.analysis.traces.facts import DOSES
from pitjournal.analysis.traces.readings import Readings
from pitjournal.domain.event import DonenessCheck
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import happened
from tests.analysis.meat_in_a_pit import Invented, Where, cooks
from tests.analysis.test_all_through import a_piece
from tests.builders import NOON

HELD_TO = {
    "chicken breast": 73.9,
    "chicken thighs": 73.9,
    "turkey breast": 73.9,
    "burgers": 73.9,
    "meatloaf": 73.9,
}
WHOLE, LOWEST_ROW, WARM = 62.8, 54.4, 60.0
ERROR = 0.9
"""Half a step of 1 °F, and three times the noise of a good probe, K."""

HARD = frozenset({Where.SURFACE, Where.THROUGH, Where.MOVED, Where.STUCK})
"""No log tells these for sure: a face in calm air is as smooth as the middle, a piece as another
one, and a probe that stuck a while ago as a stall."""

START = NOON.timestamp()


def told(cook: Invented, *, hand: bool = True) -> tuple[SafetyFact, ...]:
    """Return what the program says of an invented cook."""
    return facts_of(*logged(cook, hand=hand))


def logged(cook: Invented, *, hand: bool = True) -> tuple[WholeCook, Readings]:
    """Return an invented cook as the journal holds it, with its traces' readings.

    Where no probe was in the pit a cook probes the middle by hand as the meat comes off.
    """
    whole = a_piece(cook.cut)
    if hand and not cook.has_pit:
        off = float(np.interp(cook.off - 60.0, cook.true_times, cook.core))
        check = DonenessCheck(
            cook_id=whole.cook.id,
            piece_id="piece",
            at=NOON + timedelta(seconds=cook.off - 60.0),
            internal=off,
        )
        whole = replace(whole, checks=(check,))
    logs = [(cook.probe, Sits.MEAT), *([(cook.pit, Sits.PIT)] if cook.has_pit else [])]
    traces, kept = [], {}
    for number, (values, sits) in enumerate(logs):
        trace = Trace(
            cook_id=whole.cook.id,
            probe_file_id="x",
            channel=str(number),
            unit_in_file="degC",
            sits=sits,
            samples=str(number),
            count=values.size,
            starts_at=NOON,
            ends_at=NOON + timedelta(seconds=float(cook.times[-1])),
            interval=60.0,
            piece_id="piece" if sits is Sits.MEAT else None,
        )
        traces.append(trace)
        kept[trace.id] = Samples(START + cook.times, values.astype(np.float32))
    whole = replace(
        whole,
        pieces=(replace(whole.pieces[0], thickness_1=cook.thickness),),
        events=happened(whole.cook, on=0, off=cook.off / 60.0),
        traces=tuple(traces),
    )
    return whole, lambda trace: kept[trace.id]


def untrue(cook: Invented) -> bool:
    """Whether a fact is said to be reached that the meat about the probe never reached."""
    cooking = (cook.true_times >= 0) & (cook.true_times <= cook.off)
    hottest = float(cook.at_probe[cooking].max())
    needed = {
        "all through": HELD_TO.get(cook.cut, WHOLE),
        "published table": LOWEST_ROW,
        "Past 140": WARM,
    }
    return any(
        words in fact.fact and fact.state is State.REACHED and hottest < degrees - ERROR
        for fact in told(cook)
        for words, degrees in needed.items()
    )


def middle(facts: tuple[SafetyFact, ...]) -> State:
    return next(fact for fact in facts if "all through" in fact.fact).state


def surely_reached(cook: Invented) -> bool:
    """Whether the middle was above its row for three minutes, and three readings of its log."""
    cooking = (cook.true_times >= 0) & (cook.true_times <= cook.off)
    above = cook.at_probe[cooking] >= HELD_TO.get(cook.cut, WHOLE) + 0.6
    lasted = float(above.sum() * np.diff(cook.true_times[:2])[0])
    return lasted >= max(180.0, 3.0 * float(np.median(np.diff(cook.times))))


@pytest.mark.parametrize("seed", [101, 102, 103, 104])
def test_no_probe_in_the_air_pulled_out_late_or_spiking_makes_a_false_reached(seed: int) -> None:
    tellable = [where for where in Where if where not in HARD]
    found = Counter(cook.where for cook in cooks(500, seed, tellable) if untrue(cook))
    assert not found


def test_a_probe_at_the_face_half_out_moved_or_stuck_is_nearly_always_told() -> None:
    found = [untrue(cook) for cook in cooks(800, 105, sorted(HARD))]
    assert sum(found) <= 0.01 * len(found)  # before it was looked for: one in five


def test_what_was_truly_reached_in_the_middle_is_said_in_95_of_100_cooks() -> None:
    honest = [c for c in cooks(1500, 106, (Where.HONEST, Where.SPIKES)) if surely_reached(c)]
    said = [middle(told(cook)) is State.REACHED for cook in honest]
    assert len(honest) >= 200
    assert sum(said) >= 0.95 * len(said)
    by_hand = [one for one, cook in zip(said, honest, strict=True) if not cook.has_pit]
    assert len(by_hand) >= 80
    assert sum(by_hand) >= 0.92 * len(by_hand)


def test_without_the_pit_or_the_hand_no_log_is_said_to_have_reached_anything() -> None:
    alone = [c for c in cooks(600, 110) if not c.has_pit]
    assert len(alone) >= 150
    for cook in alone:
        assert all(fact.state is not State.REACHED for fact in told(cook, hand=False)), cook.where


def test_no_lethality_is_worked_out_of_a_probe_in_the_air() -> None:
    # What a probe in air of 100 °C for hours would be taken for: a sterile piece.
    found = [values_of(*logged(c)).pieces["piece"] for c in cooks(300, 108, (Where.AIR,))]
    hot = [v for v in found if v["lethality"] is not None and float(str(v["lethality"])) > 60.0]
    assert not hot


def test_the_lethality_of_an_honest_probe_is_kept_in_90_of_100_cooks() -> None:
    honest = [c for c in cooks(500, 109, (Where.HONEST,)) if surely_reached(c)]
    found = [values_of(*logged(c)).pieces["piece"] for c in honest]
    kept = [all(v[key] is not None for key in DOSES) for v in found]
    assert len(found) >= 50
    assert sum(kept) >= 0.9 * len(kept)


def test_the_reason_is_one_that_a_cook_understands() -> None:
    reasons = Counter[str]()
    for cook in cooks(300, 107, (Where.AIR, Where.STUCK, Where.MOVED)):
        fact = next(fact for fact in told(cook) if "all through" in fact.fact)
        if fact.state is State.UNKNOWN and ";" in fact.fact:
            reasons[fact.fact.rpartition("; ")[2].partition(":")[0]] += 1
    assert "its probe is as unsteady as air" in reasons
    assert all(
        not {"nan", "correlated", "window", "residual"} & set(why.split()) for why in reasons
    )


def test_meat_that_is_wrapped_leaves_its_stall_at_once_and_is_meat_still() -> None:
    # A stall at 160 °F that foil ends, up 13 K in 25 minutes: common practice, no source.
    minutes = np.arange(0.0, 220.0)
    level = np.interp(minutes, [0, 90, 130, 155, 219], [6.0, 71.0, 71.0, 84.0, 92.0])
    noise = np.random.default_rng(3).normal(0.0, 0.1, minutes.size)
    rounded = np.convolve(np.pad(level, 5, mode="edge"), np.full(11, 1 / 11), mode="valid")
    assert not doubt(60.0 * minutes, rounded + noise)
    assert doubt(60.0 * minutes, rounded + 2.5 * np.sin(minutes)) == UNSTEADY
