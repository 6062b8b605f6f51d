"""A recipe on the Shelf: its ingredients a line each, with amounts that scale, and a note."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.recipe import (
    LINES,
    NOT_ON_SHELF,
    NOTE,
    Line,
    lines_of,
    note_of,
    read_amount,
)
from pitjournal.domain.shelf import ShelfItem, ShelfKind
from pitjournal.journal.commands.records import Change, Together
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import Field, Save, TextField
from pitjournal.ui.look.parts.spoken import tell_all_about
from pitjournal.ui.look.parts.words import row, unbroken, words
from pitjournal.ui.shelf.item_row import ItemRow
from pitjournal.ui.shelf.offer import ShelfOffer
from pitjournal.units import UnitSystem

CURE_SAID = "Curing salt is never scaled: a plan shows it as it is written here."


class AmountField(Field):
    """A weight, a volume, per cent or parts, kept as typed."""

    def __init__(self, system: UnitSystem, save: Save) -> None:
        super().__init__("amount", save, bare=True, hint="25 g, 1 L, 2.5 %")
        self._system = system

    def read(self, text: str) -> object:
        """Return the words, once they can be read."""
        amount, _ = read_amount(text, self._system)
        bare = text.strip()
        return bare if amount is not None else ""


class IngredientRow(QWidget):
    """One ingredient of a recipe."""

    def __init__(self, recipe: "RecipeRow", place: int) -> None:
        super().__init__()
        self._recipe, self._place = recipe, place
        self.name = TextField("ingredient", self._rename, bare=True, hint="salt, sugar, stock…")
        self.amount = AmountField(recipe.system, self._measure)
        self.away = button("×", self._remove, "link", about="the ingredient")
        line = row(self.name, self.amount, self.away)
        line.setStretch(0, 3)
        line.setStretch(1, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(line)
        self.told = words("", "quiet")
        column.addWidget(self.told)
        self.offer = ShelfOffer(recipe.desk, ShelfKind.INGREDIENT)
        column.addWidget(self.offer)

    def show_line(self, line: Line) -> None:
        """Show an ingredient, and below it what spoons of it were taken to weigh."""
        self.name.set_value(line.name)
        self.amount.set_value(line.typed)
        self.told.setText("" if line.is_cure else unbroken(line.made_of_it))
        self.told.setVisible(bool(self.told.text()))
        unknown = line.made_of_it == NOT_ON_SHELF and not line.is_cure
        self.offer.show_names((line.name,) if unknown else ())

    def _rename(self, value: object, _typed: str) -> str:
        return self._recipe.change_line(self._place, name=str(value or "").strip())

    def _measure(self, value: object, _typed: str) -> str:
        return self._recipe.change_line(self._place, typed=str(value or ""))

    def _remove(self) -> None:
        self._recipe.remove_line(self._place)


class RecipeRow(ItemRow):
    """One recipe."""

    def __init__(self, desk: Desk, kind: ShelfKind) -> None:
        super().__init__(desk, kind)
        line = self.layout()
        assert line is not None
        for tap in (self.retire, self.away):  # beside its name, however many lines it has
            line.setAlignment(tap, Qt.AlignmentFlag.AlignTop)

    def make_details(self) -> Sequence[QWidget]:
        """Make the lines, what adds one, and the note, one under the other."""
        self.system, self.desk = self._desk.system, self._desk
        self.rows: list[IngredientRow] = []
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, tokens.S)
        column.setSpacing(tokens.XS)
        self._lines = QVBoxLayout()
        self._lines.setSpacing(tokens.XS)
        column.addLayout(self._lines)
        self.more = button("Add an ingredient", self.add_line, "link")
        column.addLayout(row(self.more, None))
        self.cure = words(CURE_SAID, "quiet")
        column.addWidget(self.cure)
        self.note = TextField("note", self._write, bare=True, hint="note")
        column.addWidget(self.note)
        return (holder,)

    def show_details(self, item: ShelfItem) -> None:
        """Show the lines and the note."""
        lines = lines_of(item.details, self._desk.journal.shelf.densities())
        while len(self.rows) < len(lines):
            made = IngredientRow(self, len(self.rows))
            self.rows.append(made)
            self._lines.addWidget(made)
        for place, shown in enumerate(self.rows):
            if place < len(lines):
                shown.show_line(lines[place])
            shown.setVisible(place < len(lines))
        self.cure.setVisible(any(line.is_cure for line in lines))
        self.note.set_value(note_of(item.details))
        self._tell()

    def tell_about(self, about: str) -> None:
        """Tell each control which recipe it is of, and those of an ingredient which of its lines."""
        super().tell_about(about)
        self._tell()

    def _tell(self) -> None:
        for number, line in enumerate(self.rows, start=1):
            tell_all_about(line, f"ingredient {number} of {self._about}")

    # what its fields do

    @property
    def _pairs(self) -> list[list[str]]:
        lines = lines_of(self._item.details) if self._item is not None else ()
        return [[line.name, line.typed] for line in lines]

    def _keep(self, pairs: list[list[str]], step: str = "") -> str:
        """Keep the lines: those of one field in one step to undo, anything else in its own."""
        assert self._item is not None
        details = {**self._item.details, LINES: pairs}
        change = Change(ShelfItem, self._item.id, {"details": details})
        merge_key = f"{self._item.id}:{step}" if step else ""
        label = f"Describe {self._item.name}"
        return self._desk.bridge.attempt(Together((change,), label, merge_key), self)

    def change_line(self, place: int, **fields: str) -> str:
        """Keep another name or amount of an ingredient; return why not, or an empty text."""
        pairs = self._pairs
        if place >= len(pairs):
            return ""
        name, typed = pairs[place]
        pairs[place] = [fields.get("name", name), fields.get("typed", typed)]
        return self._keep(pairs, f"{place} {' '.join(fields)}")

    def remove_line(self, place: int) -> None:
        """Take an ingredient out."""
        pairs = self._pairs
        self._keep(pairs[:place] + pairs[place + 1 :])

    def add_line(self) -> None:
        """Add an ingredient and go to its name."""
        pairs = self._pairs
        if not self._keep([*pairs, ["", ""]]):
            self.rows[len(pairs)].name.setFocus()

    def _write(self, value: object, _typed: str) -> str:
        return self.keep_detail(NOTE, str(value or ""))
