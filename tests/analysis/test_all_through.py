"""All through: the lowest of the points measured last decides, and a rule's time must be held.

Rows: FDA Food Code 2017/2022 3-401.11 (145 °F for 15 s; 155 °F for 17 s, 150 °F for 60 s,
145 °F for 3 min, 158 °F at once; 165 °F) and the USDA FSIS chart (160 °F ground).
"""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from pitjournal.analysis.safety.facts import facts_of, levels_of
from pitjournal.analysis.safety.states import SafetyFact, State
from pitjournal.domain.cook import Arm
from pitjournal.domain.cuts.meat import JudgedAs
from pitjournal.domain.event import DonenessCheck, EventKind
from pitjournal.domain.judged import judged
from pitjournal.domain.piece import Piece
from pitjournal.domain.samples import Samples
from pitjournal.domain.trace import Sits, Trace
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import a_pit, happened, no_readings
from tests.builders import NOON, a_cook

OFF = 240


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def a_piece(
    cut: str, *probed: tuple[float, float, str], treatments: tuple[Treatment, ...] = ()
) -> WholeCook:
    """Return one piece, on at noon and off at 16:00, probed at (minute, °F, point)."""
    cook = a_cook()
    arm = Arm(cook_id=cook.id, position=0, name="one")
    piece = Piece(id="piece", cook_id=cook.id, position=0, label="A1", cut=cut, arm_id=arm.id)
    checks = tuple(
        DonenessCheck(
            cook_id=cook.id,
            piece_id=piece.id,
            at=NOON + timedelta(minutes=minute),
            internal=celsius(degrees),
            point=point,
        )
        for minute, degrees, point in probed
    )
    return WholeCook(
        cook=cook,
        arms=(arm,),
        pieces=(piece,),
        checks=checks,
        treatments=tuple(
            replace(t, cook_id=cook.id, arm_id=arm.id if t.arm_id else None) for t in treatments
        ),
        events=happened(cook, on=0, off=OFF),
    )


def arms(kind: TreatmentKind, **fields: str) -> Treatment:
    return Treatment(cook_id="", arm_id="arm", kind=kind, **fields)  # type: ignore[arg-type]


def own(kind: TreatmentKind, **fields: str) -> Treatment:
    return Treatment(cook_id="", piece_id="piece", kind=kind, **fields)  # type: ignore[arg-type]


def end_point(whole: WholeCook) -> SafetyFact:
    return next(fact for fact in facts_of(whole, no_readings) if "all through" in fact.fact)


@pytest.mark.parametrize(
    ("probed", "state", "why"),
    [
        # several points at once: the lowest decides
        (((239, 170, "thick"), (239, 168, "thin")), State.REACHED, ""),
        (((239, 185, "thin"), (239, 160, "thick")), State.NOT_REACHED, ""),
        (((239, 185, ""), (239, 160, "")), State.NOT_REACHED, ""),
        # one reading at one point is not all through
        (((239, 185, ""),), State.UNKNOWN, "one reading at one point"),
        # held over two readings
        (((225, 170, ""), (239, 175, "")), State.REACHED, ""),
        # an early reading says nothing of the end
        (
            ((60, 120, ""),),
            State.UNKNOWN,
            "last probed at 120 °F (49 °C), below 165 °F (74 °C), well before it came off",
        ),
        # a named point that was not probed again stays cold for all anyone knows
        (
            ((120, 140, "thigh"), (225, 170, "breast"), (239, 172, "breast")),
            State.UNKNOWN,
            "colder where it was not probed again (thigh)",
        ),
        ((), State.UNKNOWN, "not probed"),
    ],
)
def test_the_lowest_point_measured_last_decides(
    probed: tuple[tuple[float, float, str], ...], state: State, why: str
) -> None:
    fact = end_point(a_piece("chicken breast", *probed))
    assert fact.state is state
    assert why in fact.fact
    assert fact.fact.startswith("Poultry: 165 °F (74 °C) all through")


@pytest.mark.parametrize(
    ("degrees", "minutes", "state"),
    [
        (156, 14, State.REACHED),  # 155 °F for 17 s
        (156, 120, State.UNKNOWN),  # nobody knows what it was in two hours between
        (151, 2, State.REACHED),  # 150 °F for 60 s
        (151, 0.5, State.UNKNOWN),
        (146, 4, State.REACHED),  # 145 °F for 3 min
        (146, 2, State.UNKNOWN),
        (144, 120, State.NOT_REACHED),
    ],
)
def test_an_equivalent_row_of_the_chart_counts_for_injected_meat(
    degrees: float, minutes: float, state: State
) -> None:
    injected = (arms(TreatmentKind.INJECTED),)
    whole = a_piece(
        "brisket",
        (239 - minutes, degrees, "flat"),
        (239, degrees, "flat"),
        treatments=injected,
    )
    fact = end_point(whole)
    assert fact.state is state
    assert "non-intact (injected): 155 °F (68 °C) for 17 s" in fact.fact


@pytest.mark.parametrize(
    "treatments",
    [
        (arms(TreatmentKind.DRY_BRINED), arms(TreatmentKind.INJECTED)),
        (arms(TreatmentKind.INJECTED), arms(TreatmentKind.DRY_BRINED)),
        (own(TreatmentKind.MARINATED), arms(TreatmentKind.NEEDLED)),
        (arms(TreatmentKind.NONE), own(TreatmentKind.BLADED)),
        (own(TreatmentKind.OTHER, note="boned and rolled, tied"),),
        (arms(TreatmentKind.OTHER, recipe="Rollbraten"), own(TreatmentKind.BRINED)),
    ],
)
def test_any_treatment_in_any_order_makes_meat_non_intact(
    treatments: tuple[Treatment, ...],
) -> None:
    whole = a_piece("pork loin", treatments=treatments)
    assert judged(whole, whole.pieces[0]).rule is JudgedAs.NON_INTACT


@pytest.mark.parametrize(
    ("cut", "treatments", "rule"),
    [
        ("chicken wings", (arms(TreatmentKind.INJECTED),), JudgedAs.POULTRY),
        ("pork loin", (own(TreatmentKind.OTHER, note="stuffed with spinach"),), JudgedAs.STUFFED),
        ("beef burger", (arms(TreatmentKind.NEEDLED),), JudgedAs.GROUND),
        ("pork loin", (arms(TreatmentKind.DRY_BRINED),), JudgedAs.WHOLE),
        ("a mystery", (arms(TreatmentKind.INJECTED),), JudgedAs.UNKNOWN),
    ],
)
def test_what_asks_most_of_the_cut_and_what_was_done_to_it_holds(
    cut: str, treatments: tuple[Treatment, ...], rule: JudgedAs
) -> None:
    whole = a_piece(cut, treatments=treatments)
    assert judged(whole, whole.pieces[0]).rule is rule


def test_meat_sold_with_a_solution_or_probed_raw_counts_as_non_intact() -> None:
    whole = a_piece("pork loin")
    pumped = replace(whole, pieces=(replace(whole.pieces[0], declared_solution=0.1),))
    assert judged(pumped, pumped.pieces[0]).why == ("sold with a solution in it",)
    early = a_piece("pork loin", (20, 60, ""))
    assert judged(early, early.pieces[0]).why == ("probed early",)
    late = a_piece("pork loin", (200, 150, ""))
    assert judged(late, late.pieces[0]).rule is JudgedAs.WHOLE


def traced(cut: str, minutes: int, *points: tuple[float, float]) -> tuple[SafetyFact, ...]:
    """Return the facts of a piece with a probe in it: (minute, °F) joined by lines."""
    whole = a_piece(cut)
    trace = Trace(
        cook_id=whole.cook.id,
        probe_file_id="x",
        channel="1",
        unit_in_file="degC",
        sits=Sits.MEAT,
        samples="x",
        count=minutes,
        starts_at=NOON,
        ends_at=NOON + timedelta(minutes=minutes),
        interval=60.0,
        piece_id="piece",
    )
    at = np.arange(0.0, minutes + 1.0)
    values = np.interp(at, [p[0] for p in points], [celsius(p[1]) for p in points])
    samples = Samples(NOON.timestamp() + 60.0 * at, values.astype(np.float32))
    return with_a_pit(whole, trace, samples, minutes)


def with_a_pit(
    whole: WholeCook, trace: Trace, samples: Samples, minutes: float
) -> tuple[SafetyFact, ...]:
    """Return the facts of a cook with one probe in its meat and one in the pit's air."""
    pit, air = a_pit(whole.cook, minutes)
    kept = {trace.id: samples, pit.id: air}
    return facts_of(replace(whole, traces=(trace, pit)), lambda one: kept[one.id])


def named(facts: tuple[SafetyFact, ...], words: str) -> SafetyFact:
    return next(fact for fact in facts if words in fact.fact)


def test_one_hot_reading_of_a_trace_is_not_held() -> None:
    spike = traced("chicken breast", 300, (0, 40), (199, 150), (200, 170), (201, 150), (300, 150))
    assert named(spike, "Poultry").state is State.NOT_REACHED
    held = traced("chicken breast", 300, (0, 40), (200, 166), (210, 168), (300, 160))
    assert named(held, "Poultry").state is State.REACHED


def test_a_trace_that_ends_before_the_meat_came_off_leaves_it_unknown() -> None:
    fact = named(traced("chicken breast", 120, (0, 40), (120, 140)), "Poultry")
    assert fact.state is State.UNKNOWN
    assert "the trace ends before it came off" in fact.fact


@pytest.mark.parametrize(
    ("minutes", "last", "state"),
    [
        (240, 139, State.NOT_REACHED),  # four hours, and never 140 °F
        (200, 120, State.UNKNOWN),  # it ended too early to tell
        (240, 165, State.REACHED),
    ],
)
def test_a_trace_that_never_passed_140_degrees_in_four_hours_did_not_reach_it(
    minutes: int, last: float, state: State
) -> None:
    # 40 to 140 °F within four hours: common practice, no source.
    facts = traced("pork butt", minutes, (0, 40), (minutes, last))
    assert named(facts, "Past 140").state is state


@pytest.mark.parametrize(
    ("cut", "name", "source"),
    [
        ("chicken wings", "Poultry: 165 °F", "3-401.11(A)(3)"),
        ("wild boar", "Wild game: 165 °F", "3-401.11(A)(3)"),
        ("stuffed pork chops", "Stuffed meat: 165 °F", "3-401.11(A)(3)"),
        ("beef burger", "Ground meat: 160 °F", "FSIS"),
        ("salmon", "Fish: 145 °F", "3-401.11(A)(1)"),
        ("brisket", "Whole meat: 145 °F", "3-401.11(A)(1)"),
        ("oddity", "Meat not known (“oddity”). What meat is it?", "3-401.11(A)(3)"),
        ("sausage", "Ground meat of an animal not said (“sausage”)", "3-401.11(A)(3)"),
    ],
)
def test_each_sort_of_meat_has_its_end_point_and_its_source(
    cut: str, name: str, source: str
) -> None:
    fact = end_point(a_piece(cut))
    assert fact.fact.startswith(name)
    assert source in fact.source


def test_two_published_rules_for_ground_meat_are_both_shown() -> None:
    facts = facts_of(a_piece("pork burger", (226, 157, ""), (239, 157, "")), no_readings)
    assert [fact.state for fact in facts] == [State.NOT_REACHED, State.REACHED]
    assert "160 °F" in facts[0].fact
    assert "155 °F (68 °C) for 17 s" in facts[1].fact


def test_chicken_wings_at_160_degrees_have_not_reached_the_rule_for_poultry() -> None:
    whole = a_piece("Chicken Wings", (230, 160, ""), (239, 160, ""))
    assert end_point(whole).state is State.NOT_REACHED
    level, word = levels_of(whole)[1]
    assert level == pytest.approx(celsius(165))
    assert word == "poultry"


def test_what_was_held_below_135_degrees_did_not_stay_hot() -> None:
    # FDA Food Code 2017/2022 3-501.16(A)(1).
    for least, state in ((140, State.REACHED), (120, State.NOT_REACHED)):
        facts = _held(least)
        assert named(facts, "Held at 135 °F").state is state


def _held(least: float) -> tuple[SafetyFact, ...]:
    whole = a_piece("pork butt")
    events = (
        *whole.events,
        *happened(whole.cook, held=250),
        *happened(whole.cook, sliced=400),
    )
    assert {event.kind for event in events} >= {EventKind.HELD, EventKind.SLICED}
    at = np.arange(0.0, 421.0)
    values = np.interp(at, [0, 230, 250, 400, 420], [40, 203, 195, least, least])
    samples = Samples(NOON.timestamp() + 60.0 * at, celsius_of(values))
    trace = Trace(
        cook_id=whole.cook.id,
        probe_file_id="x",
        channel="1",
        unit_in_file="degC",
        sits=Sits.MEAT,
        samples="x",
        count=421,
        starts_at=NOON,
        ends_at=NOON + timedelta(minutes=420),
        interval=60.0,
        piece_id="piece",
    )
    return with_a_pit(replace(whole, events=events), trace, samples, 420)


def celsius_of(values: "np.typing.NDArray[np.float64]") -> "np.typing.NDArray[np.float32]":
    return ((values - 32) / 1.8).astype(np.float32)
