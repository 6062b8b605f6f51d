"""A thing on the Shelf: its name, the one detail of its sort, and how it goes away."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from pitjournal.domain.record import Record
from pitjournal.domain.shelf import COOKER_CLASSES, ShelfItem, ShelfKind
from pitjournal.journal.commands.records import Change, Remove
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import RecordRow
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.words import row

DETAIL = {
    ShelfKind.COOKER: ("class", "class"),
    ShelfKind.RUB: ("parts", "parts by weight"),
}
"""The one detail of a sort that is shown beside the name: its key and its words."""


class ItemRow(RecordRow):
    """One thing on the Shelf."""

    def __init__(self, desk: Desk, kind: ShelfKind) -> None:
        super().__init__()
        self._desk = desk
        self._kind = kind
        self._item: ShelfItem | None = None
        self.name = TextField(f"name of the {kind}", self._rename, bare=True)
        self.retire = button("Retire", self._retire, "link")
        self.away = button("×", self._remove, "link", about=f"the {kind}")
        details = self.make_details()
        line = row(self.name, *details, self.retire, self.away)
        line.setStretch(0, 2)
        for place in range(len(details)):
            line.setStretch(place + 1, 3)
        line.setContentsMargins(0, 3, 0, 3)
        line.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.setLayout(line)

    def make_details(self) -> Sequence[QWidget]:
        """Make what stands beside the name."""
        self._key, text = DETAIL.get(self._kind, ("note", "note"))
        used = COOKER_CLASSES if self._kind is ShelfKind.COOKER else ()
        self.detail = TextField(text, self._describe, used=used, bare=True, hint=text)
        return (self.detail,)

    def show_details(self, item: ShelfItem) -> None:
        """Show what stands beside the name."""
        self.detail.set_value(_as_text(item.details.get(self._key)))

    def called(self, record: Record) -> str:
        """Return the thing's name."""
        return record.name if isinstance(record, ShelfItem) else ""

    def show_record(self, record: Record) -> None:
        """Show it."""
        if not isinstance(record, ShelfItem):
            return
        self._item = record
        self.name.set_value(record.name)
        self.show_details(record)
        self.retire.setText("Bring back" if record.retired else "Retire")
        self.name.line.setEnabled(not record.retired)

    def _change(self, fields: dict[str, object], label: str) -> str:
        assert self._item is not None
        return self._desk.bridge.attempt(Change(ShelfItem, self._item.id, fields, label), self)

    def _rename(self, value: object, _typed: str) -> str:
        name = str(value or "").strip()
        if not name:
            return "It needs a name."
        return self._change({"name": name}, f"Rename to {name}")

    def _describe(self, value: object, _typed: str) -> str:
        return self.keep_detail(self._key, str(value or ""))

    def keep_detail(self, key: str, value: object) -> str:
        """Keep one detail; return why not, or an empty text."""
        assert self._item is not None
        details = {**self._item.details, key: value}
        return self._change({"details": details}, f"Describe {self._item.name}")

    def _retire(self) -> None:
        if self._item is not None:
            what = "Bring back" if self._item.retired else "Retire"
            self._change({"retired": not self._item.retired}, f"{what} {self._item.name}")

    def _remove(self) -> None:
        if self._item is not None:
            self._desk.bridge.do(Remove(ShelfItem, self._item.id, f"Remove {self._item.name}"))


def _as_text(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name} {amount}" for name, amount in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(str(part) for part in value)
    return "" if value is None else str(value)
