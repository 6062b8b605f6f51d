"""On paper and on screen: the sheets for the tasters, the plate map for the server alone."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.tasting import Session
from pitjournal.domain.times.moments import show_day
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.paper import usual_paper
from pitjournal.files.tasting_sheets import plate_map, plate_map_html, sheets_html
from pitjournal.files.writing import named_after
from pitjournal.ui.desk import Desk
from pitjournal.ui.file_job import write_file
from pitjournal.ui.files_asked import FileKind, save_file
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.scroll import scroll_layout
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.printing.pages import load_fonts
from pitjournal.ui.printing.printed import pdf_of_html

GIVES_NOTHING_AWAY = "The sheets show codes only, in each taster's own order."
SERVER_ONLY = "The plate map says which code is which: for the server only."


class PaperPanel(Overlay):
    """Print the sheets or the plate map, or look at the map."""

    def __init__(self, desk: Desk, over: QWidget, whole: WholeCook, session: Session) -> None:
        super().__init__(over, "Sheets and plate map", 860)
        self._desk, self._whole, self._session = desk, whole, session
        self._found = plate_map(whole, session)
        self.sheets = button("Print the sheets", self._choose_sheets, "primary")
        self.map = button("Print the plate map", self._choose_map)
        self.look = button("Show the plate map here", self._show_map, "link")
        self.problem = Problem()
        self.body.addWidget(words(GIVES_NOTHING_AWAY))
        self.body.addLayout(row(self.sheets, None))
        self.body.addWidget(words(SERVER_ONLY))
        self.body.addLayout(row(self.map, self.look, None))
        self.body.addWidget(self.problem)
        self._lines = QVBoxLayout()
        self._lines.setSpacing(tokens.M)
        self._area = scroll_layout(self._lines, "plate map")
        self._area.setMinimumHeight(tokens.PANEL_HEIGHT * 2 // 3)
        self._area.hide()
        self.body.addWidget(self._area)

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the sheets ready."""
        super().open_panel(first or self.sheets)

    def _day(self) -> str:
        served = self._session.tasting.served_at or self._desk.now()
        return show_day(served, self._whole.cook.zone)

    def _show_map(self) -> None:
        self.look.hide()
        orders, plates = FactTable("orders of serving"), FactTable("plate map")
        heads = [(str(place + 1), None) for place in range(self._found.longest)]
        orders.show_rows(heads, [(name, list(codes)) for name, codes in self._found.orders])
        plates.show_rows(
            [("piece", None), ("arm", None)],
            [(plate.code, [plate.piece, plate.way or "–"]) for plate in self._found.plates],
        )
        if self._found.warm_up:
            said = f"Warm-up for everyone, without a code: a portion of {self._found.warm_up}."
            self._lines.addWidget(words(said))
        self._lines.addWidget(orders)
        self._lines.addWidget(plates)
        self._lines.addStretch(1)
        self._area.show()
        self.open_panel(self.map)

    def _choose_sheets(self) -> None:
        self._choose("Tasting sheets", self.write_sheets)

    def _choose_map(self) -> None:
        self._choose("Plate map", self.write_map)

    def _choose(self, name: str, write: Callable[[Path], None]) -> None:
        start = named_after(self._whole.cook.title, f"{name.lower()}.pdf")
        chosen, _ = save_file(self, FileKind.PAPER, name, start, "PDF (*.pdf)")
        if chosen:
            write(Path(chosen))

    def write_sheets(self, path: Path) -> None:
        """Write a page for each taster who is there."""
        self._write(sheets_html(self._session, self._day()), "Tasting sheets", path)

    def write_map(self, path: Path) -> None:
        """Write the plate map."""
        html = plate_map_html(self._found, self._session, self._day())
        self._write(html, "Plate map", path)

    def _write(self, html: str, title: str, path: Path) -> None:
        paper = usual_paper(self._desk.system)
        title = f"{self._whole.cook.title}: {title.lower()}"
        load_fonts()
        write_file(
            self._desk,
            self,
            self.problem,
            self.sheets,
            FileKind.PAPER,
            path,
            lambda _: pdf_of_html(html, title, paper)[0],
            closes=False,
        )
