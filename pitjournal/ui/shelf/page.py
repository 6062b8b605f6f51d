"""The Shelf: what is used again, by sort."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from pitjournal.domain.record import Record
from pitjournal.domain.shelf import COOKER_CLASSES, ShelfItem, ShelfKind
from pitjournal.journal import Changes
from pitjournal.journal.commands.records import Add, Change, Remove
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import RecordRow, Rows
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.page import Header, Page, scrolled

GOES_HERE = {
    ShelfKind.COOKER: "Your cookers by name. Trends groups cooks by them.",
    ShelfKind.FUEL: "What you burn: lump, briquettes, pellets, splits.",
    ShelfKind.WOOD: "Wood for smoke.",
    ShelfKind.RUB: "Rubs by name.",
    ShelfKind.RECIPE: "Injections, brines and glazes.",
    ShelfKind.PROBE: "Probes, with what they read in ice water and at the boil.",
    ShelfKind.TASTER: "The people of your panel, by a name of your choice.",
    ShelfKind.SCHEME: "How a tasting is scored.",
}
DETAIL = {
    ShelfKind.COOKER: ("class", "class"),
    ShelfKind.RECIPE: ("parts", "parts by weight"),
    ShelfKind.RUB: ("parts", "parts by weight"),
    ShelfKind.PROBE: ("correction", "correction"),
}
"""The one detail of a sort that is shown beside the name: its key and its words."""


class ItemRow(RecordRow):
    """One thing on the Shelf."""

    def __init__(self, desk: Desk, kind: ShelfKind) -> None:
        super().__init__()
        self._desk = desk
        self._item: ShelfItem | None = None
        self.name = TextField(f"name of the {kind}", self._rename, bare=True)
        key, text = DETAIL.get(kind, ("note", "note"))
        self._key = key
        used = COOKER_CLASSES if kind is ShelfKind.COOKER else ()
        self.detail = TextField(text, self._describe, used=used, bare=True, hint=text)
        self.retire = button("Retire", self._retire, "link")
        self.away = button("×", self._remove, "link", name=f"remove the {kind}")
        line = row(self.name, self.detail, self.retire, self.away)
        line.setStretch(0, 2)
        line.setStretch(1, 3)
        line.setContentsMargins(0, 3, 0, 3)
        self.setLayout(line)

    def show_record(self, record: Record) -> None:
        """Show it."""
        if not isinstance(record, ShelfItem):
            return
        self._item = record
        self.name.set_value(record.name)
        self.detail.set_value(_as_text(record.details.get(self._key)))
        self.retire.setText("Bring back" if record.retired else "Retire")
        self.retire.setAccessibleName(f"{self.retire.text()} {record.name}")
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
        assert self._item is not None
        details = {**self._item.details, self._key: str(value or "")}
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


class ShelfPage(Page):
    """All that is used again."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._kind = ShelfKind.COOKER
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(Header("Shelf"))
        self.kinds = Choice("sorts")
        self.kinds.chosen.connect(self._turn)
        self.card = Card("Cookers")
        self.goes_here = words("", "quiet")
        self.card.body.addWidget(self.goes_here)
        self._lists: dict[ShelfKind, tuple[QWidget, Rows]] = {}
        for kind in ShelfKind:
            holder = QWidget()
            lines = QVBoxLayout(holder)
            lines.setContentsMargins(0, 0, 0, 0)
            lines.setSpacing(0)
            self._lists[kind] = holder, Rows(lines, self._maker(kind))
            self.card.body.addWidget(holder)
        self.new = QLineEdit()
        self.new.returnPressed.connect(self.add)
        self.plus = button("Add", self.add, "primary")
        self.card.body.addLayout(row(self.new, self.plus))
        self.problem = Problem()
        self.card.body.addWidget(self.problem)
        self.card.setMaximumWidth(tokens.FORM_WIDTH)
        body = column(self.kinds, row(self.card), None, space=tokens.M)
        outer.addWidget(scrolled(body, "shelf"), 1)

    def _maker(self, kind: ShelfKind) -> Callable[[], RecordRow]:
        return lambda: ItemRow(self.desk, kind)

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (Action("Add to the Shelf", "Ctrl+Shift+A", self.new.setFocus),)

    def concerned(self, changes: Changes) -> bool:
        """Whether something on the Shelf changed."""
        return "shelf_item" in changes.kinds

    def refresh(self) -> None:
        """Show the chosen sort."""
        journal = self.desk.journal
        items = {kind: journal.shelf(kind) for kind in ShelfKind}
        self.kinds.offer((kind, f"{_plural(kind)} {len(items[kind])}", -1) for kind in ShelfKind)
        self.kinds.choose(self._kind)
        title = _plural(self._kind)
        self.card.heading.setText(f"{title[:1].upper()}{title[1:]}")
        self.goes_here.setText(GOES_HERE[self._kind])
        for kind, (holder, rows) in self._lists.items():
            holder.setVisible(kind is self._kind)
            if kind is self._kind:
                rows.show(items[kind])
        self.new.setPlaceholderText(f"Another {self._kind}")
        self.new.setAccessibleName(f"name of another {self._kind}")

    def _turn(self, kind: object) -> None:
        assert isinstance(kind, ShelfKind)
        self._kind = kind
        self.problem.say("")
        self.refresh()

    def add(self) -> None:
        """Add what is typed."""
        name = self.new.text().strip()
        if not name:
            self.problem.say("Type its name first.")
            self.new.setFocus()
            return
        known = self.desk.journal.shelf(self._kind)
        if any(item.name.casefold() == name.casefold() for item in known):
            self.problem.say(f"There is a {self._kind} of that name already.")
            return
        made = ShelfItem(kind=self._kind, name=name)
        problem = self.desk.bridge.attempt(Add((made,), f"Add {name}"), self)
        self.problem.say(problem)
        if not problem:
            self.new.clear()


def _plural(kind: ShelfKind) -> str:
    return f"{kind}s"
