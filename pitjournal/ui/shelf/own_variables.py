"""Variables of the cook's own on the Shelf: renamed, retired, removed, with where they are used."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.record import Record
from pitjournal.domain.several_names import things_in
from pitjournal.domain.shelf import OwnVariable
from pitjournal.journal.commands.own import ChangeOwn, RemoveOwn
from pitjournal.store.used_by import OwnUse
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import RecordRow, Rows
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.own.new_own import NewOwnPanel
from pitjournal.ui.own.sorts import sort_words
from pitjournal.units.figures import counted

GOES_HERE = (
    "What you note that has no field here: for each piece, each arm or the cook. It stands on the "
    "Plan and at the bench (Other), in Trends, in tables and beside comparisons."
)


def use_words(use: OwnUse | None) -> str:
    """Return where a variable is used: "12 values in 3 cooks"."""
    if use is None:
        return "not used yet"
    return f"{counted(use.values, 'value')} in {counted(use.cooks, 'cook')}"


class OwnRow(RecordRow):
    """One variable."""

    def __init__(self, owner: "OwnVariables") -> None:
        super().__init__()
        self._owner = owner
        self._own: OwnVariable | None = None
        self.name = TextField("name of the variable", self._rename, bare=True)
        self.sort = words("", "quiet")
        self.choices = TextField("what may be chosen", self._choose, bare=True, hint="thin, thick")
        self.used = words("", "quiet")
        self.retire = button("Retire", self._retire, "link")
        self.away = button("×", self._remove, "link", about="the variable")
        line = row(self.name, self.sort, self.choices, self.used, self.retire, self.away)
        for place, share in enumerate((3, 2, 3, 2)):
            line.setStretch(place, share)
        line.setContentsMargins(0, 3, 0, 3)
        self.setLayout(line)

    def called(self, record: Record) -> str:
        """Return the variable's name."""
        return record.name if isinstance(record, OwnVariable) else ""

    def show_record(self, record: Record) -> None:
        """Show it."""
        if not isinstance(record, OwnVariable):
            return
        self._own = record
        self.name.set_value(record.name)
        self.name.line.setEnabled(not record.retired)
        self.sort.setText(sort_words(record))
        self.choices.setVisible(record.kind == "choice")
        self.choices.set_value(", ".join(record.choices))
        self.used.setText(use_words(self._owner.use.get(record.id)))
        self.retire.setText("Bring back" if record.retired else "Retire")

    def _change(self, fields: dict[str, object], label: str) -> str:
        assert self._own is not None
        return self._owner.desk.bridge.attempt(ChangeOwn(self._own.id, fields, label), self)

    def _rename(self, value: object, _typed: str) -> str:
        name = str(value or "")
        return self._change({"name": name}, f"Rename the variable to {name.strip()}")

    def _choose(self, value: object, _typed: str) -> str:
        assert self._own is not None
        choices = things_in(str(value or ""))
        return self._change({"choices": choices}, f"What {self._own.name} may be")

    def _retire(self) -> None:
        if self._own is not None:
            what = "Bring back" if self._own.retired else "Retire"
            command = ChangeOwn(
                self._own.id, {"retired": not self._own.retired}, f"{what} {self._own.name}"
            )
            self._owner.desk.bridge.do(command, self._owner)

    def _remove(self) -> None:
        if self._own is not None:
            use = self._owner.use.get(self._own.id)
            lost = f", with {use_words(use)}" if use is not None else ""
            self._owner.desk.bridge.do(RemoveOwn(self._own.id, f"Remove {self._own.name}{lost}"))


class OwnVariables(QWidget):
    """All of them."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.use: dict[str, OwnUse] = {}
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        lines = QVBoxLayout()
        lines.setSpacing(0)
        outer.addLayout(lines)
        self.rows = Rows(lines, lambda: OwnRow(self))
        self.new = button("New variable", self.make, "primary")
        outer.addLayout(row(self.new, None))

    def refresh(self) -> None:
        """Show what there is."""
        self.use = self.desk.journal.own_use()
        found = self.desk.journal.find(OwnVariable)
        found.sort(key=lambda own: (own.retired, own.name.casefold()))
        self.rows.show(found)

    def make(self) -> None:
        """Make another."""
        NewOwnPanel(self.window(), self.desk).open_panel()
