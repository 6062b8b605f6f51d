"""Whether two scores of the same pieces agree, by hand."""

import math

import pytest

from pitjournal.analysis.trends.columns.cook_means import cook_means_of
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.inference.agreement import agreement, agreement_words, scored_twice
from pitjournal.analysis.trends.question import By, Question
from pitjournal.domain.catalogue import Catalogue
from pitjournal.files.schemes import shipped
from pitjournal.journal.queries.values import Row
from pitjournal.units import UnitSystem
from tests.analysis.trends.frames import frame_of

CATALOGUE = Catalogue(shipped("contest-2").scored)
METRIC = UnitSystem.METRIC
PANEL, JUDGES, TOTAL = "score.tenderness", "score.tenderness (contest)", "score.total (contest)"
ASKED = Question(JUDGES, (By(PANEL),))


def cooks(*scores: tuple[tuple[float, float], ...]) -> Frame:
    """Return cooks whose pieces have these scores of the panel and of the judges."""
    rows: list[Row] = []
    for number, pieces in enumerate(scores):
        cook = f"c{number}"
        rows.append((cook, cook, "cook", {"date": f"2025-0{1 + number}-01T12:00:00+00:00"}))
        for place, (panel, judges) in enumerate(pieces):
            values = {PANEL: panel, JUDGES: judges, TOTAL: 20 * judges}
            rows.append((f"{cook}-{place}", cook, "piece", values))
        rows.append((f"{cook}-untold", cook, "piece", {PANEL: 5.0}))
    return frame_of(rows)


THREE = cooks(((5.0, 5.0), (6.0, 8.0)), ((7.0, 8.0), (4.0, 7.0)), ((3.0, 7.0),))
"""The judges less the panel: (0, 2), (1, 3) and (4)."""


def test_that_two_scores_of_one_criterion_on_one_scale_are_held_against_each_other() -> None:
    assert scored_twice(ASKED, CATALOGUE)
    assert scored_twice(Question(PANEL, (By(JUDGES),)), CATALOGUE)
    assert not scored_twice(Question(PANEL, (By(PANEL),)), CATALOGUE)
    assert not scored_twice(Question(TOTAL, (By(PANEL),)), CATALOGUE)
    assert not scored_twice(Question(JUDGES, (By("score.appearance"),)), CATALOGUE)
    assert not scored_twice(Question(JUDGES, (By(PANEL), By("cut"))), CATALOGUE)
    assert not scored_twice(Question(JUDGES), CATALOGUE)


def test_that_a_cook_counts_once_and_a_piece_without_both_scores_does_not() -> None:
    """Cooks' means 1, 2 and 4 with the variance 3 of a single piece: as in tests of science."""
    found = agreement(THREE, ASKED, CATALOGUE, METRIC)
    assert found is not None
    assert (found.n, found.groups) == (5, 3)
    assert found.mean == pytest.approx(7 / 3)
    assert found.sd == pytest.approx(math.sqrt(3))
    said = agreement_words(found, CATALOGUE[JUDGES], CATALOGUE[PANEL], METRIC)
    # 7/3 ± 4.303 × √(7/9) is −1.462 to 6.128, rounded outward; 7/3 ± 1.96 × √3 is −1.06 to 5.73.
    assert said.startswith("Tenderness (contest) lies 2.33 points above tenderness on average")
    assert "(−1.47 to +6.13 points, which may be none; 5 pieces of 3 cooks)" in said
    assert "from 1.06 points below to 5.73 points above, 19 times in 20" in said
    assert "Bland and Altman" in said


def test_that_fewer_than_three_cooks_are_too_few() -> None:
    two = cooks(((5.0, 5.0), (6.0, 8.0)), ((7.0, 8.0),))
    assert agreement(two, ASKED, CATALOGUE, METRIC) is None
    said = agreement_words(None, CATALOGUE[JUDGES], CATALOGUE[PANEL], METRIC)
    assert "too few" in said
    assert agreement(THREE, Question(TOTAL, (By(PANEL),)), CATALOGUE, METRIC) is None


def test_that_each_piece_can_be_a_mark_with_its_cook_behind() -> None:
    cells = cook_means_of(THREE, select_rows(THREE, ASKED, CATALOGUE, METRIC), (), each_piece=True)
    assert sorted(cells.values.tolist()) == [5.0, 7.0, 7.0, 8.0, 8.0]
    assert cells.means(THREE.numbers(PANEL)).tolist() == [5.0, 6.0, 7.0, 4.0, 3.0]
    assert [THREE.cook_names[code] for code in cells.cooks] == ["c0", "c0", "c1", "c1", "c2"]
    assert cells.pieces.tolist() == [1] * 5
