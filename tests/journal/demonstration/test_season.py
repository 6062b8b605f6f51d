"""The invented season: its totals, places and sums against SQL on the journal's own file."""

import sqlite3
from contextlib import closing

import pytest

from pitjournal.analysis.contests.results import overall_of, result_of
from pitjournal.analysis.contests.season import Season, lines_of, season_of, years_of
from pitjournal.journal import Journal
from pitjournal.journal.queries.season import year_of_cooks
from pitjournal.units import UnitSystem

CARDS = """
    SELECT category_id, 0.56 * json_extract(scores, '$.appearance')
        + 2.2972 * json_extract(scores, '$.taste')
        + 1.1428 * json_extract(scores, '$.tenderness') AS points
    FROM judge_card
"""
TOTALS = f"SELECT category_id, sum(points) - min(points) FROM ({CARDS}) GROUP BY category_id"
PLACES = f"""
    SELECT category.id AS id, coalesce(given_place, 1 + (
        SELECT count(*) FROM json_each(category.others) AS other
        WHERE round(other.value, 4) > round(total.points, 4))) AS place
    FROM category JOIN (
        SELECT category_id, sum(points) - min(points) AS points FROM ({CARDS}) GROUP BY category_id
    ) AS total ON total.category_id = category.id
"""
HOURS = """
    SELECT count(*), sum(strftime('%s', ended) - strftime('%s', lit)) FROM (
        SELECT
            (SELECT min(happened_at) FROM event WHERE cook_id = cook.id AND kind = 'lit') AS lit,
            (SELECT max(happened_at) FROM event WHERE cook_id = cook.id AND kind = 'off') AS ended
        FROM cook WHERE kind IN ('contest', 'practice')
            AND strftime('%Y', starts_at, '-5 hours') = ?
    ) WHERE lit IS NOT NULL AND ended IS NOT NULL
"""


def sql(journal: Journal, query: str, *values: object) -> list[tuple[object, ...]]:
    path = journal.folder / "journal.sqlite"
    with closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as connection:
        return connection.execute(query, values).fetchall()


def whole_season(journal: Journal) -> Season:
    contests = journal.contests.all()
    return season_of(contests, years_of(contests)[0])


def test_that_there_are_six_contests_of_four_categories_with_six_cards(
    demonstration: Journal,
) -> None:
    contests = demonstration.contests.all()
    assert [len(whole.turn_ins) for whole in contests] == [4] * 6
    assert all(len(turn_in.cards) == 6 for whole in contests for turn_in in whole.turn_ins)
    assert all(overall_of(whole).place is not None for whole in contests)
    assert not [
        doubt
        for whole in contests
        for turn_in in whole.turn_ins
        for doubt in result_of(turn_in).doubts
    ]


def test_that_totals_and_places_are_those_of_sql(demonstration: Journal) -> None:
    results = {
        turn_in.category.id: result_of(turn_in)
        for whole in demonstration.contests.all()
        for turn_in in whole.turn_ins
    }
    totals = {str(key): value for key, value in sql(demonstration, TOTALS)}
    assert {key: result.total for key, result in results.items()} == pytest.approx(totals)
    places = {str(key): value for key, value in sql(demonstration, PLACES)}
    assert {key: result.place for key, result in results.items()} == places


def test_that_the_figures_of_the_season_are_those_of_sql(demonstration: Journal) -> None:
    season = whole_season(demonstration)
    year = str(season.year)
    inside = "FROM contest WHERE strftime('%Y', starts_at, '-5 hours') = ?"
    held = f"SELECT count(*), sum(paid), sum(cost), min(overall_place) {inside}"
    ((count, paid, cost, best),) = sql(demonstration, held, year)
    assert (len(season.standings), season.paid, season.cost, season.best) == (
        count,
        paid,
        cost,
        best,
    )
    beaten = f"""
        SELECT avg((contest.field - found.place) * 1.0 / (contest.field - 1)),
            sum(found.place <= 10), sum(found.place = 1)
        FROM ({PLACES}) AS found
        JOIN category ON category.id = found.id
        JOIN contest ON contest.id = category.contest_id
    """
    ((mean, tens, firsts),) = sql(demonstration, beaten)
    if count == 6:
        assert season.beaten == pytest.approx(mean)
        assert (season.tens, season.firsts) == (tens, firsts)
    assert all(len(line) == count for line in lines_of(season).values())


def test_that_hours_at_the_fire_are_those_of_sql(demonstration: Journal) -> None:
    season = whole_season(demonstration)
    found = year_of_cooks(demonstration, season.year, UnitSystem.US)
    ((timed, hours),) = sql(demonstration, HOURS, str(season.year))
    # a running cook has pieces off and others not; the journal counts its time once all is known
    assert found.took.timed in {timed, int(str(timed)) - 1}
    if found.took.timed == timed:
        assert found.took.hours == pytest.approx(hours, abs=timed)
    assert found.open


LOST = """
    SELECT category.name, sum(2.2972 * (9 - json_extract(scores, '$.taste')))
    FROM judge_card JOIN category ON category.id = judge_card.category_id
    WHERE judge_card.id NOT IN (
        SELECT id FROM (
            SELECT id, row_number() OVER (PARTITION BY category_id ORDER BY
                0.56 * json_extract(scores, '$.appearance')
                + 2.2972 * json_extract(scores, '$.taste')
                + 1.1428 * json_extract(scores, '$.tenderness')) AS place FROM judge_card)
        WHERE place = 1)
    GROUP BY lower(category.name)
"""
"""The points that cards held back on taste over all contests, the lowest card left out."""


def test_that_what_to_practise_comes_of_the_cards_and_what_was_carried_is_named(
    demonstration: Journal,
) -> None:
    season = whole_season(demonstration)
    found = year_of_cooks(demonstration, season.year, UnitSystem.US).practice
    assert [one.worth for one in found] == sorted((one.worth for one in found), reverse=True)
    lost = {str(name): points for name, points in sql(demonstration, LOST)}
    for one in found:
        if one.criterion == "taste" and len(season.standings) == 6:
            assert 6 * one.lost == pytest.approx(lost[one.category])
    carried = sql(demonstration, "SELECT what, category_id, cook_id FROM carried")
    assert carried
    assert all(what for what, _, _ in carried)
