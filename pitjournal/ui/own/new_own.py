"""The panel in which a cook makes a variable of his own, wherever he is."""

from collections.abc import Callable

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.domain.several_names import things_in
from pitjournal.domain.shelf import OwnVariable
from pitjournal.journal.commands.own import AddOwn
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.own.sorts import KINDS, LEVELS, QUANTITIES
from pitjournal.units import Dimension

WIDTH = 660


class NewOwnPanel(Overlay):
    """Name, what it is of, and what sort of value it has."""

    def __init__(
        self,
        over: QWidget,
        desk: Desk,
        made: Callable[[OwnVariable], object] = lambda _own: None,
        *,
        gloves: bool = False,
    ) -> None:
        super().__init__(over, "A variable of your own", WIDTH)
        self.setProperty("gloves", gloves)
        self._desk, self._made = desk, made
        self.name = QLineEdit()
        self.name.setAccessibleName("name of the variable")
        self.name.setPlaceholderText("what you call it: bone pull, bark, helpers")
        self.name.returnPressed.connect(self.make)
        self.level, self.kind = Choice("what it is of"), Choice("what sort of value it has")
        self.level.offer((level, text, -1) for level, text in LEVELS)
        self.kind.offer((kind, text, -1) for kind, text in KINDS)
        self.quantity = Choice("what the number is")
        self.quantity.offer((dimension, text, -1) for dimension, text in QUANTITIES)
        for choice, first in (
            (self.level, "piece"),
            (self.kind, "number"),
            (self.quantity, Dimension.NUMBER),
        ):
            choice.choose(first)
        self.kind.chosen.connect(self._turn)
        self.choices = QLineEdit()
        self.choices.setAccessibleName("what may be chosen, with commas between")
        self.choices.setPlaceholderText("thin, right, thick")
        self.choices.returnPressed.connect(self.make)
        self._of_number = words("What is the number?", "heading", wrap=False)
        self._of_choice = words("What may be chosen? Commas between.", "heading", wrap=False)
        self.problem = Problem()
        for widget in (
            words("Name", "heading", wrap=False),
            self.name,
            words("What is it noted for?", "heading", wrap=False),
            self.level,
            words("What is noted?", "heading", wrap=False),
            self.kind,
            self._of_number,
            self.quantity,
            self._of_choice,
            self.choices,
            self.problem,
        ):
            self.body.addWidget(widget)
        self.body.addLayout(row(button("Make it", self.make, "primary"), None))
        self._turn("number")

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the name ready."""
        super().open_panel(first or self.name)

    def _turn(self, kind: object) -> None:
        parts: tuple[tuple[QWidget, str], ...] = (
            (self._of_number, "number"),
            (self.quantity, "number"),
            (self._of_choice, "choice"),
            (self.choices, "choice"),
        )
        for widget, sort in parts:
            widget.setVisible(kind == sort)

    def make(self) -> None:
        """Make it, or say why not."""
        level, kind, quantity = (
            str(next(iter(choice.values()), ""))
            for choice in (self.level, self.kind, self.quantity)
        )
        choices = things_in(self.choices.text())
        if kind == "choice" and not choices:
            self.problem.say("Say what may be chosen, such as: thin, right, thick.")
            self.choices.setFocus()
            return
        own = OwnVariable(
            name=self.name.text(),
            level=level,
            kind=kind,
            dimension=quantity if kind == "number" else str(Dimension.NUMBER),
            choices=choices if kind == "choice" else (),
        )
        problem = self._desk.bridge.attempt(AddOwn(own), self)
        if problem:
            self.problem.say(problem)
            self.name.setFocus()
            return
        self.close_panel()
        self._made(own)
