"""Two ways alone and both together, against a published factorial.

Source: Box, Hunter & Hunter, pilot plant, temperature × catalyst with concentration as the pack
(tests/science/data/README.md).
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.comparison import summaries
from pitjournal.analysis.findings.explain import explanations
from pitjournal.analysis.findings.factorial import Effect, effects_of, factorial_sentences
from pitjournal.analysis.findings.findings import findings_of
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE, compared, no_readings
from tests.science.reference import expected, rows

KEY = "score.tenderness"
NAMES = ("Left alone", "Injected", "Needled", "Both")
KINDS = (
    (TreatmentKind.NONE,),
    (TreatmentKind.INJECTED,),
    (TreatmentKind.NEEDLED,),
    (TreatmentKind.INJECTED, TreatmentKind.NEEDLED),
)


def a_square(values: tuple[tuple[float, ...], ...]) -> WholeCook:
    whole = compared(NAMES, values)
    treatments = tuple(
        Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=kind)
        for arm, kinds in zip(whole.arms, KINDS, strict=True)
        for kind in kinds
    )
    return replace(whole, treatments=treatments)


def pilot_plant() -> WholeCook:
    """Return the plant as a cook: warm is injected, the other catalyst is needled."""
    cells: dict[tuple[str, str], list[float]] = {}
    for row in rows("factorial_2x2x2_pilot_plant_bhh"):
        cells.setdefault((row["T_temperature"], row["K_catalyst"]), []).append(float(row["yield"]))
    order = (("-1", "-1"), ("1", "-1"), ("-1", "1"), ("1", "1"))
    return a_square(tuple(tuple(cells[key]) for key in order))


def effects(whole: WholeCook) -> tuple[Effect, ...]:
    return effects_of(whole, summaries(whole, values_of(whole, no_readings).pieces, KEY))


def test_that_the_pilot_plant_has_its_published_effects() -> None:
    temperature, catalyst, together = effects(pilot_plant())
    assert temperature.estimate == pytest.approx(expected("FA01").value)
    assert catalyst.estimate == pytest.approx(expected("FA03").value)
    # Their interaction is half of what both do beyond the sum of each alone.
    assert together.estimate == pytest.approx(2 * expected("FA05").value)
    assert temperature.pieces == 8
    assert temperature.df == 3  # eight runs, less four ways and one more block
    assert temperature.tells


def test_that_the_answer_has_the_published_effects() -> None:
    whole = pilot_plant()
    got = findings_of(whole, values_of(whole, no_readings), CATALOGUE, no_readings, UnitSystem.US)
    told = as_json(got)["effects"]
    assert [(row["name"], row["together"]) for row in told] == [
        ("Injected", False),
        ("Needled", False),
        ("Injected and needled", True),
    ]
    assert told[0]["estimate"] == pytest.approx(expected("FA01").value)
    assert told[1]["estimate"] == pytest.approx(expected("FA03").value)
    assert told[0]["unit"] == "points"
    assert told[0]["low"] < told[0]["estimate"] < told[0]["high"]
    assert all(row["p"] <= row["p_of_three"] <= 1 for row in told)  # Holm never lowers a p


def test_that_three_effects_are_held_to_one_chance() -> None:
    found = effects(pilot_plant())
    ordered = sorted(found, key=lambda effect: effect.p)
    assert ordered[0].adjusted == pytest.approx(min(1.0, 3 * ordered[0].p))
    assert all(effect.adjusted >= effect.p for effect in found)


def test_that_a_two_by_two_is_told_as_one() -> None:
    whole = pilot_plant()
    values = values_of(whole, no_readings)
    found = findings_of(whole, values, CATALOGUE, no_readings, UnitSystem.US)
    assert found.words[0].startswith(
        "Injected racks were 23 points more tender, with and without the other"
    )
    assert "not enough to tell" in found.words[1]
    titles = [title for title, _ in explanations(found, SlowFindings(), UnitSystem.US)]
    assert "Two by two" in titles


@pytest.mark.parametrize(("high", "word"), [(9.0, "more"), (3.0, "less")])
def test_that_what_two_do_beyond_their_sum_is_said(high: float, word: str) -> None:
    steps = (0.0, 0.1, -0.1)
    base = (5.0, 6.0, 6.0, high)
    told = effects(
        a_square(tuple(tuple(b + s * (1 + n) for s in steps) for n, b in enumerate(base)))
    )
    said = factorial_sentences(told, CATALOGUE[KEY], UnitSystem.US, "rack")
    assert f"together do {word} than each alone adds up to" in said[2]


def test_that_three_ways_or_other_treatments_are_no_two_by_two() -> None:
    three = compared(NAMES[:3], ((5, 6), (6, 7), (7, 8)))
    assert effects(three) == ()
    four = compared(NAMES, ((5, 6), (6, 7), (7, 8), (8, 9)))
    assert effects(four) == ()


def test_that_one_pack_shows_no_effects() -> None:
    assert effects(a_square(((5,), (6,), (7,), (8,)))) == ()
