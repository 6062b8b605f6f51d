"""Lay HTML out on pages, with its pictures as vectors; with no display too (offscreen)."""

import os
from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from PySide6.QtCore import (
    QMarginsF,
    QRect,
    QRectF,
    QSizeF,
    Qt,
)
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontDatabase,
    QGuiApplication,
    QImage,
    QPageLayout,
    QPageSize,
    QPaintDevice,
    QPainter,
    QPyTextObject,
    QTextBlock,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextFormat,
    QTextOption,
)
from PySide6.QtSvg import QSvgRenderer

from pitjournal.files.summary.svg import mark_svg
from pitjournal.resource_files import resource_path

FAMILY = "Atkinson Hyperlegible Next"
PAPERS = {"a4": QPageSize.PageSizeId.A4, "letter": QPageSize.PageSizeId.Letter}
MARGIN = 16.0
"""Around the page, mm."""

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
def load_fonts() -> None:
    """Load the program's own face; without, Qt takes the system's.

    Whoever prints on the worker calls it first on the window's thread: all that is shown hears
    of a new face.
    """
    folder = resource_path("templates").parent / "fonts"
    for font in sorted(folder.glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(font))


def _font(points: int) -> QFont:
    """Return the program's face without ligatures, so that copied text is what was written."""
    font = QFont(FAMILY, points)
    font.setFeature(QFont.Tag("liga"), 0)
    return font


SCALES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)
"""A print is so much smaller where the words of a table are too long for its columns.

At the last a word is broken rather than lost.
"""

LEAST_READ = 0.7
"""What is to stand on one page is made no smaller for it than 7 points: then it takes two."""

PLATE = "chart:plate"
"""The picture that is always as wide as the page."""

LINES_ABOVE = 4
"""A chart so many lines below a heading is what it heads."""

Picture = QSvgRenderer | QImage


class _Pictures(QPyTextObject):
    """Draws charts and arms' marks as vectors, and photos, where the text has them."""

    def __init__(
        self,
        document: QTextDocument,
        pictures: Mapping[str, Picture],
        device: QPaintDevice,
    ) -> None:
        super().__init__(document)
        self._pictures = pictures
        self.width = 0.0
        self._scale = device.logicalDpiX() / 96.0

    def intrinsicSize(self, _doc: QTextDocument, _at: int, form: QTextFormat) -> QSizeF:
        """Return a picture's size: as drawn at 96 dpi, no wider than the page; a photo half."""
        picture = self._pictures[str(form.property(_NAME))]
        if isinstance(picture, QImage):
            return QSizeF(picture.size()) * (self.width / 2 / picture.width())
        size = QSizeF(picture.defaultSize()) * self._scale
        wide = self.width / size.width()
        return size * (wide if str(form.property(_NAME)) == PLATE else min(1.0, wide))

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


class Pages:
    """Printable HTML laid out on a device's pages, with a foot on each."""

    def __init__(
        self,
        html: str,
        drawn: Mapping[str, Picture],
        device: QPaintDevice,
        size: QSizeF,
        *,
        one_page: bool = False,
    ) -> None:
        self._foot = 0.3 * device.logicalDpiX()
        self._paper = QSizeF(size.width(), size.height() - self._foot)
        self.document = _read(html)
        layout = self.document.documentLayout()
        layout.setPaintDevice(device)
        self._pictures = _Pictures(self.document, drawn, device)
        layout.registerHandler(_PICTURE, self._pictures)
        needed = 0.0
        for self._scale in SCALES:
            self._body = self._paper / self._scale
            if needed > self._body.width() + 1 and self._scale > SCALES[-1]:
                continue  # the longest words are as wide at every scale
            self._lay_out()
            needed = self.document.size().width()
            if needed > self._body.width() + 1:
                continue
            if not one_page or self.count == 1 or self._scale <= LEAST_READ:
                break
        _keep_headings(self.document, self._body.height())

    def _lay_out(self) -> None:
        """Lay the document out on the pages there are; at the least scale long words are broken."""
        option = self.document.defaultTextOption()
        wrap = QTextOption.WrapMode.WordWrap
        if self._scale <= SCALES[-1]:
            wrap = QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere
        if option.wrapMode() is not wrap:
            option.setWrapMode(wrap)
            self.document.setDefaultTextOption(option)
        self._pictures.width = self._body.width()
        self.document.setPageSize(self._body)

    @property
    def count(self) -> int:
        """How many pages it takes."""
        return self.document.pageCount()

    def draw(self, painter: QPainter, page: int) -> None:
        """Draw a page, from 0."""
        wide, high = self._body.width(), self._body.height()
        painter.save()
        painter.scale(self._scale, self._scale)
        painter.translate(0, -page * high)
        # A picture that begins the next page would show its first line of dots here.
        self.document.drawContents(painter, QRectF(0, page * high, wide, high - 2))
        painter.restore()
        painter.setFont(_font(8))
        painter.setPen(QColor("#655C52"))
        foot = QRectF(0, self._paper.height(), self._paper.width(), self._foot)
        words = f"Page {page + 1} of {self.count}"
        painter.drawText(foot, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom, words)


def drawing_of(svg: str) -> QSvgRenderer:
    """Return a drawing ready to be drawn; Qt takes one family of letters, and no list of them."""
    return QSvgRenderer(svg.replace(f'"{FAMILY}, sans-serif"', f'"{FAMILY}"').encode())


def mark_pictures(looks: Iterable[int]) -> dict[str, Picture]:
    """Return the marks of arms by the names that printed text has for them."""
    return {f"mark:{look}": QSvgRenderer(mark_svg(look, 5).encode()) for look in looks}


def _headings(document: QTextDocument) -> Iterator[QTextBlock]:
    block = document.begin()
    while block.isValid():
        if block.blockFormat().headingLevel() == 2:
            yield block
        block = block.next()


def _read(html: str) -> QTextDocument:
    """Return a document with its pictures in it; it is laid out only once it has pages."""
    document = QTextDocument()
    document.setDefaultFont(_font(10))
    document.setDocumentMargin(0)
    document.setHtml(html)
    _hang_pictures(document)
    return document


def _keep_headings(document: QTextDocument, page: float) -> None:
    """Begin a new page before each heading whose page what it heads does not begin on."""
    layout = document.documentLayout()
    for block in list(_headings(document)):
        top = layout.blockBoundingRect(block).top()
        bottom = layout.blockBoundingRect(_headed(block)).bottom() - 1
        if int(top // page) != int(bottom // page):
            form = block.blockFormat()
            form.setPageBreakPolicy(QTextFormat.PageBreakFlag.PageBreak_AlwaysBefore)
            QTextCursor(block).setBlockFormat(form)


def _headed(block: QTextBlock) -> QTextBlock:
    """Return what a heading is not parted from: a chart a few lines below it, else the next line."""
    one = block.next()
    for _ in range(LINES_ABOVE):
        if not one.isValid() or one.blockFormat().headingLevel():
            break
        parts = one.begin()
        name = "" if parts.atEnd() else str(parts.fragment().charFormat().property(_NAME))
        if name.startswith("chart:"):
            return one
        one = one.next()
    return block.next()


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


def page_layout(paper: str) -> QPageLayout:
    """Return a page of "a4" or "letter" with its margins."""
    return QPageLayout(
        QPageSize(PAPERS[paper]),
        QPageLayout.Orientation.Portrait,
        QMarginsF(MARGIN, MARGIN, MARGIN, MARGIN),
        QPageLayout.Unit.Millimeter,
    )
