"""Print a cook summary: as PDF with real text and vector charts, or its first page as PNG.

Qt's own layout does it, also with no display (the offscreen platform).
"""

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from PySide6.QtCore import (
    QBuffer,
    QEventLoop,
    QIODevice,
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
    QTextOption,
)
from PySide6.QtSvg import QSvgRenderer

from pitjournal.files.summary import Summary, charts_of, to_print
from pitjournal.files.summary.printed import JpegPhoto, with_photos, without_clock
from pitjournal.files.summary.svg import mark_svg
from pitjournal.files.writing import write_bytes
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
        self._paper = QSizeF(size.width(), size.height() - self._foot)
        breaks: set[int] = set()
        for self._scale in SCALES:
            self._body = self._paper / self._scale
            self.document = self._laid_out(breaks)
            if self.document.size().width() <= self._body.width() + 1:
                break
        while (alone := _lonely_heading(self.document, self._body.height(), breaks)) is not None:
            breaks.add(alone)
            self.document = self._laid_out(breaks)

    def _laid_out(self, breaks: set[int]) -> QTextDocument:
        """Return the document with a new page before each heading of these numbers."""
        document = QTextDocument()
        document.setDefaultFont(_font(10))
        document.setDocumentMargin(0)
        if self._scale > SCALES[-1]:
            option = document.defaultTextOption()
            option.setWrapMode(QTextOption.WrapMode.WordWrap)
            document.setDefaultTextOption(option)
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
    data, count = pdf_of(summary, paper)
    write_bytes(path, data)
    return count


def pdf_of(
    summary: Summary, paper: str, turn: Callable[[float], object] | None = None
) -> tuple[bytes, int]:
    """Return a summary as the bytes of a PDF, and its pages.

    It may be called on the worker, once `load_fonts` was called. `turn` is told after each page
    how far it is, 0 to 1; it raises where nobody waits any more.
    """
    drawn = _pictures_of(summary)
    pdf, count = _printed(to_print(summary), summary.title, paper, drawn, turn)
    photos = []
    for place, photo in enumerate(summary.photos):
        picture = drawn[f"photo:{place}"]
        assert isinstance(picture, QImage)
        photos.append(JpegPhoto(photo.data, picture.width(), picture.height()))
    return with_photos(pdf, photos), count


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
    data, count = _printed(html, title, paper, drawn or {}, None)
    write_bytes(path, data)
    return count


def _printed(
    html: str,
    title: str,
    paper: str,
    drawn: Mapping[str, Picture],
    turn: Callable[[float], object] | None,
) -> tuple[bytes, int]:
    need_gui()
    load_fonts()
    loop = QEventLoop()  # a document keeps a timer, and a worker has none of its own
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(_PRINT_DPI)
    writer.setPageLayout(_page_layout(paper))
    writer.setTitle(title)
    writer.setCreator("Pitjournal")
    painter = QPainter(writer)
    try:
        pages = _Pages(html, drawn, writer, QSizeF(writer.width(), writer.height()))
        for page in range(pages.count):
            if page:
                writer.newPage()
            pages.draw(painter, page)
            if turn is not None:
                turn((page + 1) / pages.count)
    finally:
        painter.end()
    del loop
    return without_clock(bytes(buffer.data().data())), pages.count


def write_png(summary: Summary, path: Path, *, paper: str = "a4") -> int:
    """Write the first page of a summary as PNG and return how many pages there are.

    Parameters
    ----------
    summary, path, paper
        As of `write_pdf`.

    Raises
    ------
    JournalError
        If the file cannot be written; an older one is still there then.
    """
    data, count = png_of(summary, paper)
    write_bytes(path, data)
    return count


def png_of(summary: Summary, paper: str) -> tuple[bytes, int]:
    """Return the first page as the bytes of a PNG, and how many pages there are.

    It may be called on the worker, once `load_fonts` was called.
    """
    need_gui()
    load_fonts()
    loop = QEventLoop()  # as for a PDF
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
    del loop
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, b"png").write(image)
    return bytes(buffer.data().data()), pages.count
