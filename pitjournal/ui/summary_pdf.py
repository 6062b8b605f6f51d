"""Print a cook summary: as PDF with real text and vector charts, or its first page as PNG.

Qt's own layout does it, also with no display (the offscreen platform).
"""

import os
import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from PySide6.QtCore import QMarginsF, QRect, QRectF, QSizeF, Qt
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
    QTextBlock,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextFormat,
)
from PySide6.QtSvg import QSvgRenderer

from pitjournal.files.places import cannot_be_written
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
    """Load the program's own face; without, Qt takes the system's."""
    folder = resource_path("templates").parent / "fonts"
    for font in sorted(folder.glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(font))


@cache
def _font(points: int) -> QFont:
    """Return the program's face without ligatures, so that copied text is what was written."""
    font = QFont(FAMILY, points)
    font.setFeature(QFont.Tag("liga"), 0)
    return font


Picture = QSvgRenderer | QImage


class _Pictures(QPyTextObject):
    """Draws charts and arms' marks as vectors, and photos, where the text has them."""

    def __init__(
        self,
        document: QTextDocument,
        pictures: Mapping[str, Picture],
        width: float,
        device: QPaintDevice,
    ) -> None:
        super().__init__(document)
        self._pictures = pictures
        self._width = width
        self._scale = device.logicalDpiX() / 96.0

    def intrinsicSize(self, _doc: QTextDocument, _at: int, form: QTextFormat) -> QSizeF:
        """Return a picture's size: as drawn at 96 dpi, no wider than the page; a photo half."""
        picture = self._pictures[str(form.property(_NAME))]
        if isinstance(picture, QImage):
            return QSizeF(picture.size()) * (self._width / 2 / picture.width())
        size = QSizeF(picture.defaultSize()) * self._scale
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
        picture = self._pictures[str(form.property(_NAME))]
        if isinstance(picture, QImage):
            painter.drawImage(QRectF(rect), picture)
        else:
            picture.render(painter, QRectF(rect))


class _Pages:
    """Printable HTML laid out on a device's pages, with a foot on each."""

    def __init__(
        self, html: str, drawn: Mapping[str, Picture], device: QPaintDevice, size: QSizeF
    ) -> None:
        self._html, self._drawn, self._device = html, drawn, device
        self._foot = 0.3 * device.logicalDpiX()
        self._body = QSizeF(size.width(), size.height() - self._foot)
        breaks: set[int] = set()
        self.document = self._laid_out(breaks)
        while (alone := _lonely_heading(self.document, self._body.height(), breaks)) is not None:
            breaks.add(alone)
            self.document = self._laid_out(breaks)

    def _laid_out(self, breaks: set[int]) -> QTextDocument:
        """Return the document with a new page before each heading of these numbers."""
        document = QTextDocument()
        document.setDefaultFont(_font(10))
        document.setDocumentMargin(0)
        layout = document.documentLayout()
        layout.setPaintDevice(self._device)
        pictures = _Pictures(document, self._drawn, self._body.width(), self._device)
        layout.registerHandler(_PICTURE, pictures)
        document.setHtml(self._html)
        _hang_pictures(document)
        for number, block in enumerate(_headings(document)):
            if number in breaks:
                form = block.blockFormat()
                form.setPageBreakPolicy(QTextFormat.PageBreakFlag.PageBreak_AlwaysBefore)
                QTextCursor(block).setBlockFormat(form)
        document.setPageSize(self._body)
        return document

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


def _pictures_of(summary: Summary) -> dict[str, Picture]:
    """Return each chart, each arm's mark and each photo, by the name the text has for it."""
    tables = (*summary.tables, summary.pieces)
    looks = {look for table in tables for look in table.looks if look is not None}
    looks |= {arm.look for arm in summary.arms}
    pictures = mark_pictures(looks)
    for place, (_, svg) in enumerate(charts_of(summary)):
        pictures[f"chart:{place}"] = QSvgRenderer(svg.encode())
    for place, photo in enumerate(summary.photos):
        pictures[f"photo:{place}"] = QImage.fromData(photo.data)
    return pictures


def mark_pictures(looks: Iterable[int]) -> dict[str, Picture]:
    """Return the marks of arms by the names that printed text has for them."""
    return {f"mark:{look}": QSvgRenderer(mark_svg(look, 5).encode()) for look in looks}


def _headings(document: QTextDocument) -> Iterator[QTextBlock]:
    block = document.begin()
    while block.isValid():
        if block.blockFormat().headingLevel() == 2:
            yield block
        block = block.next()


def _lonely_heading(document: QTextDocument, page: float, breaks: set[int]) -> int | None:
    """Return the first heading whose page what it heads does not begin on; None if none is."""
    layout = document.documentLayout()
    for number, block in enumerate(_headings(document)):
        follower = block.next()
        top = layout.blockBoundingRect(block).top()
        bottom = layout.blockBoundingRect(follower).bottom() - 1
        if number not in breaks and int(top // page) != int(bottom // page):
            return number
    return None


def _hang_pictures(document: QTextDocument) -> None:
    """Turn the places of charts, marks and photos into pictures drawn by `_Pictures`."""
    block = document.begin()
    places = []
    while block.isValid():
        parts = block.begin()
        while not parts.atEnd():
            form = parts.fragment().charFormat()
            name = form.toImageFormat().name() if form.isImageFormat() else ""
            if name.startswith(("chart:", "mark:", "photo:")):
                places.append((parts.fragment().position(), parts.fragment().length(), name))
            parts += 1
        block = block.next()
    cursor = QTextCursor(document)
    cursor.beginEditBlock()  # one layout for all, not one each
    for start, length, name in places:
        form = QTextCharFormat()
        form.setObjectType(_PICTURE)
        form.setProperty(_NAME, name)
        if name.startswith("mark:"):
            form.setVerticalAlignment(QTextCharFormat.VerticalAlignment.AlignMiddle)
        cursor.setPosition(start)
        cursor.setPosition(start + length, QTextCursor.MoveMode.KeepAnchor)
        cursor.setCharFormat(form)
    cursor.endEditBlock()


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
    return print_html(to_print(summary), summary.title, path, paper, _pictures_of(summary))


def print_html(
    html: str, title: str, path: Path, paper: str = "a4", drawn: Mapping[str, Picture] | None = None
) -> int:
    """Write HTML of the kind that `resources/templates` prints as PDF; return its pages.

    Parameters
    ----------
    html
        What Qt's own text layout understands; pictures are named as in `drawn`.
    title
        Of the file, as viewers show it.
    path, paper
        As of `write_pdf`.
    drawn
        Pictures by name.

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
    writer.setTitle(title)
    writer.setCreator("Pitjournal")
    painter = QPainter(writer)
    pages = _Pages(html, drawn or {}, writer, QSizeF(writer.width(), writer.height()))
    for page in range(pages.count):
        if page:
            writer.newPage()
        pages.draw(painter, page)
    painter.end()
    part.write_bytes(without_clock(part.read_bytes()))
    return _settle(part, path, pages.count)


_WRITTEN_AT = re.compile(rb"(\(D:\d{8})\d{6}(Z|[+-]\d\d'\d\d')")
_WRITTEN_AT_XMP = re.compile(rb"(Date=\"\d{4}-\d\d-\d\dT)\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)")


def without_clock(pdf: bytes) -> bytes:
    """Return a PDF that tells the day it was written, not the time, nor the zone of this computer.

    Clock times leave only where they are chosen, and Qt writes them beside the pages. Nothing
    moves within the file (ISO 32000-1, 7.9.4: a date's parts have a fixed length).
    """

    def midnight(found: re.Match[bytes]) -> bytes:
        return found[1] + b"000000" + (b"Z" if found[2] == b"Z" else b"+00'00'")

    def midnight_xmp(found: re.Match[bytes]) -> bytes:
        return found[1] + b"00:00:00" + (b"Z" if found[2] == b"Z" else b"+00:00")

    return _WRITTEN_AT_XMP.sub(midnight_xmp, _WRITTEN_AT.sub(midnight, pdf))


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
    pages = _Pages(to_print(summary), _pictures_of(summary), image, body.size())
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
        raise cannot_be_written(path, error) from error
    return part


def _settle(part: Path, path: Path, count: int) -> int:
    try:
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise cannot_be_written(path, error) from error
    return count
