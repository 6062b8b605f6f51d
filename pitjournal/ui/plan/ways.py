"""What a new cook is to find out: which one thing changes, or every way of two."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.layout import BARE, NAMES, Recipe, Ways
from pitjournal.domain.event import WRAPS
from pitjournal.domain.recipe import Densities, lines_of, share_of
from pitjournal.domain.several_names import things_in
from pitjournal.domain.shelf import ShelfItem
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.words import words

TREATMENT, WRAP, OTHER = "treatment", "wrap", "other"
TREATMENTS = tuple(TreatmentKind)
HOWS = (
    TreatmentKind.INJECTED,
    TreatmentKind.BRINED,
    TreatmentKind.DRY_BRINED,
    TreatmentKind.MARINATED,
)


class WaysPanel(QWidget):
    """Chips for what changes, and in which ways; the first way is the control.

    Signals
    -------
    changed()
        Another way was chosen.
    """

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        inside = QVBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(tokens.S)
        inside.addWidget(words("What changes", "heading"))
        self.things = Choice("what changes", several=True)
        self.things.offer(
            (
                (TREATMENT, "the treatment", -1),
                (WRAP, "the wrap", -1),
                (OTHER, "something else", -1),
            )
        )
        inside.addWidget(self.things)
        self.heading = words("Arms to compare: the first is the control", "heading")
        inside.addWidget(self.heading)
        self.treatments = Choice("arms to compare", several=True)
        self.treatments.offer((kind, NAMES[kind].lower(), -1) for kind in TREATMENTS)
        inside.addWidget(self.treatments)
        self.wraps = Choice("wraps to compare", several=True)
        self.wraps.offer((wrap, wrap if wrap != BARE else "not wrapped", -1) for wrap in _WRAPS)
        inside.addWidget(self.wraps)
        self.names = TextField(
            "The arms, with commas between",
            lambda *_: self._ways_changed(),
            hint="thin racks, thick racks",
        )
        inside.addWidget(self.names)
        self.every = Choice("every combination", several=True)
        self.every.offer(((True, "every combination, two by two", -1),))
        inside.addWidget(self.every)
        for choice in (self.things, self.treatments, self.wraps, self.every):
            choice.chosen.connect(lambda *_: self._ways_changed())
        self.clear()

    def clear(self) -> None:
        """Begin anew: left alone against injected."""
        self.things.choose(TREATMENT)
        self.treatments.choose(TreatmentKind.NONE, TreatmentKind.INJECTED)
        self.wraps.choose(BARE, "foil")
        self.names.set_value(None)
        self.every.choose()
        self._show()

    def choose_ways(self, variable: str, names: Sequence[str]) -> None:
        """Take the ways of a variable: treatments, wraps, or what the cook names himself."""
        self.clear()
        thing = variable if variable in {TREATMENT, WRAP} else OTHER
        self.things.choose(thing)
        if thing == TREATMENT:
            self.treatments.choose(TreatmentKind.NONE, *names)
        elif thing == WRAP:
            self.wraps.choose(*names)
        else:
            self.names.set_value(", ".join(name.replace(",", "") for name in names))
        self._show()

    def _ways_changed(self) -> str:
        self._show()
        self.changed.emit()
        return ""

    def _show(self) -> None:
        things = self.things.values()
        self.treatments.setVisible(TREATMENT in things)
        self.wraps.setVisible(WRAP in things)
        self.names.setVisible(OTHER in things)
        self.heading.setVisible(bool(things))

    def ways(self) -> Ways:
        """Return what is chosen."""
        things = self.things.values()
        treatments = tuple(k for k in TREATMENTS if k in self.treatments.values())
        wraps = tuple(w for w in _WRAPS if w in self.wraps.values())
        names = things_in(self.names.line.text())
        return Ways(
            treatments if TREATMENT in things else (),
            wraps if WRAP in things else (),
            names if OTHER in things else (),
            bool(self.every.values()),
        )


_WRAPS = (BARE, *WRAPS)


class RecipePanel(QWidget):
    """A recipe of the cook's own: which, how it goes on or in, and whether beside a control.

    Signals
    -------
    changed()
        Something else was chosen.
    """

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._items: dict[str, ShelfItem] = {}
        self._densities: Densities = {}
        inside = QVBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(tokens.S)
        inside.addWidget(words("Which recipe", "heading"))
        self.recipes = Choice("which recipe")
        inside.addWidget(self.recipes)
        self.none = words("No recipe stands on the Shelf yet. Add an injection or a brine there.")
        inside.addWidget(self.none)
        inside.addWidget(words("How it is used", "heading"))
        self.how = Choice("how it is used")
        self.how.offer((kind, NAMES[kind].lower(), -1) for kind in HOWS)
        inside.addWidget(self.how)
        self.beside = Choice("beside a control", several=True)
        self.beside.offer(((True, "beside meat that is left alone", -1),))
        self.beside.choose(True)
        inside.addWidget(self.beside)
        self.recipes.chosen.connect(self._pick)
        for choice in (self.how, self.beside):
            choice.chosen.connect(lambda *_: self.changed.emit())

    def offer(self, items: list[ShelfItem], densities: Densities) -> None:
        """Offer the recipes of the Shelf, whose spoons weigh what `densities` say."""
        self._densities = densities
        chosen = self.recipes.values()
        self._items = {item.id: item for item in items if not item.retired}
        self.recipes.offer((item.id, item.name, -1) for item in self._items.values())
        self.recipes.choose(*(chosen or tuple(self._items)[:1]))
        self.none.setVisible(not self._items)
        if not self.how.values():
            self._guess()

    def _pick(self, *_: object) -> None:
        self._guess()
        self.changed.emit()

    def _guess(self) -> None:
        """Take salt alone for a dry brine, and anything else for an injection."""
        shares = self.shares()
        salt_only = set(shares) == {"salt"}
        self.how.choose(TreatmentKind.DRY_BRINED if salt_only else TreatmentKind.INJECTED)

    def shares(self) -> dict[str, float]:
        """Return what share of the recipe each ingredient is, where that is known by weight."""
        lines = lines_of(self.item.details, self._densities) if self.item is not None else ()
        found = {line.name: share_of(lines, line.name) for line in lines}
        return {name: share for name, share in found.items() if share is not None}

    @property
    def item(self) -> ShelfItem | None:
        """The recipe that is chosen."""
        return self._items.get(str(next(iter(self.recipes.values()), "")))

    @property
    def kind(self) -> TreatmentKind:
        """How it is used."""
        found = next(iter(self.how.values()), TreatmentKind.INJECTED)
        return found if isinstance(found, TreatmentKind) else TreatmentKind.INJECTED

    def recipe(self) -> Recipe:
        """Return the recipe with the shares a treatment keeps."""
        shares, item = self.shares(), self.item
        return Recipe(item.name if item else "", shares.get("salt"), shares.get("phosphate"))
