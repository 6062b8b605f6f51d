"""Variables of the cook's own as a card of the plan, and as a panel of the bench."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import row
from pitjournal.ui.own.new_own import NewOwnPanel
from pitjournal.ui.own.own_fields import OwnFields

WIDTH = 820


class OwnCard(Card):
    """What the cook notes in variables of his own."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        super().__init__("Your own variables", side=button("New variable", self.make, "link"))
        self.fields = OwnFields(desk)
        self.body.addWidget(self.fields)

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook's."""
        self.fields.show_cook(whole)

    def make(self) -> None:
        """Make another."""
        NewOwnPanel(self.window(), self._desk).open_panel()


class OwnPanel(GlovePanel):
    """The same at the bench."""

    def __init__(
        self,
        over: QWidget,
        desk: Desk,
        cook_id: str,
        see: Callable[[WholeCook], WholeCook],
    ) -> None:
        super().__init__(over, "Your own variables", WIDTH)
        self._desk, self._cook_id, self._see = desk, cook_id, see
        self.fields = OwnFields(desk)
        self.body.addWidget(self.fields)
        self.body.addLayout(row(button("New variable", self._make), None))
        self.listen(desk.bridge.changed, self._heard)
        self._show()

    def _heard(self, _changes: object) -> None:
        self._show()

    def _show(self) -> None:
        self.fields.show_cook(self._see(self._desk.journal.whole(self._cook_id)))

    def _make(self) -> None:
        NewOwnPanel(self.window(), self._desk, gloves=True).open_panel()
