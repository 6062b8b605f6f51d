"""The Shelf: what is used again, by sort."""

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from pitjournal.analysis.shelf.own_cooks import OfOwnCooks
from pitjournal.domain.shelf import OwnVariable, ShelfItem, ShelfKind, plain_name
from pitjournal.journal import Changes
from pitjournal.journal.commands.records import Add
from pitjournal.journal.jobs import Progress
from pitjournal.journal.queries.own_cooks import of_own_cooks
from pitjournal.store.used_by import NAMED_IN
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import RecordRow, Rows
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.ui.shelf.cooker_row import CookerRow
from pitjournal.ui.shelf.fuel_row import FuelRow
from pitjournal.ui.shelf.item_row import ItemRow
from pitjournal.ui.shelf.own_variables import GOES_HERE as OWN_GOES_HERE
from pitjournal.ui.shelf.own_variables import OwnVariables
from pitjournal.ui.shelf.probe_row import ProbeRow
from pitjournal.ui.shelf.recipe_row import RecipeRow
from pitjournal.ui.shelf.rub_row import IngredientItemRow, RubRow
from pitjournal.ui.shelf.schemes import Schemes
from pitjournal.units.first_letter import capital

GOES_HERE = {
    ShelfKind.COOKER: "Your cookers by name. Trends groups cooks by them.",
    ShelfKind.FUEL: "What you burn: lump, briquettes, pellets, splits. With its price each says what a cook's fire cost.",
    ShelfKind.WOOD: "Wood for smoke.",
    ShelfKind.RUB: "Rubs by name. With the weight of a tablespoon a plan reads spoons of it.",
    ShelfKind.RECIPE: "Injections, brines and glazes. A plan scales their lines to its liquid or its meat.",
    ShelfKind.INGREDIENT: "Salt, sugar, phosphate, spices: with the weight of a tablespoon, recipes and plans read spoons and cups of them.",
    ShelfKind.PROBE: "Probes, with what they read in ice water and at the boil.",
    ShelfKind.TASTER: "The people of your panel, by a name of your choice.",
    ShelfKind.SCHEME: "How a tasting is asked and scored. One that was used stays as it is; a change is a new version.",
}
_THINGS: tuple[ShelfKind, ...] = tuple(kind for kind in ShelfKind if kind is not ShelfKind.SCHEME)
"""Sorts whose things are a name with a detail; schemes have rules of their own."""


_ROWS = {
    ShelfKind.COOKER: CookerRow,
    ShelfKind.FUEL: FuelRow,
    ShelfKind.PROBE: ProbeRow,
    ShelfKind.RUB: RubRow,
    ShelfKind.RECIPE: RecipeRow,
    ShelfKind.INGREDIENT: IngredientItemRow,
}

OWN = "own variable"
"""The sort of the cook's own variables, which are no things."""

KINDS = frozenset(
    {
        *("shelf_item", "scheme", "tasting", "setting", "own_variable", "own_value", "cook"),
        *(table for table, _ in NAMED_IN.values()),
    }
)
"""What stands on the Shelf, and where that is used."""


class ShelfPage(Page):
    """All that is used again."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._kind: ShelfKind | str = ShelfKind.COOKER
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addWidget(Header("Shelf"))
        self.kinds = Choice("sorts")
        self.kinds.chosen.connect(self.turn)
        self.card = Card("Cookers")
        self.goes_here = words("", "quiet")
        self.card.body.addWidget(self.goes_here)
        self._lists: dict[ShelfKind, tuple[QWidget, Rows]] = {}
        self._used_in: dict[str, tuple[int, ...]] = {}
        self.schemes = Schemes(desk)
        self.card.body.addWidget(self.schemes)
        self.own = OwnVariables(desk)
        self.card.body.addWidget(self.own)
        for kind in _THINGS:
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
        sized(self.card, most_width=tokens.FORM_WIDTH)
        line = row(self.card, None)
        line.setStretch(0, 99)  # the card takes all that it may, and stands at the left
        body = column(self.kinds, line, None, space=tokens.M)
        scrolled(body, "shelf", outer)

    def _maker(self, kind: ShelfKind) -> Callable[[], RecordRow]:
        made = _ROWS.get(kind, ItemRow)
        return lambda: made(self.desk, kind)

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here."""
        return (Action("Add to the Shelf", "Ctrl+Shift+A", self._begin),)

    def concerned(self, changes: Changes) -> bool:
        """Whether something on the Shelf changed."""
        return bool(KINDS & changes.kinds)

    def refresh(self) -> None:
        """Show the chosen sort."""
        journal = self.desk.journal
        items = {kind: journal.shelf.items(kind) for kind in _THINGS}
        counts: dict[str, int] = {kind: len(found) for kind, found in items.items()}
        counts[ShelfKind.SCHEME] = len(journal.shelf.schemes())
        counts[OWN] = len(journal.find(OwnVariable))
        sorts = (*ShelfKind, OWN)
        self.kinds.offer((kind, f"{_plural(kind)} {counts[kind]}", -1) for kind in sorts)
        self.kinds.choose(self._kind)
        title = _plural(self._kind)
        self.card.heading.setText(capital(title))
        own = self._kind == OWN
        here = OWN_GOES_HERE if not isinstance(self._kind, ShelfKind) else GOES_HERE[self._kind]
        self.goes_here.setText(here)
        self.own.setVisible(own)
        self.new.setVisible(not own)
        self.plus.setVisible(not own)
        if own:
            self.own.refresh()
        self.schemes.setVisible(self._kind is ShelfKind.SCHEME)
        if self._kind is ShelfKind.SCHEME:
            self.schemes.refresh()
        for kind, (holder, rows) in self._lists.items():
            holder.setVisible(kind is self._kind)
            if kind is self._kind:
                rows.show(items[kind])
                self._show_use(rows, items[kind])
        self._ask_own(items)
        self.new.setPlaceholderText(f"Another {self._kind}")
        self.new.setAccessibleName(f"name of another {self._kind}")

    def _show_use(self, rows: Rows, items: list[ShelfItem]) -> None:
        """Say of each thing in which cooks it is, as far as that was asked."""
        if self.desk.few_cooks:
            self._used_in.update(self.desk.journal.cooks_with(items))
        for shown, item in zip(rows.rows, items, strict=False):
            assert isinstance(shown, ItemRow)
            shown.show_use(self._used_in.get(item.id, ()))

    def _ask_own(self, on_shelf: Mapping[ShelfKind, list[ShelfItem]]) -> None:
        """Have the worker ask one's own cooks of what is seen; the page stands meanwhile."""
        kind, journal, system = self._kind, self.desk.journal, self.desk.system
        if not isinstance(kind, ShelfKind) or kind not in self._lists:
            return
        items, known = on_shelf[kind], self.desk.few_cooks

        def work(_progress: Progress) -> tuple[dict[str, OfOwnCooks], dict[str, tuple[int, ...]]]:
            used = {} if known else journal.cooks_with(items)
            return of_own_cooks(journal, kind, system), used

        def done(found: tuple[dict[str, OfOwnCooks], dict[str, tuple[int, ...]]]) -> None:
            told, used = found
            self._used_in.update(used)
            holder, rows = self._lists[kind]
            for line in holder.findChildren(ItemRow):
                line.show_own(told)
            if used:
                self._show_use(rows, items)

        self.desk.bridge.run("Ask your cooks", work, done, asker=self, quiet=True)

    def turn(self, kind: object) -> None:
        """Show another sort."""
        assert isinstance(kind, str)
        self._kind = kind
        self.problem.say("")
        self.refresh()

    def _begin(self) -> None:
        """Be ready to add to the sort that is seen."""
        if self._kind == OWN:
            self.own.make()
        else:
            self.new.setFocus()

    def add(self) -> None:
        """Add what is typed."""
        if not isinstance(self._kind, ShelfKind):
            return
        name = self.new.text().strip()
        if not name:
            self.problem.say("Type its name first.")
            self.new.setFocus()
            return
        if self._kind is ShelfKind.SCHEME:
            problem = self.schemes.add(name)
            self.problem.say(problem)
            if not problem:
                self.new.clear()
            return
        known = self.desk.journal.shelf.items(self._kind)
        if any(plain_name(item.name) == plain_name(name) for item in known):
            self.problem.say(f"There is a {self._kind} of that name already.")
            return
        made = ShelfItem(kind=self._kind, name=name)
        problem = self.desk.bridge.attempt(Add((made,), f"Add {name}"), self)
        self.problem.say(problem)
        if not problem:
            self.new.clear()


def _plural(kind: str) -> str:
    return f"{kind}s"
