"""What is typed in a cook and not on the Shelf is offered to it: one quiet link below the field."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QWidget

from pitjournal.domain.shelf import ShelfKind, plain_name
from pitjournal.journal.commands.shelf import KeepOnShelf
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import TextField


class ShelfOffer(QWidget):
    """One tap keeps names on the Shelf; it is out of sight where they stand there."""

    def __init__(self, desk: Desk, kind: ShelfKind) -> None:
        super().__init__()
        self._desk, self._kind = desk, kind
        self.missing: tuple[str, ...] = ()
        self.link = button("Keep on the Shelf", self.keep, "link")
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.link, 0, Qt.AlignmentFlag.AlignLeft)
        line.addStretch(1)
        self.hide()
        self._field: TextField | None = None

    def watch(self, field: TextField) -> None:
        """Offer the name in a field, once the cook has left it."""
        self._field = field
        field.line.textChanged.connect(self._look)
        field.line.editingFinished.connect(self._look)
        self._desk.bridge.changed.connect(self._look)

    def _look(self, *_: object) -> None:
        if self._field is not None:
            line = self._field.line
            typing = line.hasFocus() and line.isModified()
            self.show_names(() if typing else (line.text(),))

    def show_names(self, names: Sequence[str]) -> None:
        """Offer those of the names that are not on the Shelf, in any case."""
        known = self._desk.on_shelf(self._kind)
        found = {plain_name(name): name for name in names if plain_name(name)}
        self.missing = tuple(name for key, name in found.items() if key not in known)
        self.setVisible(bool(self.missing))
        if self._field is None:  # a row tells its own
            self.link.tell_about(" and ".join(self.missing))

    def keep(self) -> None:
        """Keep them."""
        names = self.missing
        if names:
            label = f"Keep {' and '.join(names)} on the Shelf"
            self._desk.bridge.do(KeepOnShelf(self._kind, names, label), self)
