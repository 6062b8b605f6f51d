"""Charts with an invented cook, for tests and for looking at.

Run ``python -m tests.ui.charts.examples FOLDER`` to save each in three themes and two widths.
"""

import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PySide6.QtWidgets import QApplication, QWidget

from pitjournal.ui.charts.difference_chart import DifferenceChart, DifferenceRow
from pitjournal.ui.charts.groups_chart import GroupMark, GroupsChart
from pitjournal.ui.charts.points_chart import ArmPoints, PointsChart
from pitjournal.ui.charts.trace.chart import ChartSpan, EventMark, Line, TraceChart
from pitjournal.ui.charts.window_chart import WindowChart, WindowRow
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import THEMES

START = 1_794_648_600.0
"""An invented Saturday, half past eight in the morning in Coordinated Universal Time."""

HOUR = 3600.0


def traces() -> TraceChart:
    """Return three racks and the pit over five hours, with what happened."""
    times = START + np.arange(0, 5.2 * HOUR, 30)
    hours = (times - START) / HOUR
    rng = np.random.default_rng(3)
    pit = 60 + 90 * (1 - np.exp(-hours * 4)) + rng.normal(0, 1.6, times.size)
    for lid in (1.0, 2.0, 3.0, 4.0, 5.0):
        since = hours - lid
        pit -= np.where(since >= 0, 55 * np.exp(-np.maximum(since, 0) * 6), 0)
    lines = [Line("pit", "pit", times, pit, sort="pit")]
    for arm, (name, by) in enumerate((("Left alone", 0.0), ("Injected", 2.5), ("Needled", -1.0))):
        meat = 8 + (62 + by) * (1 - np.exp(-hours * 1.6))
        meat += np.where(hours > 3.25, np.minimum((hours - 3.25) * 15, 26 - by * 0.8), 0)
        lines.append(Line(name, name, times, meat, arm))
    events = [
        EventMark(START + 1.0 * HOUR, "flip"),
        EventMark(START + 1.66 * HOUR, "spray"),
        EventMark(START + 2.5 * HOUR, "spray"),
        EventMark(START + 3.25 * HOUR, "wrap"),
        EventMark(START + 3.3 * HOUR, "fuel"),
        EventMark(START + 5.0 * HOUR, "start probing", planned=True),
    ]
    chart = TraceChart("°C")
    chart.show_lines(lines, events, [ChartSpan(START + 3.25 * HOUR, START + 5.0 * HOUR, "in foil")])
    return chart


def points() -> PointsChart:
    """Return tenderness of three racks in each of three arms, joined by pack."""
    chart = PointsChart()
    arms = (
        ("Left alone", (5.8, 6.3, 6.1)),
        ("Injected", (6.9, 6.6, 7.2)),
        ("Needled", (5.9, 6.6, 6.0)),
    )
    chart.show_arms(
        [
            ArmPoints(
                name,
                arm,
                tuple((f"{'ABC'[arm]}{n + 1}", f"pack {n + 1}", v) for n, v in enumerate(values)),
                sum(values) / 3,
            )
            for arm, (name, values) in enumerate(arms)
        ],
        "points of 9",
    )
    return chart


def differences() -> DifferenceChart:
    """Return two arms against the control."""
    chart = DifferenceChart()
    chart.show_rows(
        [
            DifferenceRow("Injected", 1, "more tender", "+0.8", 0.8, 0.1, 1.6),
            DifferenceRow("Needled", 2, "not enough to tell", "+0.1", 0.1, -0.7, 0.9),
        ],
        "tenderness, points of 9, against left alone",
    )
    return chart


def windows() -> WindowChart:
    """Return nine racks with the bounds of when each was right, in minutes."""
    chart = WindowChart()
    bounds = (
        ("A1", 0, 8, 14, 34, 40, False),
        ("A2", 0, 12, 19, 32, 41, False),
        ("A3", 0, 10, 15, 36, None, True),
        ("B1", 1, 0, 4, 42, 51, False),
        ("B2", 1, 6, 11, 49, 58, False),
        ("B3", 1, 3, 9, 52, None, True),
        ("C1", 2, 14, 20, 40, 47, False),
        ("C2", 2, 16, 22, 38, 46, False),
        ("C3", 2, None, 20, 42, None, True),
    )
    chart.show_rows([WindowRow(*row) for row in bounds])
    return chart


def groups() -> GroupsChart:
    """Return tenderness by cooker and treatment."""
    chart = GroupsChart()
    rows = (
        ("gravity-fed", "Left alone", 0, 6.1, 5.75, 6.45, 14),
        ("gravity-fed", "Injected", 1, 6.9, 6.48, 7.32, 9),
        ("gravity-fed", "Needled", 2, 6.3, 5.7, 6.9, 4),
        ("drum", "Left alone", 0, 5.9, 5.4, 6.4, 7),
        ("drum", "Injected", 1, 6.4, 5.7, 7.1, 5),
        ("drum", "Needled", 2, 5.6, None, None, 1),
        ("offset", "Left alone", 0, 6.4, 5.85, 6.95, 6),
        ("offset", "Injected", 1, 6.8, 5.9, 7.7, 3),
    )
    marks = [
        GroupMark(place, series, look, mean, low, high, cooks, cooks < 3)
        for place, series, look, mean, low, high, cooks in rows
    ]
    chart.show_groups(marks, "points of 9")
    return chart


CHARTS: dict[str, tuple[Callable[[], QWidget], int]] = {
    "traces": (traces, 440),
    "points": (points, 200),
    "differences": (differences, 200),
    "windows": (windows, 240),
    "groups": (groups, 400),
}
WIDTHS = (320, 560, 1100)


def save(folder: Path) -> None:
    """Save every chart in every theme at each width."""
    folder.mkdir(parents=True, exist_ok=True)
    for theme in THEMES:
        look().choose(theme)
        for name, (make, height) in CHARTS.items():
            for width in WIDTHS:
                chart = make()
                chart.setAutoFillBackground(True)
                chart.setStyleSheet(f"background: {look().theme.card};")
                chart.resize(width, height)
                chart.show()
                QApplication.processEvents()
                QApplication.processEvents()
                chart.grab().save(str(folder / f"{name}-{theme}-{width}.png"))
                chart.close()


if __name__ == "__main__":
    application = QApplication(sys.argv[:1])
    look().start(application, "light")
    save(Path(sys.argv[1]))
