"""Print a cook's summary as PDF with real text and vector charts, or its first page as PNG."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QBuffer, QEventLoop, QIODevice, QRectF, QSizeF
from PySide6.QtGui import QColor, QImage, QImageWriter, QPagedPaintDevice, QPainter, QPdfWriter

from pitjournal.files.summary import Summary, charts_of, to_print
from pitjournal.files.summary.plate_svg import plate_chart
from pitjournal.files.summary.posted import Shape, card_to_post, plate_to_post
from pitjournal.files.summary.printed import JpegPhoto, with_photos, without_clock
from pitjournal.files.summary.report import Report, report_plates, report_to_print
from pitjournal.ui.printing.pages import (
    PLATE,
    Pages,
    Picture,
    drawing_of,
    load_fonts,
    mark_pictures,
    need_gui,
    page_layout,
)

PRINT_DPI, _SCREEN_DPI = 300, 150
_POSTED = 2
"""A picture for posting has so many dots a px, for screens that are finer."""


@dataclass(frozen=True)
class Sheets:
    """What is printed: HTML of the kind that `resources/templates` prints, its title, pictures.

    With `one_page` it stands on one while that can be read.
    """

    html: str
    title: str
    drawn: Mapping[str, Picture]
    one_page: bool = False

    def paint(self, onto: QPagedPaintDevice, turn: Callable[[float], object] | None = None) -> int:
        """Paint all pages onto a PDF or a printer, and return how many there are.

        `turn` is told after each page how far it is, 0 to 1.
        """
        painter = QPainter(onto)
        try:
            size = QSizeF(onto.width(), onto.height())
            pages = Pages(self.html, self.drawn, onto, size, one_page=self.one_page)
            for page in range(pages.count):
                if page:
                    onto.newPage()
                pages.draw(painter, page)
                if turn is not None:
                    turn((page + 1) / pages.count)
        finally:
            painter.end()
        return pages.count


def sheets_of(summary: Summary) -> Sheets:
    """Return the pages of a summary; for one thread, that of the window or the worker."""
    return Sheets(to_print(summary), summary.title, _pictures_of(summary))


def sheets_of_report(report: Report) -> Sheets:
    """Return the pages of a report; else as `sheets_of`."""
    drawn = mark_pictures(report.looks)
    drawn |= {f"chart:{place}": drawing_of(svg) for place, svg in report_plates(report).items()}
    return Sheets(report_to_print(report), report.title, drawn, report.one_page)


def pdf_of(
    summary: Summary, paper: str, turn: Callable[[float], object] | None = None
) -> tuple[bytes, int]:
    """Return a summary as the bytes of a PDF, and its pages.

    It may be called on the worker, once `load_fonts` was called. `paper` is "a4" or "letter".
    `turn` is told after each page how far it is, 0 to 1; it raises where nobody waits any more.
    """
    sheets = sheets_of(summary)
    pdf, count = _printed(sheets, paper, turn)
    drawn = sheets.drawn
    photos = []
    for place, photo in enumerate(summary.photos):
        picture = drawn[f"photo:{place}"]
        assert isinstance(picture, QImage)
        photos.append(JpegPhoto(photo.data, picture.width(), picture.height()))
    return with_photos(pdf, photos), count


def pdf_of_html(
    html: str, title: str, paper: str = "a4", drawn: Mapping[str, Picture] | None = None
) -> tuple[bytes, int]:
    """Return HTML of the kind that `resources/templates` prints as a PDF, and its pages.

    It may be called on the worker, once `load_fonts` was called.

    Parameters
    ----------
    html
        What Qt's own text layout understands; pictures are named as in `drawn`.
    title
        Of the file, as viewers show it.
    paper
        "a4" or "letter".
    drawn
        Pictures by name.
    """
    return _printed(Sheets(html, title, drawn or {}), paper, None)


def pdf_of_report(
    report: Report, paper: str, turn: Callable[[float], object] | None = None
) -> tuple[bytes, int]:
    """Return a report as the bytes of a PDF, and its pages; else as `pdf_of`."""
    return _printed(sheets_of_report(report), paper, turn)


def png_of(summary: Summary, paper: str) -> tuple[bytes, int]:
    """Return the first page as the bytes of a PNG, and how many pages there are.

    It may be called on the worker, once `load_fonts` was called.
    """
    need_gui()
    load_fonts()
    loop = QEventLoop()  # as for a PDF
    layout = page_layout(paper)
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
    pages = Pages(to_print(summary), _pictures_of(summary), image, body.size())
    pages.draw(painter, 0)
    painter.end()
    del loop
    return _png(image), pages.count


def picture_of(summary: Summary, paper: str) -> bytes:
    """Return a picture for posting as the bytes of a PNG: the verdict plate with its title.

    Where nothing was compared there is no plate, and it is the first page as it is printed. It
    may be called on the worker, once `load_fonts` was called.
    """
    svg = plate_to_post(summary)
    return _drawn(svg, _POSTED) if svg else png_of(summary, paper)[0]


def card_of(summary: Summary, shape: Shape) -> bytes:
    """Return a card for posting in a shape as the bytes of a PNG, as many dots as its size says.

    It may be called on the worker, once `load_fonts` was called.
    """
    return _drawn(card_to_post(summary, shape), 1)


def _drawn(svg: str, dots: int) -> bytes:
    """Return a drawing as the bytes of a PNG, with so many dots a px."""
    need_gui()
    load_fonts()
    drawn = drawing_of(svg)
    image = QImage(drawn.defaultSize() * dots, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    drawn.render(painter)
    painter.end()
    return _png(image)


def _png(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, b"png").write(image)
    return bytes(buffer.data().data())


def _printed(
    sheets: "Sheets", paper: str, turn: Callable[[float], object] | None
) -> tuple[bytes, int]:
    need_gui()
    load_fonts()
    loop = QEventLoop()  # a document keeps a timer, and a worker has none of its own
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(PRINT_DPI)
    writer.setPageLayout(page_layout(paper))
    writer.setTitle(sheets.title)
    writer.setCreator("Pitjournal")
    count = sheets.paint(writer, turn)
    del loop
    return without_clock(bytes(buffer.data().data())), count


def _pictures_of(summary: Summary) -> dict[str, Picture]:
    """Return each chart, each arm's mark and each photo, by the name the text has for it."""
    tables = (*summary.tables, summary.pieces)
    looks = {look for table in tables for look in table.looks if look is not None}
    looks |= {arm.look for arm in summary.arms}
    pictures = mark_pictures(looks)
    if summary.plate is not None and (plate := plate_chart(summary.plate)):
        pictures[PLATE] = drawing_of(plate)
    for place, (_, svg) in enumerate(charts_of(summary)):
        pictures[f"chart:{place}"] = drawing_of(svg)
    for place, photo in enumerate(summary.photos):
        pictures[f"photo:{place}"] = QImage.fromData(photo.data)
    return pictures
