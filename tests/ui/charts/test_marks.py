"""Marks of Trends: arrows where an interval is cut, counts that keep apart, one scale both ways."""

import numpy as np
import pytest
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from pitjournal.ui.charts.groups_chart import GroupMark, GroupsChart
from pitjournal.ui.charts.scatter_chart import Cloud, ScatterChart
from pitjournal.ui.look.theme import look
from tests.ui.charts.test_charts import drawn
from tests.ui.clipped import faults_in


def test_that_an_interval_cut_by_the_edge_carries_an_arrow(qtbot: QtBot) -> None:
    def ends(low: float, high: float) -> tuple[int, int]:
        """Return how wide an interval is painted just inside the top and the foot, px."""
        chart = GroupsChart()
        marks = [
            GroupMark("drum", "", 1, 5.0, 4.0, 6.0, 9, few=False),
            GroupMark("offset", "", 2, 5.0, low, high, 2, few=True),
        ]
        chart.show_groups(marks, "points", span=(3.0, 7.0))
        assert drawn(chart, qtbot)
        image = chart.grab().toImage()
        x, quiet = round(chart.spots[1].x()), QColor(look().theme.quiet)
        area_foot = image.height() - 54
        return tuple(
            sum(image.pixelColor(x + dx, y) == quiet for dx in range(-8, 9))
            for y in (12 + 7, area_foot - 7)
        )  # type: ignore[return-value]

    whole, cut = ends(4.0, 6.0), ends(-20.0, 30.0)
    assert cut[0] > 4
    assert cut[1] > 4
    assert whole == (0, 0)


@pytest.mark.parametrize("groups", [2, 5, 9, 16])
@pytest.mark.parametrize("cooks", [1, 14, 1234])
def test_that_counts_of_cooks_never_overprint(qtbot: QtBot, groups: int, cooks: int) -> None:
    chart = GroupsChart()
    marks = [
        GroupMark(place, f"way {n}", n, 5.0 + n / 50, 4.5, 5.5, cooks, few=False)
        for place in ("the gravity box", "the old drum")
        for n in range(groups)
    ]
    chart.show_groups(marks, "points")
    qtbot.addWidget(chart)
    chart.resize(560, 300)
    assert faults_in(chart) == []


def test_that_scores_held_against_each_other_have_one_scale_both_ways(qtbot: QtBot) -> None:
    chart = ScatterChart()
    points = np.array([4.0, 6.0, 8.0])
    cloud = Cloud(points, points + 1, np.zeros(3, dtype=np.int64))
    chart.show_points(cloud, "home", "points", square=True)
    assert drawn(chart, qtbot)
    across = chart.spots[2].x() - chart.spots[0].x()
    upward = chart.spots[0].y() - chart.spots[2].y()
    assert across == pytest.approx(upward)
