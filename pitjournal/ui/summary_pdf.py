"""Print a cook summary: as PDF with real text and vector charts, or its first page as PNG.

Qt's own layout does it, also with no display (the offscreen platform).
"""

import os
from functools import cache
from pathlib import Path

from PySide6.QtCore import QMarginsF, QRect, QRectF, QSizeF, Qt, QUrl
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QGuiApplication,
    QImage,
    QImageWriter,
    QPageLayout,
    QPageSize,
    QPaintDevice,
    QPainter,
    QPdfWriter,
    QPyTextObject,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextFormat,
)
from PySide6.QtSvg import QSvgRenderer

from pitjournal.errors import JournalError
from pitjournal.files.summary import Summary, charts_of, to_print
from pitjournal.files.summary.svg import mark_svg
from pitjournal.resource_files import resource_path

FAMILY = "Atkinson Hyperlegible Next"
PAPERS = {"a4": QPageSize.PageSizeId.A4, "letter": QPageSize.PageSizeId.Letter}
MARGIN = 16.0
"""Around the page, mm."""

_PRINT_DPI, _SCREEN_DPI = 300, 150
_PICTURE = int(QTextFormat.ObjectTypes.UserObject) + 1
_NAME = int(QTextFormat.Property.UserProperty) + 1


def need_gui() -> QGuiApplication:
    """Return the program's Qt application; make one that needs no display when there is none."""
    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    return QGuiApplication(["pitjournal"])


@cache
def _load_fonts() -> None:
    for font in sorted(resource_path("fonts").glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(font))


def _font(points: int) -> QFont:
    """Return the program's face without ligatures, so that copied text is what was written."""
    font = QFont(FAMILY, points)
    font.setFeature(QFont.Tag("liga"), 0)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


class _Pictures(QPyTextObject):
    """Draws charts and arms' marks where the text has them, as vectors."""

    def __init__(self, document: QTextDocument, pictures: dict[str, str], width: float) -> None:
        super().__init__(document)
        self._drawn = {name: QSvgRenderer(svg.encode(), document) for name, svg in pictures.items()}
        self._width = width
        self._dpi = 96.0

    def scale_to(self, device: QPaintDevice) -> None:
        """Take the size of a pixel from the device."""
        self._dpi = device.logicalDpiX()

    def intrinsicSize(self, _doc: QTextDocument, _at: int, form: QTextFormat) -> QSizeF:
        """Return a picture's size: as drawn at 96 dpi, but no wider than the page."""
        size = QSizeF(self._drawn[str(form.property(_NAME))].defaultSize()) * (self._dpi / 96.0)
        return size * min(1.0, self._width / size.width())

    def drawObject(
        self,
        painter: QPainter,
        rect: QRectF | QRect,
        _doc: QTextDocument,
        _at: int,
        form: QTextFormat,
    ) -> None:
        """Draw it."""
        self._drawn[str(form.property(_NAME))].render(painter, QRectF(rect))


class _Pages:
    """A summary laid out on a device's pages, with a foot on each."""

    def __init__(self, summary: Summary, device: QPaintDevice, size: QSizeF) -> None:
        self._dpi = device.logicalDpiX()
        self._foot = 0.3 * self._dpi
        self._body = QSizeF(size.width(), size.height() - self._foot)
        self._title = summary.title
        document = QTextDocument()
        document.setDefaultFont(_font(10))
        document.setDocumentMargin(0)
        layout = document.documentLayout()
        layout.setPaintDevice(device)
        pictures = {f"mark:{arm.look}": mark_svg(arm.look, 5) for arm in summary.arms}
        looks = {look for table in (*summary.tables, summary.pieces) for look in table.looks}
        for look in looks - {None}:
            assert look is not None
            pictures[f"mark:{look}"] = mark_svg(look, 5)
        for place, (_, svg) in enumerate(charts_of(summary)):
            pictures[f"chart:{place}"] = svg
        self._pictures = _Pictures(document, pictures, size.width())
        self._pictures.scale_to(device)
        layout.registerHandler(_PICTURE, self._pictures)
        for place, photo in enumerate(summary.photos):
            image = QImage.fromData(photo.data)
            wide = int(min(size.width() / 2, 3.2 * self._dpi))
            image = image.scaledToWidth(wide, Qt.TransformationMode.SmoothTransformation)
            document.addResource(
                QTextDocument.ResourceType.ImageResource.value, QUrl(f"photo:{place}"), image
            )
        document.setHtml(to_print(summary))
        _hang_pictures(document)
        document.setPageSize(self._body)
        _keep_with_next(document, self._body.height())
        self.document = document

    @property
    def count(self) -> int:
        """How many pages it takes."""
        return self.document.pageCount()

    def draw(self, painter: QPainter, page: int) -> None:
        """Draw a page, from 0."""
        wide, high = self._body.width(), self._body.height()
        painter.save()
        painter.translate(0, -page * high)
        self.document.drawContents(painter, QRectF(0, page * high, wide, high))
        painter.restore()
        painter.setFont(_font(8))
        painter.setPen(QColor("#655C52"))
        foot = QRectF(0, high, wide, self._foot)
        words = f"Page {page + 1} of {self.count}"
        painter.drawText(foot, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom, words)


def _hang_pictures(document: QTextDocument) -> None:
    """Turn the places of charts and marks into pictures drawn by `_Pictures`."""
    block = document.begin()
    places = []
    while block.isValid():
        parts = block.begin()
        while not parts.atEnd():
            form = parts.fragment().charFormat()
            name = form.toImageFormat().name() if form.isImageFormat() else ""
            if name.startswith(("chart:", "mark:")):
                places.append((parts.fragment().position(), parts.fragment().length(), name))
            parts += 1
        block = block.next()
    for start, length, name in places:
        form = QTextCharFormat()
        form.setObjectType(_PICTURE)
        form.setProperty(_NAME, name)
        if name.startswith("mark:"):
            form.setVerticalAlignment(QTextCharFormat.VerticalAlignment.AlignMiddle)
        cursor = QTextCursor(document)
        cursor.setPosition(start)
        cursor.setPosition(start + length, QTextCursor.MoveMode.KeepAnchor)
        cursor.setCharFormat(form)


def _keep_with_next(document: QTextDocument, page: float) -> None:
    """Begin a new page before each heading that what it heads does not follow on the page."""
    layout = document.documentLayout()
    block = document.begin()
    while block.isValid():
        follower = block.next()
        if block.blockFormat().headingLevel() == 2 and follower.isValid():
            top = layout.blockBoundingRect(block).top()
            bottom = layout.blockBoundingRect(follower).bottom() - 1
            if int(top // page) != int(bottom // page):
                form = block.blockFormat()
                form.setPageBreakPolicy(QTextFormat.PageBreakFlag.PageBreak_AlwaysBefore)
                QTextCursor(block).setBlockFormat(form)
        block = follower


def _page_layout(paper: str) -> QPageLayout:
    return QPageLayout(
        QPageSize(PAPERS[paper]),
        QPageLayout.Orientation.Portrait,
        QMarginsF(MARGIN, MARGIN, MARGIN, MARGIN),
        QPageLayout.Unit.Millimeter,
    )


def write_pdf(summary: Summary, path: Path, *, paper: str = "a4") -> int:
    """Write a summary as PDF and return how many pages it has.

    Parameters
    ----------
    summary
        What it says.
    path
        The file; written over when it is there.
    paper
        "a4" or "letter".

    Raises
    ------
    JournalError
        If the file cannot be written; an older one is still there then.
    """
    need_gui()
    _load_fonts()
    part = _part_of(path)
    writer = QPdfWriter(str(part))
    writer.setResolution(_PRINT_DPI)
    writer.setPageLayout(_page_layout(paper))
    writer.setTitle(summary.title)
    writer.setCreator("Pitjournal")
    painter = QPainter(writer)
    pages = _Pages(summary, writer, QSizeF(writer.width(), writer.height()))
    for page in range(pages.count):
        if page:
            writer.newPage()
        pages.draw(painter, page)
    painter.end()
    return _settle(part, path, pages.count)


def write_png(summary: Summary, path: Path, *, paper: str = "a4") -> int:
    """Write the first page of a summary as PNG and return how many pages there are.

    Parameters
    ----------
    summary, path, paper
        As of `write_pdf`.

    Raises
    ------
    JournalError
        If the file cannot be written.
    """
    need_gui()
    _load_fonts()
    layout = _page_layout(paper)
    size = layout.fullRectPixels(_SCREEN_DPI).size()
    image = QImage(size, QImage.Format.Format_RGB32)
    dots = round(_SCREEN_DPI / 0.0254)
    image.setDotsPerMeterX(dots)
    image.setDotsPerMeterY(dots)
    image.fill(QColor("white"))
    body = QRectF(layout.paintRectPixels(_SCREEN_DPI))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(body.topLeft())
    pages = _Pages(summary, image, body.size())
    pages.draw(painter, 0)
    painter.end()
    part = _part_of(path)
    QImageWriter(str(part), b"png").write(image)
    return _settle(part, path, pages.count)


def _part_of(path: Path) -> Path:
    """Return the name to write under until all is written; refuse a place that takes nothing."""
    part = path.with_name(path.name + ".part")
    try:
        part.write_bytes(b"")
    except OSError as error:
        raise _unwritable(path) from error
    return part


def _settle(part: Path, path: Path, count: int) -> int:
    try:
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise _unwritable(path) from error
    return count


def _unwritable(path: Path) -> JournalError:
    return JournalError(f"{path} cannot be written.", "Choose another place.")
