"""What hardly a piece tells from an arm is no verdict on the arm; nor is who left what unscored.

The rules are the design's, not numbers: effects whose indicator columns are nearly the same are
nearly aliased, and means of unbalanced tables are fair only with the other factor taken out
(Box, Hunter & Hunter, Statistics for Experimenters, ch. 5 and 6; Searle, Speed & Milliken, 1980,
population marginal means; both from memory).
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.adjusted import adjusted_sentences
from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.confounded import confounded_of, confounded_sentences
from pitjournal.analysis.findings.findings import findings_of
from pitjournal.analysis.findings.one_arm import ONE_TASTER
from pitjournal.analysis.findings.went_with import pulled_early
from pitjournal.domain.blocks import Value
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.units import UnitSystem
from tests.analysis.findings.test_adjusted import KEY, with_masses
from tests.analysis.findings.test_confounded import TWO, found
from tests.analysis.makers import CATALOGUE, compared, no_readings

EIGHT = ((4.0, 4.2, 3.8, 4.1, 3.9, 4.0, 4.0, 6.1), (6.1, 6.0, 6.2, 6.1, 5.9, 6.2, 6.1, 6.2))


def in_packs(whole: WholeCook, packs: str) -> WholeCook:
    pieces = tuple(
        replace(piece, pack=f"pack {pack}") for piece, pack in zip(whole.pieces, packs, strict=True)
    )
    return replace(whole, pieces=pieces)


def test_a_pack_that_all_but_one_piece_goes_with_makes_no_verdict_on_the_arm(
    journal: Journal,
) -> None:
    got = found(journal, in_packs(compared(TWO, EIGHT), "1111111222222222"))
    assert got.words[0].startswith("Injected racks can hardly be told apart from the pack (")
    (row,) = [row for row in as_json(got)["differences"] if row["declared"]]
    assert row["verdict"] == "higher, by the arm or by the pack"
    (claim,) = [words for words in got.words if "more tender than" in words]
    assert claim.startswith("By the arm or by the pack, this cook cannot say which: ")
    (lot,) = as_json(got)["by_lot"]
    assert lot["p"] > 0.5  # within the packs nothing differs


@pytest.mark.parametrize("packs", ["1122112211221122", "1112222211112222", "1111222211112222"])
def test_packs_that_half_the_pieces_or_more_share_are_let_be(journal: Journal, packs: str) -> None:
    assert found(journal, in_packs(compared(TWO, EIGHT), packs)).confounded == ()


def treated(whole: WholeCook, *kinds: TreatmentKind) -> WholeCook:
    done = tuple(
        Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, kinds, strict=True)
    )
    return replace(whole, treatments=done)


@pytest.mark.parametrize(("key", "own"), [("wrap", ("none", "foil")), ("rub", ("salt", "papain"))])
def test_a_wrap_or_a_rub_beside_a_treatment_is_told_and_what_is_compared_is_not(
    key: str, own: tuple[str, str]
) -> None:
    whole = compared(TWO, ((6.0, 7.0, 6.5), (7.0, 8.0, 7.2)))
    values: dict[str, dict[str, Value]] = {
        piece.id: {key: own[place // 3]} for place, piece in enumerate(whole.pieces)
    }
    apart = treated(whole, TreatmentKind.NONE, TreatmentKind.INJECTED)
    (told,) = confounded_of(apart, values, CATALOGUE)
    assert told.variable.key == key
    assert confounded_sentences([told], "rack")[0].startswith(
        f"Injected racks cannot be told apart from the {key} ("
    )
    alike = treated(whole, TreatmentKind.INJECTED, TreatmentKind.INJECTED)
    assert confounded_of(alike, values, CATALOGUE) == ()


def test_a_harsh_taster_who_left_most_of_an_arm_unscored_makes_no_verdict_on_it() -> None:
    # Both arms got the same from each taster: whatever differs is who scored what.
    kind = ((8.0, 8.0, 8.0, 7.0, 8.0, 7.0), (8.0, 8.0, 8.0, 7.0, 8.0, 7.0))
    whole = compared(TWO, kind)
    harsh = [
        replace(score, id=f"{score.id}x", taster="Bea", value=score.value - 5.0)
        for place, score in enumerate(whole.scores)
        if place < 7
    ]
    session = replace(whole.tastings[0], tasters=("Ada", "Bea"))
    whole = replace(whole, tastings=(session,), scores=(*whole.scores, *harsh))
    known = values_of(whole, no_readings)
    got = findings_of(whole, known, CATALOGUE, no_readings, UnitSystem.US)
    (row,) = [row for row in as_json(got)["differences"] if row["declared"]]
    assert row["verdict"] == "higher, by the arm or by who tasted it"
    assert got.words[0].startswith("One taster tasted hardly anything but racks left alone.")


def test_leeway_of_pieces_that_came_off_while_right_is_not_held_against_those_left_on() -> None:
    whole = compared(TWO, ((0.0,) * 4, (1.0,) * 4), outcome="leeway_at_least")
    outcome = CATALOGUE["leeway_at_least"]
    open_end: dict[str, Value] = {"leeway_at_least": 0.0, "leeway_at_most": None}
    closed: dict[str, Value] = {"leeway_at_least": 3600.0, "leeway_at_most": 5400.0}
    values = {p.id: open_end if n < 4 else closed for n, p in enumerate(whole.pieces)}
    (told,) = pulled_early(whole, values, outcome)
    assert told.what == ("when they came off",)
    assert pulled_early(whole, {p.id: closed for p in whole.pieces}, outcome) == ()
    assert pulled_early(whole, {p.id: open_end for p in whole.pieces}, outcome) == ()
    assert pulled_early(whole, values, CATALOGUE[KEY]) == ()


def test_a_claim_that_is_mostly_the_weight_says_what_is_left_of_it() -> None:
    # By hand: score = weight ÷ 100 g + 0.5 for the injected, and small steps that add to nothing.
    masses = ((900.0, 1000.0, 1100.0, 1000.0), (1200.0, 1300.0, 1400.0, 1300.0))
    scores = tuple(
        tuple(m / 100 + 0.5 * arm + s for m, s in zip(own, (0.1, -0.1, 0.1, -0.1), strict=True))
        for arm, own in enumerate(masses)
    )
    whole, values, _ = with_masses(scores, masses)
    known = replace(values_of(whole, no_readings), pieces=values)
    got = findings_of(whole, known, CATALOGUE, no_readings, UnitSystem.US)
    (said,) = [
        words for words in got.words if words.startswith("With the weight trimmed held equal, ")
    ]
    assert "differ by +0.5 points only (95 % interval" in said
    assert said.endswith("most of it goes with the weight trimmed.")
    assert adjusted_sentences(got.adjusted, (), CATALOGUE[KEY], UnitSystem.US, "rack") == []


def test_one_taster_alone_is_said_and_two_are_not(journal: Journal) -> None:
    whole = compared(TWO, EIGHT)
    assert ONE_TASTER in found(journal, whole).words
    whole = compared(TWO, EIGHT)
    more = [replace(score, id=f"{score.id}x", taster="Bea") for score in whole.scores]
    session = replace(whole.tastings[0], tasters=("Ada", "Bea"))
    two = replace(whole, tastings=(session,), scores=(*whole.scores, *more))
    assert ONE_TASTER not in found(journal, two).words


def test_what_is_left_at_equal_weight_is_held_against_the_declared_claim_alone() -> None:
    masses = ((900.0, 1000.0, 1100.0, 1000.0), (1200.0, 1300.0, 1400.0, 1300.0))
    scores = tuple(
        tuple(m / 100 + 0.5 * arm + s for m, s in zip(own, (0.1, -0.1, 0.1, -0.1), strict=True))
        for arm, own in enumerate(masses)
    )
    whole, values, _ = with_masses(scores, masses)
    known = replace(values_of(whole, no_readings), pieces=values)
    got = findings_of(whole, known, CATALOGUE, no_readings, UnitSystem.US)
    (declared,) = [one for one in got.differences if one.declared]
    other = replace(declared, key="yield_off", declared=False)
    silent = replace(declared, low=-1.0, high=8.0)
    asked = CATALOGUE[KEY], UnitSystem.US, "rack"
    assert adjusted_sentences(got.adjusted, (other, declared), *asked)
    assert adjusted_sentences(got.adjusted, (other, silent), *asked) == []
