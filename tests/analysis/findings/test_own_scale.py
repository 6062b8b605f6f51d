"""Answers on their own scale. Sources: Conover (1999) ice cream, Page (1963), Randall (1989), the
printed table of Friedman's exact test, and a constructed panel (tests/science/data/README.md).
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.comparison import ArmSummary, Point, summaries
from pitjournal.analysis.findings.findings import findings_of
from pitjournal.analysis.findings.own_scale import on_their_scale, stepped
from pitjournal.analysis.findings.places import OwnScale, ranked
from pitjournal.analysis.findings.slow_findings import slow_findings_of
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.scheme import Asks, Criterion, Rules, Scale
from pitjournal.domain.tasting import Sample, Score, Tasting, TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import compared, no_readings
from tests.science.reference import expected, rows


def arms(named: Sequence[str], cells: Sequence[tuple[int, str, float]]) -> list[ArmSummary]:
    """Return arms from (arm, block, value)."""
    found = []
    for place, name in enumerate(named):
        points = tuple(
            Point(f"{place} {block}", block, block, value)
            for arm, block, value in cells
            if arm == place
        )
        found.append(ArmSummary(name, name, place == 0, place, points, None, None))
    return found


def table(values: Sequence[Sequence[float]]) -> list[tuple[int, str, float]]:
    """Return the cells of packs × arms."""
    return [(arm, f"{b}", v) for b, row in enumerate(values) for arm, v in enumerate(row)]


def test_that_a_small_table_has_friedmans_printed_exact_chance() -> None:
    # Four packs, rank sums 4, 9 and 11: chi-square 6.5, the printed critical value at 5 %.
    small = table([[1, 2, 3], [1, 2, 3], [1, 2, 3], [1, 3, 2]])
    (row,) = (
        r
        for r in rows("friedman_exact_critical")
        if (r["k_treatments"], r["n_blocks"], r["alpha"]) == ("3", "4", "0.05")
    )
    assert float(row["critical_chi2"]) == 6.5
    found = ranked(arms(("Left alone", "Injected", "Needled"), small), "preference")
    assert found is not None
    said = " ".join(found.words)
    assert f"p {float(row['exact_p_at_critical']):.2g}; Friedman, exact, 4 packs" in said
    assert "agree on an order" in said


def test_that_packs_of_some_ways_each_have_durbins_published_chance() -> None:
    cells = [
        (int(r["variety"]) - 1, r["person"], float(r["rank"])) for r in rows("durbin_bib_conover")
    ]
    found = ranked(arms([f"way {n}" for n in range(7)], cells), "preference")
    assert found is not None
    chance = expected("RK33").value
    assert f"p {chance:.2g}; Durbin, 7 packs" in " ".join(found.words)


def test_that_ways_named_by_a_number_have_pages_published_trend() -> None:
    keys = ("tutorial", "lecture", "seminar")
    values = [[float(r[key]) for key in keys] for r in rows("page_trend")]
    found = ranked(arms(("Left alone", "5 % injected", "10 % injected"), table(values)), "taste")
    assert found is not None
    both = 2 * expected("RK51").value
    assert f"places get worse (Page, p {both:.2g}" in found.words[-1]


def test_that_ways_without_a_number_have_no_trend() -> None:
    values = [[1.0, 2.0, 3.0]] * 4
    found = ranked(arms(("Left alone", "Injected", "Needled"), table(values)), "taste")
    assert found is not None
    assert "Page" not in " ".join(found.words)


@pytest.mark.parametrize("values", [[[1.5, 1.5]] * 3, [[1.0, 2.0]]])
def test_that_level_packs_and_a_single_one_have_no_order(values: list[list[float]]) -> None:
    found = ranked(arms(("Left alone", "Injected"), table(values)), "taste")
    assert found is not None
    assert "can't be said" in found.words[1]


def test_that_steps_of_the_wine_go_the_published_way() -> None:
    # Warm against cold alone; beside contact the published odds are e^2.5031 = 12.2.
    wine = rows("wine_bitterness_randall1989")
    cells = [(int(r["temp"] == "warm"), f"{n}", 0.0) for n, r in enumerate(wine)]
    ratings = {f"{int(r['temp'] == 'warm')} {n}": (float(r["rating"]),) for n, r in enumerate(wine)}
    found = stepped(arms(("Cold", "Warm"), cells), ratings, "bitterness")
    assert found is not None
    (said,) = found.words
    # That is 85 pairs in 100 by share_higher(2.5031), which an integral confirms; alone a bit less.
    assert "about 8 in 10 pairs would be judged higher in bitterness than cold" in said
    assert "odds" not in said
    assert "72 pieces" in said
    assert "not enough" not in said


def a_panel(
    rules: Rules,
    answers: Sequence[tuple[int, str, dict[str, float]]],
    *,
    scheme: str = "s",
    each: int = 2,
) -> WholeCook:
    """Return a cook of two ways in two packs with (piece, taster, scores by criterion)."""
    values = ((5.0,) * each, (6.0,) * each)
    whole = compared(("Left alone", "Injected"), values, packs=each == 2, outcome="score.liking")
    tasters = tuple(dict.fromkeys(taster for _, taster, _ in answers))
    tasting = Tasting(
        cook_id=whole.cook.id,
        scheme=scheme,
        criteria=rules.names,
        low=1,
        high=9,
        state=TastingState.REVEALED,
        tasters=tasters,
        rules=rules.as_map(),
    )
    samples = tuple(
        Sample(
            cook_id=whole.cook.id, tasting_id=tasting.id, piece_id=piece.id, code=str(200 + place)
        )
        for place, piece in enumerate(whole.pieces)
    )
    scores = tuple(
        Score(
            cook_id=whole.cook.id,
            tasting_id=tasting.id,
            sample_id=samples[piece].id,
            taster=taster,
            criterion=name,
            value=value,
        )
        for piece, taster, given in answers
        for name, value in given.items()
    )
    return replace(whole, tastings=(tasting,), samples=samples, scores=scores)


def test_that_a_kind_taster_who_missed_a_piece_does_not_turn_the_difference() -> None:
    # By hand: Bruno gives 2 points more than Ada throughout, the injected get 1 more. Bruno missed
    # one piece left alone, so the means of the pieces say less than 1.
    liking = Rules(criteria=(Criterion(name="liking"),))
    scores = {0: 4.0, 1: 5.2, 2: 5.0, 3: 6.2}  # left alone, left alone, injected, injected
    answers = [(p, "Ada", {"liking": s + (0.1 if p % 2 else 0)}) for p, s in scores.items()]
    answers += [(p, "Bruno", {"liking": s + 2}) for p, s in scores.items() if p != 1]
    answers += [(p, "Clio", {"liking": s + (0 if p % 2 else 0.1)}) for p, s in scores.items()]
    whole = a_panel(liking, answers)
    values = values_of(whole, no_readings).pieces
    (found,) = (
        one for one in on_their_scale(whole, values, "score.liking") if "kindness" in one.title
    )
    (said,) = found.words
    estimate = float(said.split()[1].replace("+", ""))
    means = summaries(whole, values, "score.liking")
    assert means[0].mean is not None
    assert means[1].mean is not None
    assert abs(estimate - 1.0) < abs(means[1].mean - means[0].mean - 1.0)
    assert estimate == pytest.approx(1.0, abs=0.15)
    assert "4 pieces" in said
    full = a_panel(liking, [*answers, (1, "Bruno", {"liking": 7.2})])
    known = values_of(full, no_readings).pieces
    assert not [one for one in on_their_scale(full, known, "score.liking") if "kind" in one.title]


SMOKE = Rules(
    criteria=(
        Criterion(name="smoke", scale=Scale.JUST_RIGHT, low=1, high=3),
        Criterion(name="liking"),
    )
)
SIDES = {"too_little": 1.0, "just_right": 2.0, "too_much": 3.0}


def test_that_being_off_costs_what_the_constructed_panel_says() -> None:
    answers = [
        (
            n % 4,
            r["taster"],
            {"smoke": SIDES[r["smoke_level"]], "liking": float(r["liking_1_to_9"])},
        )
        for n, r in enumerate(rows("jar_penalty_constructed"))
    ]
    whole = a_panel(SMOKE, answers)
    (found,) = on_their_scale(whole, values_of(whole, no_readings).pieces, None)
    assert found.title == "Smoke, just about right"
    assert found.words[-1] == (
        f"Too little costs the panel {expected('JR10').value:.2f} points of liking (20 % of answers, "
        f"2.0 points each); too much costs the panel {expected('JR11').value:.2f} points of liking "
        "(30 % of answers, 1.5 points each)."
    )
    assert found.words[0].startswith("Left alone: too little")
    assert "30 answers" in found.words[0]


def test_that_a_side_that_costs_nothing_is_said_so() -> None:
    """Two just right at 6.0 on average; two too much at 6.5: no less liked, and no cost."""
    said = ((2.0, 5.0), (2.0, 7.0), (3.0, 6.0), (3.0, 7.0))
    answers = [(n, "Ada", {"smoke": side, "liking": like}) for n, (side, like) in enumerate(said)]
    whole = a_panel(SMOKE, answers)
    (found,) = on_their_scale(whole, values_of(whole, no_readings).pieces, None)
    assert found.words[-1] == "Too much, said 50 % of answers, costs no liking."
    assert found.words[:2] == (
        "Left alone: too little 0 %, just right 100 %, too much 0 % of 2 answers.",
        "Injected: too little 0 %, just right 0 %, too much 100 % of 2 answers.",
    )


def test_that_a_sealed_session_says_nothing() -> None:
    whole = a_panel(SMOKE, [(0, "Ada", {"smoke": 1.0, "liking": 5.0})])
    sealed = tuple(replace(t, state=TastingState.LOCKED) for t in whole.tastings)
    whole = replace(whole, tastings=sealed)
    assert on_their_scale(whole, {}, "score.liking") == ()


def test_that_a_question_to_the_panel_is_told() -> None:
    rules = Rules(asks=Asks.TRIANGLE, question="Which is the odd one?")
    whole = a_panel(rules, [])
    (found,) = on_their_scale(whole, {}, None)
    assert found.title == "Triangle test"
    assert "Nobody answered" in found.words[0]


def test_that_what_takes_longer_holds_what_was_said_on_each_scale() -> None:
    answers = [
        (piece, taster, {"smoke": 2.0, "liking": float(4 + piece)})
        for piece in range(4)
        for taster in ("Ada", "Bruno")
    ]
    whole = a_panel(SMOKE, answers)
    values = values_of(whole, no_readings).pieces
    found = slow_findings_of(whole, values, [])
    assert [one.title for one in found.scales] == ["Smoke, just about right"]
    assert "just right 100 %" in found.scales[0].words[0]
    worked = found.scales[0].worked
    assert "penalty" in worked.formula


def test_that_places_are_told_as_places_not_as_points() -> None:
    places = Rules(criteria=(Criterion(name="preference", scale=Scale.RANK),))
    answers = [
        (piece, taster, {"preference": place})
        for taster in ("Ada", "Bruno")
        for piece, place in enumerate((3.0, 4.0, 1.0, 2.0))
    ]
    whole = a_panel(places, answers, scheme="ranking")
    outcome = f"score.{whole.tastings[0].variable('preference')}"
    whole = replace(whole, cook=replace(whole.cook, outcome=outcome))
    catalogue = Catalogue(whole.tastings[0].scored)
    values = values_of(whole, no_readings)
    found = findings_of(whole, values, catalogue, no_readings, UnitSystem.US)
    assert found.words[0] == "Mean place, 1 is best: Left alone 3.5, Injected 1.5."
    assert "Friedman, exact, 2 packs" in found.words[1]
    assert "points" not in " ".join(found.words[:2])


def test_that_an_unbalanced_order_is_a_term_and_is_said_to_be() -> None:
    # Injected is one point better and each place later costs 0.25: served last, it looks the same.
    # By hand: mean places 1.5 and 5.5 differ by 4, times 0.25 that hides the whole point.
    kind = {"Ada": 0.0, "Bruno": 0.4, "Cleo": -0.4}
    first = {"Ada": (0, 1, 2, 3), "Bruno": (3, 1, 0, 2), "Cleo": (1, 2, 3, 0)}
    orders = {who: (*order, *(n + 4 for n in reversed(order))) for who, order in first.items()}
    meat = (0.3, -0.2, 0.1, -0.2, 0.2, -0.3, -0.1, 0.2)
    answers = [
        (n, who, {"liking": 6.0 + (n >= 4) - 0.25 * place + kind[who] + meat[n]})
        for who, order in orders.items()
        for place, n in enumerate(order)
    ]
    liking = Rules(criteria=(Criterion(name="liking"),))
    whole = a_panel(liking, answers, each=4)
    samples = [sample.id for sample in whole.samples]
    (tasting,) = whole.tastings

    def told(by: Mapping[str, tuple[int, ...]]) -> list[OwnScale]:
        lists = {who: [samples[n] for n in order] for who, order in by.items()}
        served = replace(whole, tastings=(replace(tasting, orders=lists),))
        values = values_of(served, no_readings).pieces
        scales = on_their_scale(served, values, "score.liking")
        return [one for one in scales if "serving" in one.title]

    (found,) = told(orders)
    assert found.title == "Liking, each taster’s kindness and the place in the serving taken out"
    assert float(found.words[0].split()[1].replace("−", "-")) == pytest.approx(1.0, abs=0.35)
    assert "place in the serving" in found.worked.formula
    mixed = dict.fromkeys(orders, (0, 4, 5, 1, 2, 6, 7, 3))  # mean place 3.5 of both arms
    assert not told(mixed)
