"""What a treatment's recipe was when its cook began, and what the Shelf says of it today."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.recipe import Line
from pitjournal.domain.shelf import ShelfKind
from pitjournal.domain.treatment import Treatment
from pitjournal.domain.used_recipe import details_of, is_kept, lines_used, to_keep
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.recipes import TakeRecipe
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import row, words


class UsedRecipe(QWidget):
    """The lines that a cook keeps; out of sight while it is planned: then the Shelf holds."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._treatment: Treatment | None = None
        self.lines: tuple[Line, ...] = ()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(tokens.XS)
        self.said = words("", "quiet")
        column.addWidget(self.said)
        self.take = button("Take the recipe of today", self._take, "link")
        column.addLayout(row(self.take, None))
        self.hide()

    def show_treatment(self, whole: WholeCook, treatment: Treatment) -> None:
        """Show what was used, and find the lines that sums go by."""
        self._treatment = treatment
        journal = self._desk.journal
        shelf = details_of(journal.shelf.items(ShelfKind.RECIPE)) if treatment.recipe else {}
        densities = journal.shelf.densities() if treatment.recipe else {}
        self.lines = lines_used(treatment, shelf, densities)
        begun = whole.cook.status is not CookStatus.PLANNED and bool(self.lines)
        self.setVisible(begun)
        if not begun:
            return
        kept = is_kept(treatment)
        made = ", ".join(line.written for line in self.lines)
        when = "Kept with this cook" if kept else "By the Shelf of today, not kept with this cook"
        self.said.setText(f"{when}: {made}")
        today = to_keep(treatment.recipe, shelf, densities)
        self.take.setVisible(bool(today) and today != dict(treatment.made_of))
        self.take.setText("Take the recipe of today" if kept else "Keep it with this cook")

    def _take(self) -> None:
        if self._treatment is not None:
            label = f"Keep {self._treatment.recipe} as it is today"
            self._desk.bridge.do(TakeRecipe(self._treatment.id, label), self)
