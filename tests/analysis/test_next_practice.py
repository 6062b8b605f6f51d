"""What to practise next, by hand; and one's own tasters beside the judges.

Common practice, no source: six judges on a scale from 2 to 9, weights 0.5600, 2.2972 and 1.1428,
the lowest weighted card left out.
"""

from dataclasses import replace

import pytest

from pitjournal.analysis.contests.beside import beside
from pitjournal.analysis.contests.next_practice import Compared, points_lost, worth_practising
from pitjournal.analysis.contests.season import season_of
from pitjournal.domain.contest import Category, Contest, JudgeCard, TurnIn, WholeContest
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.schemes import shipped
from tests.builders import NOON, a_cook

Given = tuple[float, float, float]
WEIGHTS = {"appearance": 0.56, "taste": 2.2972, "tenderness": 1.1428}


def turn_in(name: str, cards: list[Given], *, place: int | None = None, meat: str = "") -> TurnIn:
    contest = Contest(name=name, starts_at=NOON, zone="UTC", field=21)
    scheme = shipped("contest-2")
    category = Category(
        contest_id=contest.id,
        position=0,
        name=name,
        meat=meat or name,
        rules=scheme.rules,
        scheme_id=scheme.id,
        given_place=place,
    )
    made = tuple(
        JudgeCard(
            contest_id=contest.id,
            category_id=category.id,
            seat=seat,
            scores=dict(zip(WEIGHTS, card, strict=True)),
        )
        for seat, card in enumerate(cards, start=1)
    )
    return TurnIn(contest, category, made)


FIVE_AND_A_LOW = [(9.0, 8.0, 7.0)] * 5 + [(2.0, 2.0, 2.0)]


def test_that_points_held_back_are_those_of_the_cards_that_count() -> None:
    box = turn_in("ribs", FIVE_AND_A_LOW)
    # Five cards count: 0, 1 and 2 points under 9 each. The sixth is left out and costs nothing.
    assert points_lost(box, "appearance") == pytest.approx(0.0)
    assert points_lost(box, "taste") == pytest.approx(5 * 2.2972)
    assert points_lost(box, "tenderness") == pytest.approx(10 * 1.1428)
    assert points_lost(turn_in("ribs", FIVE_AND_A_LOW[:4]), "taste") is None  # no total yet


def season(*turn_ins: TurnIn) -> tuple[WholeContest, ...]:
    return tuple(WholeContest(one.contest, (one,)) for one in turn_ins)


def test_that_what_costs_most_and_is_least_known_comes_first() -> None:
    brisket = turn_in("brisket", [(9.0, 7.0, 9.0)] * 6)  # 2 × 5 × 2.2972 = 22.972 on taste
    ribs = turn_in("ribs", FIVE_AND_A_LOW)  # 11.486 on taste, 11.428 on tenderness
    found = worth_practising(season_of(season(brisket, ribs), 2026), ())
    assert [(one.category, one.criterion) for one in found[:3]] == [
        ("brisket", "taste"),
        ("ribs", "taste"),
        ("ribs", "tenderness"),
    ]
    assert found[0].lost == pytest.approx(22.972)
    # Once two comparisons asked about the flavour of a brisket it is a third: 7.657.
    asked = [Compared(("whole brisket",), "score.flavour")] * 2
    again = worth_practising(season_of(season(brisket, ribs), 2026), asked)
    assert (again[0].category, again[0].criterion) == ("ribs", "taste")
    assert next(one for one in again if one.category == "brisket").asked in {0, 2}
    taste = next(one for one in again if (one.category, one.criterion) == ("brisket", "taste"))
    assert taste.worth == pytest.approx(22.972 / 3)


def test_that_places_that_scatter_make_it_worth_more() -> None:
    even = [turn_in("ribs", FIVE_AND_A_LOW, place=p) for p in (11, 11)]
    wide = [turn_in("ribs", FIVE_AND_A_LOW, place=p) for p in (1, 21)]
    flat, apart = (worth_practising(season_of(season(*some), 2026), ())[0] for some in (even, wide))
    assert flat.scatter == pytest.approx(0.0)
    assert apart.scatter == pytest.approx(0.5)  # beaten: all of the others once, none once
    assert apart.worth == pytest.approx(1.5 * flat.worth)
    assert apart.places == (1, 21)


def test_that_a_season_without_cards_suggests_nothing() -> None:
    assert worth_practising(season_of(season(turn_in("ribs", [])), 2026), ()) == ()


def cooked(box: TurnIn, scores: dict[str, float], *, revealed: bool = True) -> WholeCook:
    cook = a_cook()
    mine = Piece(cook_id=cook.id, position=0, label="R1", cut="spare ribs")
    other = Piece(cook_id=cook.id, position=1, label="B1", cut="brisket")
    scheme = shipped("home-panel-1")
    tasting = Tasting(
        cook_id=cook.id,
        scheme=scheme.name,
        scheme_id=scheme.id,
        rules=scheme.rules,
        criteria=tuple(scheme.reads.names),
        low=1.0,
        high=9.0,
        state=TastingState.REVEALED if revealed else TastingState.LOCKED,
        tasters=("Ana", "Ben"),
    )
    samples = tuple(
        Sample(cook_id=cook.id, tasting_id=tasting.id, piece_id=piece.id, code=code)
        for piece, code in ((mine, "111"), (other, "222"))
    )
    given = tuple(
        Score(
            cook_id=cook.id,
            tasting_id=tasting.id,
            sample_id=sample.id,
            taster=taster,
            criterion=name,
            value=value if sample is samples[0] else 1.0,
        )
        for sample in samples
        for taster in ("Ana", "Ben")
        for name, value in scores.items()
    )
    return WholeCook(
        cook=cook,
        pieces=(mine, other),
        tastings=(tasting,),
        samples=samples,
        scores=given,
        turn_ins=(box, turn_in("brisket", [])),
    )


def test_that_own_tasters_stand_beside_the_judges_each_on_its_own_scale() -> None:
    box = turn_in("ribs", FIVE_AND_A_LOW, meat="pork ribs")
    found = beside(box, cooked(box, {"flavour": 5.0, "tenderness": 9.0}))
    taste = next(one for one in found if one.criterion == "taste")
    # Judges: (5 × 8 + 2) / 6 = 7 of 2 to 9, five sevenths up; the panel 5 of 1 to 9, half way up.
    assert taste.judges == pytest.approx(7.0)
    assert taste.panel == pytest.approx(5.0)
    assert taste.apart == pytest.approx(5 / 7 - 1 / 2)
    assert (taste.cards, taste.tasters) == (6, 2)
    assert [one.criterion for one in found] == ["taste", "tenderness"]


def test_that_what_is_not_revealed_or_is_the_judges_own_sitting_is_left_out() -> None:
    box = turn_in("ribs", FIVE_AND_A_LOW, meat="pork ribs")
    assert beside(box, cooked(box, {"flavour": 5.0}, revealed=False)) == ()
    same = cooked(box, {"tenderness": 5.0})
    judged = replace(same.tastings[0], scheme_id="contest-2")
    assert beside(box, replace(same, tastings=(judged,))) == ()
