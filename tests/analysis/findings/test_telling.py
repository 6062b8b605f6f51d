"""Triangle, duo–trio and pair: critical numbers of ISO 4120 and ISO 10399, exact binomial."""

from dataclasses import replace

import pytest

from pitjournal.analysis.findings.discrimination import DiscriminationResult, discrimination_of
from pitjournal.domain.cook import Arm
from pitjournal.domain.piece import Piece
from pitjournal.domain.scheme import ANSWER
from pitjournal.domain.tasting import Sample, Score, Session, Tasting, TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.schemes import shipped
from tests.builders import a_cook
from tests.science.reference import rows


def told(
    scheme_id: str, right: int, n: int, state: TastingState = TastingState.REVEALED
) -> DiscriminationResult | None:
    """Return what n tasters say, of whom so many are right (or choose the second way)."""
    return discrimination_of(*answered(scheme_id, right, n, state))


def answered(
    scheme_id: str, right: int, n: int, state: TastingState = TastingState.REVEALED
) -> tuple[WholeCook, Session]:
    """Return the cook and the session of those tasters."""
    cook, scheme = a_cook(), shipped(scheme_id)
    arms = tuple(
        Arm(cook_id=cook.id, position=place, name=name, control=not place)
        for place, name in enumerate(("Plain", "Injected"))
    )
    pieces = tuple(
        Piece(cook_id=cook.id, position=place, label=f"{place}", cut="ribs", arm_id=arm.id)
        for place, arm in enumerate(arms)
    )
    patterns = {"triangle-1": (0, 0, 1), "duo-trio-1": (0, 0, 1), "pair-1": (0, 1)}
    hit = {"triangle-1": 2, "duo-trio-1": 1, "pair-1": 1}[scheme_id]
    miss = {"triangle-1": 0, "duo-trio-1": 2, "pair-1": 0}[scheme_id]
    tasters = tuple(f"taster {number}" for number in range(n))
    base = Tasting(
        cook_id=cook.id,
        scheme=scheme.name,
        criteria=(),
        low=0,
        high=0,
        rules=scheme.rules,
        tasters=tasters,
        state=state,
    )
    samples: list[Sample] = []
    scores: list[Score] = []
    orders = {}
    for number, taster in enumerate(tasters):
        own = [
            Sample(
                cook_id=cook.id,
                tasting_id=base.id,
                piece_id=pieces[way].id,
                code=f"{len(samples) + place:03}",
                reference=scheme_id == "duo-trio-1" and place == 0,
            )
            for place, way in enumerate(patterns[scheme_id])
        ]
        samples += own
        orders[taster] = [sample.id for sample in own]
        scores.append(
            Score(
                cook_id=cook.id,
                tasting_id=base.id,
                sample_id=own[hit if number < right else miss].id,
                taster=taster,
                criterion=ANSWER,
                value=1.0,
            )
        )
    tasting = Tasting(**{**vars(base), "orders": orders})
    whole = WholeCook(
        cook=cook,
        arms=arms,
        pieces=pieces,
        tastings=(tasting,),
        samples=tuple(samples),
        scores=tuple(scores),
    )
    return whole, whole.session(tasting)


@pytest.mark.parametrize(
    ("scheme_id", "table"),
    [("triangle-1", "triangle_critical_numbers"), ("duo-trio-1", "duotrio_critical_numbers")],
)
def test_that_the_fewest_right_answers_are_those_of_the_standard(
    scheme_id: str, table: str
) -> None:
    key = next(name for name in rows(table)[0] if name.endswith("0.05"))
    asked = [row for row in rows(table) if row[key] and int(row["n"]) <= 24]
    assert len(asked) > 10
    for row in asked:
        n, fewest = int(row["n"]), int(row[key])
        enough, short = told(scheme_id, fewest, n), told(scheme_id, fewest - 1, n)
        assert enough is not None
        assert short is not None
        assert enough.hits == fewest
        assert any("can be told apart" in word for word in enough.words)
        assert any(f"it takes {fewest} right of {n}" in word for word in short.words)


def test_that_all_right_gives_no_number_without_end() -> None:
    found = told("triangle-1", 6, 6)
    assert found is not None
    said = " ".join(found.words)
    assert "at least" in said
    assert "inf" not in said


def test_that_too_few_tasters_cannot_tell_even_when_all_are_right() -> None:
    found = told("triangle-1", 2, 2)  # (1/3)² is 0.11
    assert found is not None
    assert any("even all right could be guessing" in word for word in found.words)
    assert "chance 0.111" in found.words[1]


def test_that_a_pair_is_judged_two_sided() -> None:
    """Nine of ten: 2 × (10 + 1) ÷ 1024 = 0.0215; Clopper and Pearson (1934) 0.555 to 0.997."""
    found = told("pair-1", 9, 10)
    assert found is not None
    assert found.p == pytest.approx(22 / 1024)
    assert found.share == pytest.approx((0.5550, 0.9975), abs=1e-4)
    assert found.words[0] == "Which one is the more tender? Injected, said 9 of 10."
    assert "more than luck" in found.words[2]
    even = told("pair-1", 5, 10)
    assert even is not None
    assert even.p == 1.0
    assert "not enough to tell" in even.words[2]


def test_that_nobody_answering_is_said() -> None:
    found = told("triangle-1", 0, 0)
    assert found is not None
    assert found.words == ("Nobody answered, so nothing can be said.",)


@pytest.mark.parametrize("state", [TastingState.OPEN, TastingState.LOCKED])
@pytest.mark.parametrize("scheme_id", ["triangle-1", "duo-trio-1", "pair-1"])
def test_that_nothing_is_told_before_the_reveal(scheme_id: str, state: TastingState) -> None:
    assert told(scheme_id, 4, 6, state) is None


def test_that_ways_no_longer_known_are_said() -> None:
    """Both pieces lost their arm after the tasting."""
    whole, session = answered("pair-1", 3, 4)
    bare = replace(whole, pieces=tuple(replace(p, arm_id=None) for p in whole.pieces))
    found = discrimination_of(bare, session)
    assert found is not None
    assert found.words == ("The arms tasted are no longer known.",)


def test_that_arms_that_are_gone_since_count_nobody() -> None:
    whole, session = answered("pair-1", 3, 5)
    found = discrimination_of(replace(whole, arms=()), session)
    assert found is not None
    assert (found.hits, found.n, len(found.answers)) == (0, 0, 5)
    assert found.words == ("The arms tasted are no longer known.",)
