"""Take a chart along: as a picture, or as lines that stay sharp at any size."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QColor, QPaintDevice, QPainter, QPixmap
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import QWidget

from pitjournal.errors import JournalError
from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, font, look

SCALE = 2.0
"""Pixels of a picture in a px of the screen."""


def save_chart(chart: QWidget, path: Path, heading: str, foot: str) -> None:
    """Write a chart under its question and over what it rests on; SVG or PNG by the ending.

    Raises
    ------
    JournalError
        If the file cannot be written.
    """
    if not path.parent.is_dir():
        raise JournalError(f"There is no folder {path.parent}.", "Choose another.")
    size = QSize(chart.width() + 2 * tokens.L, chart.height() + 96)
    if path.suffix.casefold() == ".svg":
        made = QSvgGenerator()
        made.setFileName(str(path))
        made.setSize(size)
        made.setViewBox(QRect(QPoint(0, 0), size))
        made.setTitle(heading)
        made.setDescription(foot)
        done = _paint(made, chart, size, heading, foot)
    else:
        image = QPixmap(size * SCALE)
        image.setDevicePixelRatio(SCALE)
        done = _paint(image, chart, size, heading, foot) and image.save(str(path), "PNG")
    if not done or not path.exists():
        raise JournalError(f"{path} can't be written.", "Choose another folder.")


def write_svg(
    chart: QWidget, path: Path, description: str, paint: Callable[[QPainter], None]
) -> bool:
    """Write a chart by itself as lines; return whether it could be."""
    made = QSvgGenerator()
    made.setFileName(str(path))
    made.setSize(chart.size())
    made.setViewBox(QRect(chart.rect()))
    made.setTitle(chart.accessibleName())
    made.setDescription(description)
    painter = QPainter()
    if not painter.begin(made):
        return False
    painter.fillRect(chart.rect(), QColor(look().theme.card))
    paint(painter)
    return painter.end()


def _paint(device: QPaintDevice, chart: QWidget, size: QSize, heading: str, foot: str) -> bool:
    painter = QPainter()
    if not painter.begin(device):
        return False
    theme = look().theme
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(QRect(QPoint(0, 0), size), QColor(theme.card))
    inner = size.width() - 2 * tokens.L
    wrapped = Qt.TextFlag.TextWordWrap
    painter.setPen(QColor(theme.ink))
    painter.setFont(bold(tokens.BODY))
    painter.drawText(QRect(tokens.L, tokens.S, inner, 40), wrapped, heading)
    painter.setPen(QColor(theme.quiet))
    painter.setFont(font(12))
    painter.drawText(QRect(tokens.L, size.height() - 40, inner, 36), wrapped, foot)
    chart.render(painter, QPoint(tokens.L, 52), renderFlags=QWidget.RenderFlag.DrawChildren)
    painter.end()
    return True
