"""A thing on the Shelf: its name, the one detail of its sort, and how it goes away."""

from collections.abc import Mapping, Sequence

from PySide6.QtWidgets import QWidget

from pitjournal.analysis.shelf.own_cooks import OfOwnCooks
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import COOKER_CLASSES, ShelfItem, ShelfKind, plain_name
from pitjournal.journal.commands.records import Change
from pitjournal.journal.commands.shelf import (
    RENAMED_IN,
    MergeOnShelf,
    RemoveFromShelf,
    RenameOnShelf,
    WriteInCooks,
    cooks_named,
)
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import RecordRow
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import Field, TextField
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.shelf.own_line import OwnLine
from pitjournal.units.figures import counted

DETAIL = {
    ShelfKind.COOKER: ("class", "class"),
    ShelfKind.RUB: ("parts", "parts by weight"),
}
"""The one detail of a sort that is shown beside the name: its key and its words."""

USED = 78
"""The least width of the words on where a thing is used, px: columns stay in line."""

HIGH = 30
"""The height of a field, in whose middle the words beside it stand, px."""

TAKEN = "This name is taken."
"""Beside the offer to merge; as short as the field is narrow."""


class ItemRow(RecordRow):
    """One thing on the Shelf."""

    def __init__(self, desk: Desk, kind: ShelfKind) -> None:
        super().__init__()
        self._desk = desk
        self._kind = kind
        self._item: ShelfItem | None = None
        self.name = TextField(f"name of the {kind}", self._rename, bare=True)
        self.used = sized(words("", "quiet", wrap=False), least_width=USED)
        self._numbers: tuple[int, ...] = ()
        self._old = ""
        self._other = ""
        self.there_too = button("Rename there too", self._rename_there, "link")
        self.merge = button("Merge the two", self._merge, "link")
        self.there_too.hide()
        self.merge.hide()
        self.retire = button("Retire", self._retire, "link")
        self.away = button("×", self._remove, "link", about=f"the {kind}")
        details = self.make_details()
        ends = sized(QWidget(), least_height=HIGH)
        ends.setLayout(row(self.used, self.there_too, self.merge, self.retire, self.away))
        ends.setProperty("top", True)  # beside the first line, however many there are
        line = row(self.name, *details, ends)
        line.setStretch(0, 2)
        for place in range(len(details)):
            line.setStretch(place + 1, 3)
        self.own = OwnLine(desk)
        whole = column(line, self.own, space=2)
        whole.setContentsMargins(0, 3, 0, 6)
        self.setLayout(whole)

    def show_own(self, told: Mapping[str, OfOwnCooks]) -> None:
        """Show what one's own cooks say of it."""
        if self._item is not None and self._item.id in told:
            self.own.show_told(told[self._item.id], self._item.name)
        else:
            self.own.hide()

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
        if self._item is None or self._item.id != record.id:
            self._old = self._other = ""
        self._item = record
        for field in self.findChildren(Field):
            field.belong_to(record.id)
        self.name.set_value(record.name)
        self.show_details(record)
        self.retire.setText("Bring back" if record.retired else "Retire")
        self.name.line.setEnabled(not record.retired)

    def show_use(self, numbers: tuple[int, ...]) -> None:
        """Show in which cooks it is used."""
        self._numbers = numbers
        many = counted(len(numbers), "cook")
        self.used.setText(f"in {many}" if numbers else "")
        self.used.setToolTip(cooks_named(numbers) if numbers else "")
        self._offer()

    def _offer(self) -> None:
        """Offer what may be done about a name that was changed, or that is taken."""
        self.merge.setVisible(bool(self._other))
        self.there_too.setVisible(bool(self._old) and not self._other)
        if self._old:
            self.there_too.setToolTip(f"They have it as {self._old}.")

    def _change(self, fields: dict[str, object], label: str) -> str:
        assert self._item is not None
        return self._desk.bridge.attempt(Change(ShelfItem, self._item.id, fields, label), self)

    def _rename(self, value: object, _typed: str) -> str:
        assert self._item is not None
        before, name, numbers = self._item, str(value or ""), self._numbers
        self._other = ""
        problem = self._desk.bridge.attempt(RenameOnShelf(before.id, name), self)
        if problem:
            taken = (
                one
                for one in self._desk.journal.shelf.items(before.kind)
                if one.id != before.id and plain_name(one.name) == plain_name(name)
            )
            self._other = next((one.id for one in taken), "")
            problem = TAKEN if self._other else problem
        elif numbers and before.kind in RENAMED_IN and not self._old:
            self._old = before.name
            many = "1 cook keeps" if len(numbers) == 1 else f"{len(numbers)} cooks keep"
            self._desk.bridge.told.emit(f"{many} the name {before.name}.")
        self._offer()
        return problem

    def _rename_there(self) -> None:
        """Give past cooks the name that it has now."""
        if self._item is not None and self._old:
            old, self._old = self._old, ""
            self._desk.bridge.do(WriteInCooks(self._item.id, old))

    def _merge(self) -> None:
        """Make one of this and the one whose name was typed."""
        if self._item is not None and self._other:
            into, self._other = self._other, ""
            self.name.forget()
            self._desk.bridge.do(
                MergeOnShelf(self._item.id, into, f"Merge {self._item.name} into another")
            )

    def _describe(self, value: object, _typed: str) -> str:
        return self.keep_detail(self._key, str(value or ""))

    def keep_detail(self, key: str, value: object) -> str:
        """Keep one detail; return why not, or an empty text."""
        return self.keep_details({key: value})

    def keep_details(self, some: Mapping[str, object]) -> str:
        """Keep some details in one step; return why not, or an empty text."""
        assert self._item is not None
        details = {**self._item.details, **some}
        return self._change({"details": details}, f"Describe {self._item.name}")

    def _retire(self) -> None:
        if self._item is not None:
            what = "Bring back" if self._item.retired else "Retire"
            self._change({"retired": not self._item.retired}, f"{what} {self._item.name}")

    def _remove(self) -> None:
        if self._item is not None:
            keep = len(self._numbers)
            kept = f"; {'1 cook keeps' if keep == 1 else f'{keep} cooks keep'} it" if keep else ""
            label = f"Remove {self._item.name}{kept}"
            self._desk.bridge.do(RemoveFromShelf(self._item.id, label))


def _as_text(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name} {amount}" for name, amount in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(str(part) for part in value)
    return "" if value is None else str(value)
