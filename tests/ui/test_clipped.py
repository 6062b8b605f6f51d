"""What looks for clipped words finds them, and nothing else."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication, QLabel, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from pitjournal.ui.charts.canvas import Canvas
from pitjournal.ui.look import tokens
from tests.ui.clipped import Sort, faults_in


@pytest.fixture(autouse=True)
def as_large_as_words(qapp: QApplication) -> Iterator[None]:
    """Write in letters of our size where nothing has styled the application yet."""
    before, ours = qapp.font(), qapp.font()
    ours.setPixelSize(tokens.BODY)
    qapp.setFont(ours)
    yield
    qapp.setFont(before)


class Words(Canvas):
    """Paints some words where it is told."""

    def __init__(self, *lines: tuple[str, QRectF | QPointF]) -> None:
        super().__init__("words", 100)
        self.resize(200, 100)
        self.lines = lines

    def draw(self, painter: QPainter) -> None:
        """Paint them."""
        for text, place in self.lines:
            if isinstance(place, QRectF):
                painter.drawText(place, Qt.AlignmentFlag.AlignCenter, text)
            else:
                painter.drawText(place, text)


def sorts(qtbot: QtBot, *lines: tuple[str, QRectF | QPointF]) -> list[Sort]:
    shown = Words(*lines)
    qtbot.addWidget(shown)
    return [fault.sort for fault in faults_in(shown)]


def test_that_words_with_room_are_no_fault(qtbot: QtBot) -> None:
    lines = (("250", QRectF(0, 0, 60, 20)), ("300", QRectF(0, 22, 60, 20)))
    assert sorts(qtbot, *lines) == []


def test_that_a_number_wider_than_its_room_is_cut(qtbot: QtBot) -> None:
    assert sorts(qtbot, ("1,234,567", QRectF(0, 0, 20, 20))) == [Sort.CUT]


def test_that_words_beyond_the_edge_are_cut(qtbot: QtBot) -> None:
    assert sorts(qtbot, ("a long word", QPointF(180, 40))) == [Sort.CUT]


def test_that_words_out_of_sight_altogether_are_none(qtbot: QtBot) -> None:
    assert sorts(qtbot, ("a long word", QPointF(-900, 40))) == []


def test_that_words_over_others_are_found(qtbot: QtBot) -> None:
    lines = (("12 cooks", QPointF(20, 40)), ("14 cooks", QPointF(40, 42)))
    assert sorts(qtbot, *lines) == [Sort.OVER]


def test_that_shortened_words_are_found(qtbot: QtBot) -> None:
    assert sorts(qtbot, ("gravity-f…", QRectF(0, 0, 100, 20))) == [Sort.SHORT]


def test_that_labels_and_buttons_without_room_are_found(qtbot: QtBot) -> None:
    shown = QWidget()
    qtbot.addWidget(shown)
    layout = QVBoxLayout(shown)
    layout.addWidget(QLabel("four words stand here"))
    layout.addWidget(QPushButton("Write it to a file"))
    layout.setSizeConstraint(QVBoxLayout.SizeConstraint.SetNoConstraint)
    shown.resize(60, 100)
    assert [fault.sort for fault in faults_in(shown)] == [Sort.CUT, Sort.CUT]
    shown.resize(500, 200)
    assert faults_in(shown) == []
