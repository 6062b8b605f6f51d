"""What some files of a cook ask besides: the shape of a picture, the pieces of a class sheet."""

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from pitjournal.files.summary.posted import SIZES, Shape
from pitjournal.journal.sharing.class_sheet import USUAL_PIECES, pieces_typed
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.summary_formats import PICTURE

CLASS = "class sheet"
"""What is chosen for a sheet of a class, which is a report and no summary."""

NUMBER = 72
"""The width of a field for so many pieces, px."""


class ShareExtras(QWidget):
    """Out of sight where the chosen file asks nothing more."""

    def __init__(self) -> None:
        super().__init__()
        self.shape = Choice("shape of the picture")
        shapes = [(shape, f"{shape}, {wide} × {high}", -1) for shape, (wide, high) in SIZES.items()]
        self.shape.offer((("", "as long as it is", -1), *shapes))
        self.shape.choose("")
        self._called = words("Pieces of each arm", wrap=False)
        self.pieces = QLineEdit(str(USUAL_PIECES))
        self.pieces.setAccessibleName("pieces of each arm")
        sized(self.pieces, width=NUMBER)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.shape)
        layout.addLayout(row(self._called, self.pieces, None))

    def ask_for(self, form: object) -> None:
        """Show what a file of this sort asks."""
        self.shape.setVisible(form == PICTURE)
        for part in (self._called, self.pieces):
            part.setVisible(form == CLASS)
        self.setVisible(form in {PICTURE, CLASS})

    def shape_chosen(self) -> Shape | None:
        """Return the shape of a card; None is a picture as long as it is."""
        return next((one for one in self.shape.values() if isinstance(one, Shape)), None)

    def pieces_chosen(self) -> int:
        """Return for how many pieces a class sheet is.

        Raises
        ------
        JournalError
            If it is no number of pieces.
        """
        return pieces_typed(self.pieces.text())
