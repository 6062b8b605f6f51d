"""Pages as they will be printed, to leaf through; and the button that prints them."""

from collections.abc import Callable

from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo, QPrintPreviewWidget
from PySide6.QtWidgets import QAbstractButton, QDialog, QWidget

from pitjournal.journal.jobs import Progress
from pitjournal.ui.bridge import is_there
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.printing.pages import load_fonts, page_layout
from pitjournal.ui.printing.printed import PRINT_DPI, Sheets

WIDE, HIGH = 640, 430
"""The panel's width and that of the page shown, px."""


class PrintPanel(Overlay):
    """One page at a time, as the printer will have it."""

    def __init__(self, over: QWidget, sheets: Sheets, paper: str) -> None:
        super().__init__(over, f"Print: {sheets.title}", WIDE)
        self._sheets = sheets
        self.printer = QPrinter()
        self.printer.setResolution(PRINT_DPI)
        self.printer.setPageLayout(page_layout(paper))
        self.printer.setDocName(sheets.title)
        self.printer.setCreator("Pitjournal")
        self.view = QPrintPreviewWidget(self.printer, self)
        self.view.setAccessibleName("page as it is printed")
        self.view.paintRequested.connect(self._sheets.paint)
        self.view.previewChanged.connect(self._say_page)
        sized(self.view, height=HIGH)
        self.where = words("", "quiet", wrap=False)
        self.before = button("Page before", lambda: self._turn(-1))
        self.after = button("Next page", lambda: self._turn(1))
        self.print = button("Print…", self._print, "primary")
        self.problem = Problem()
        if not QPrinterInfo.availablePrinterNames():
            self.print.setEnabled(False)
            self.problem.say("This computer has no printer. Write it as PDF instead.")
        self.body.addWidget(self.view)
        self.body.addLayout(row(self.before, self.after, self.where, None, self.print))
        self.body.addWidget(self.problem)

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show the first page."""
        super().open_panel(first or self.after)
        self.view.updatePreview()
        self.view.fitInView()
        self._say_page()

    def _turn(self, by: int) -> None:
        self.view.setCurrentPage(self.view.currentPage() + by)
        self._say_page()

    def _say_page(self) -> None:
        page, count = self.view.currentPage(), self.view.pageCount()
        self.where.setText(f"Page {page} of {count}")
        self.before.setEnabled(page > 1)
        self.after.setEnabled(page < count)

    def _print(self) -> None:
        asked = QPrintDialog(self.printer, self)
        if asked.exec() == QDialog.DialogCode.Accepted:
            self._sheets.paint(self.printer)
            self.close_panel()


def show_pages(  # noqa: PLR0917 - who asks, and what for
    desk: Desk,
    panel: Overlay,
    problem: Problem,
    presses: QAbstractButton,
    paper: str,
    made: Callable[[Progress], Callable[[], Sheets]],
) -> None:
    """Have the worker make what is printed, and show its pages before any is.

    Parameters
    ----------
    desk, panel, problem, presses
        Who waits, the panel over which it opens, its line for what goes wrong, its button.
    paper
        "a4" or "letter".
    made
        On the worker: returns what makes the pages, on the window's thread.
    """

    def done(sheets: Callable[[], Sheets]) -> None:
        if is_there(panel):
            PrintPanel(panel.window(), sheets(), paper).open_panel()

    def failed(why: str) -> None:
        if is_there(panel):
            problem.say(why)

    def ended() -> None:
        if is_there(panel):
            presses.setEnabled(True)

    load_fonts()
    presses.setEnabled(False)
    desk.bridge.run("Show the pages", made, done, failed, asker=panel, ended=ended)
