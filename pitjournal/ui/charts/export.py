"""Take a chart along: as a picture, or as lines that stay sharp at any size."""

from collections.abc import Callable

from PySide6.QtCore import QBuffer, QIODevice, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPaintDevice, QPainter, QPixmap
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import QWidget

from pitjournal.ui.look import tokens
from pitjournal.ui.look.theme import bold, font, look

SCALE = 2.0
"""Pixels of a picture in a px of the screen."""


def chart_as_png(chart: QWidget, heading: str, foot: str) -> bytes:
    """Return a chart under its question and over what it rests on, as a picture."""
    size = _around(chart)
    image = QPixmap(size * SCALE)
    image.setDevicePixelRatio(SCALE)
    _paint(image, chart, size, heading, foot)
    return png_bytes(image)


def chart_as_svg(chart: QWidget, heading: str, foot: str) -> bytes:
    """Return a chart under its question and over what it rests on, as lines."""
    size = _around(chart)
    return _svg(size, heading, foot, lambda made: _paint(made, chart, size, heading, foot))


def bare_svg(chart: QWidget, description: str, paint: Callable[[QPainter], None]) -> bytes:
    """Return a chart by itself as lines."""

    def painted(made: QPaintDevice) -> None:
        painter = QPainter(made)
        painter.fillRect(chart.rect(), QColor(look().theme.card))
        paint(painter)
        painter.end()

    return _svg(chart.size(), chart.accessibleName(), description, painted)


def png_bytes(image: QPixmap | QImage) -> bytes:
    """Return a picture as the bytes of a PNG."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload] # its stubs want bytes, Qt a text
    return bytes(buffer.data().data())


def _svg(size: QSize, title: str, description: str, paint: Callable[[QPaintDevice], None]) -> bytes:
    buffer = QBuffer()
    made = QSvgGenerator()
    made.setOutputDevice(buffer)
    made.setSize(size)
    made.setViewBox(QRect(QPoint(0, 0), size))
    made.setTitle(title)
    made.setDescription(description)
    paint(made)
    return bytes(buffer.data().data())


def _around(chart: QWidget) -> QSize:
    return QSize(chart.width() + 2 * tokens.L, chart.height() + 96)


def _paint(device: QPaintDevice, chart: QWidget, size: QSize, heading: str, foot: str) -> None:
    painter = QPainter(device)
    theme = look().theme
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(QRect(QPoint(0, 0), size), QColor(theme.card))
    inner = size.width() - 2 * tokens.L
    wrapped = Qt.TextFlag.TextWordWrap
    painter.setPen(QColor(theme.ink))
    painter.setFont(bold(tokens.BODY))
    painter.drawText(QRect(tokens.L, tokens.S, inner, 40), wrapped, heading)
    painter.setPen(QColor(theme.quiet))
    painter.setFont(font(tokens.SMALL))
    painter.drawText(QRect(tokens.L, size.height() - 40, inner, 36), wrapped, foot)
    chart.render(painter, QPoint(tokens.L, 52), renderFlags=QWidget.RenderFlag.DrawChildren)
    painter.end()
