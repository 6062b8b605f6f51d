"""What goes with an arm completely is said first, through the journal's own door.

The rule is the design's, not a number: two effects whose indicator columns are the same can't be
told apart (aliased; Box, Hunter & Hunter, Statistics for Experimenters, ch. 5 and 6, from memory).
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta

import pytest

from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.findings import Findings
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.piece import Piece, Stage, Weighing
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal import Journal
from pitjournal.journal.commands.records import AddCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import compared

TWO = ("Left alone", "Injected")
SCORES = ((6.0, 7.0, 6.5), (7.0, 8.0, 7.2))


def found(journal: Journal, whole: WholeCook) -> Findings:
    """Keep a cook in a journal and ask it what the cook showed."""
    parts = (*whole.arms, *whole.pieces, *whole.weighings, *whole.treatments)
    journal.do(AddCook(whole.cook, (*parts, *whole.tastings, *whole.samples, *whole.scores)))
    return journal.findings.of(whole.cook.id, UnitSystem.US)


def with_fields(whole: WholeCook, *by_arm: Mapping[str, object]) -> WholeCook:
    places = {arm.id: place for place, arm in enumerate(whole.arms)}
    pieces = tuple(
        replace(piece, **by_arm[places[piece.arm_id or ""]])  # type: ignore[arg-type]
        for piece in whole.pieces
    )
    return replace(whole, pieces=pieces)


@pytest.mark.parametrize(
    ("control", "other", "words"),
    [
        (
            {"pack": "pack 1"},
            {"pack": "pack 2"},
            "Injected racks cannot be told apart from the pack (Injected: pack 2; Left alone: pack 1).",
        ),
        (
            {"animal": "7"},
            {"animal": "9"},
            "cannot be told apart from the animal (Injected: animal 9; Left alone: animal 7).",
        ),
        ({"grade": "choice"}, {"grade": "select"}, "from the grade (Injected: grade select;"),
        ({"side": "left"}, {"side": "right"}, "from the side (Injected: side right;"),
        (
            {"frozen": False},
            {"frozen": True},
            "from having been frozen (Injected: frozen; Left alone: not frozen).",
        ),
        ({"slot": "drum"}, {"slot": "kettle"}, "from the slot (Injected: slot kettle;"),
    ],
)
def test_that_what_goes_with_an_arm_completely_is_said_first(
    journal: Journal, control: dict[str, object], other: dict[str, object], words: str
) -> None:
    got = found(journal, with_fields(compared(TWO, SCORES), control, other))
    assert words in got.words[0]
    (told,) = as_json(got)["confounded"]
    assert told["arm"] == "Injected"
    assert told["variable"] in control
    headline = journal.findings.headlines([got.cook_id], UnitSystem.US)[got.cook_id]
    company = "having been frozen" if told["variable"] == "frozen" else f"the {told['variable']}"
    (row,) = [row for row in as_json(got)["differences"] if row["declared"]]
    assert row["not_told_apart_from"] == [{"cook": 1, "what": [company.removeprefix("the ")]}]
    if row["verdict"] == "not enough to tell":  # nothing is claimed
        assert headline == row["verdict"]
        return
    assert headline.startswith(f"Injected or {company}: tenderness ")
    assert row["verdict"] == f"higher, by the arm or by {company}"
    (claim,) = [words for words in got.words if "more tender than" in words]
    assert claim.startswith(f"By the arm or by {company}, this cook cannot say which: Injected ")
    assert got.words.index(claim) > 0


def test_that_a_supplier_is_told_without_its_name_because_the_words_are_shared(
    journal: Journal,
) -> None:
    whole = with_fields(compared(TWO, SCORES), {"supplier": "North"}, {"supplier": "South"})
    first = found(journal, whole).words[0]
    assert first.startswith("Injected racks cannot be told apart from the supplier.")
    assert "South" not in first


def test_that_two_cookers_named_by_their_slots_are_told(journal: Journal) -> None:
    whole = compared(TWO, SCORES)
    names = {arm.id: name for arm, name in zip(whole.arms, ("drum", "kettle"), strict=True)}
    pieces = tuple(
        replace(p, slot=f"{names[p.arm_id or '']} {place}") for place, p in enumerate(whole.pieces)
    )
    assert "from the slot" in found(journal, replace(whole, pieces=pieces)).words[0]


def numbered(whole: WholeCook, slots: tuple[int, ...]) -> WholeCook:
    pieces = tuple(replace(p, slot=str(n)) for p, n in zip(whole.pieces, slots, strict=True))
    return replace(whole, pieces=pieces)


@pytest.mark.parametrize(
    ("slots", "told"), [((1, 2, 3, 4, 5, 6), True), ((1, 4, 5, 2, 3, 6), False)]
)
def test_that_one_side_of_the_cooker_an_arm_is_told_and_slots_by_lot_are_not(
    journal: Journal, slots: tuple[int, ...], told: bool
) -> None:
    got = found(journal, numbered(compared(TWO, SCORES), slots))
    assert bool(got.confounded) is told


def test_that_packs_with_a_piece_of_each_arm_and_packs_of_one_piece_are_not_told(
    journal: Journal,
) -> None:
    whole = compared(TWO, SCORES)
    assert found(journal, whole).confounded == ()
    whole = compared(TWO, SCORES)
    own = tuple(replace(piece, pack=f"pack {n}") for n, piece in enumerate(whole.pieces))
    assert found(journal, replace(whole, pieces=own)).confounded == ()


def test_that_a_third_arm_that_shares_a_pack_with_both_joins_them(journal: Journal) -> None:
    whole = compared(("Left alone", "Injected", "Needled"), ((6, 7), (7, 8), (6, 8)))
    packs = ("1", "1", "2", "2", "1", "2")
    pieces = tuple(replace(p, pack=pack) for p, pack in zip(whole.pieces, packs, strict=True))
    assert found(journal, replace(whole, pieces=pieces)).confounded == ()


def test_that_what_the_arms_are_named_by_is_what_is_compared(journal: Journal) -> None:
    whole = with_fields(
        compared(("Choice", "Prime"), SCORES), {"grade": "choice"}, {"grade": "prime"}
    )
    assert found(journal, whole).confounded == ()


def test_that_one_piece_of_each_from_two_packs_is_told(journal: Journal) -> None:
    whole = with_fields(compared(TWO, ((6.0,), (7.0,))), {"pack": "1"}, {"pack": "2"})
    got = found(journal, whole)
    assert "cannot be told apart from the pack" in got.words[0]


def weighed(whole: WholeCook, piece: Piece, stage: Stage, mass: float) -> Weighing:
    return Weighing(cook_id=whole.cook.id, piece_id=piece.id, stage=stage, mass=mass)


@pytest.mark.parametrize("trimmed", [True, False])
def test_that_weight_the_treatment_adds_is_no_difference_beside_it(
    journal: Journal, *, trimmed: bool
) -> None:
    # Alike once trimmed, a tenth heavier after the injection: only the weight before it tells.
    whole = compared(TWO, SCORES)
    injected = whole.arms[1]
    kinds = (TreatmentKind.NONE, TreatmentKind.INJECTED)
    weighings = []
    for number, piece in enumerate(whole.pieces):
        before = 1000.0 + 20 * (number % 3)
        if trimmed:
            weighings.append(weighed(whole, piece, Stage.TRIMMED, before))
        more = 1.1 if piece.arm_id == injected.id else 1.0
        weighings.append(weighed(whole, piece, Stage.ON, before * more))
    treatments = tuple(
        Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, kinds, strict=True)
    )
    got = found(journal, replace(whole, weighings=tuple(weighings), treatments=treatments))
    assert ("mass_on" in {row.variable.key for row in got.ledger}) is not trimmed
    assert any("heavier when they went on" in sentence for sentence in got.words) is not trimmed


@pytest.mark.parametrize(
    "values", [("A", "B"), ("a", "b"), ("L", "I"), ("Left", "Inj"), ("1", "2")]
)
@pytest.mark.parametrize("key", ["pack", "animal", "lot", "supplier", "grade"])
def test_that_a_letter_of_an_arms_name_is_not_what_is_compared(
    journal: Journal, key: str, values: tuple[str, str]
) -> None:
    whole = with_fields(compared(TWO, SCORES), {key: values[0]}, {key: values[1]})
    pieces = tuple(replace(p, pack=p.pack if key == "pack" else "") for p in whole.pieces)
    kinds = (TreatmentKind.NONE, TreatmentKind.INJECTED)
    done = tuple(
        Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, kinds, strict=True)
    )
    got = found(journal, replace(whole, pieces=pieces, treatments=done))
    assert [one.variable.key for one in got.confounded] == [key]
    assert "cannot be told apart from" in got.words[0]


def test_that_packs_named_as_the_arms_are_told_where_the_arms_were_treated(
    journal: Journal,
) -> None:
    whole = with_fields(compared(TWO, SCORES), {"pack": "left alone"}, {"pack": "injected"})
    kinds = (TreatmentKind.NONE, TreatmentKind.INJECTED)
    done = tuple(
        Treatment(cook_id=whole.cook.id, arm_id=arm.id, kind=kind)
        for arm, kind in zip(whole.arms, kinds, strict=True)
    )
    assert found(journal, replace(whole, treatments=done)).confounded


def test_that_what_went_with_an_arm_in_a_cook_before_is_said_over_several(
    journal: Journal,
) -> None:
    for day, packs in enumerate((("1", "2"), ("3", "4"), ("", ""))):
        whole = compared(TWO, SCORES, packs=False)
        cook = replace(whole.cook, starts_at=whole.cook.starts_at + timedelta(days=day))
        whole = replace(whole, cook=replace(cook, status=CookStatus.DONE))
        if all(packs):
            whole = with_fields(whole, {"pack": packs[0]}, {"pack": packs[1]})
        got = found(journal, whole)
    assert got.not_told_apart == ((1, ("pack",)), (2, ("pack",)))
    assert any(
        "Among the cooks joined" in words and "cook 1: the pack" in words for words in got.words
    )
    assert [one["number"] for one in as_json(got)["joined_confounded"]] == [1, 2]
