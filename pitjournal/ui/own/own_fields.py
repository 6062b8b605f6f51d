"""All that a cook notes in variables of his own: of the cook, of its arms, of its pieces."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from pitjournal.domain.shelf import OwnVariable
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.scroll import Sideways
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.look.theme import sized
from pitjournal.ui.own.own_field import OwnField

MOST = 4
"""So many variables of a level are shown that a cook has no value of; the rest is chosen."""

WIDE = 150
"""The least width of a column of a table, px."""

NO_MARK = -1


@dataclass(frozen=True)
class Owner:
    """Whom a value belongs to: the cook, an arm or a piece."""

    id: str
    name: str
    look: int | None = NO_MARK


def owners_of(whole: WholeCook, level: str) -> tuple[Owner, ...]:
    """Return whom variables of a level belong to in a cook."""
    if level == "cook":
        return (Owner(whole.cook.id, "the cook"),)
    if level == "arm":
        return tuple(Owner(arm.id, arm.name, whole.arm_index(arm.id)) for arm in whole.ordered_arms)
    return tuple(Owner(p.id, p.label, whole.arm_index(p.arm_id)) for p in whole.pieces)


class OwnTable(QWidget):
    """The variables of one level: a line an owner, a column a variable; the cook has no lines."""

    def __init__(self, desk: Desk, level: str) -> None:
        super().__init__()
        self._desk, self._level = desk, level
        self._laid: object = None
        self._wanted: list[str] = []
        self.fields: dict[tuple[str, str], OwnField] = {}
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(tokens.S)
        self._holder = QWidget()
        layout.addWidget(self._holder)
        self.more = ChoiceBox("Note another of your own", (), self._more)
        layout.addLayout(row(self.more, None))
        self._whole: WholeCook | None = None
        self._variables: Sequence[OwnVariable] = ()

    def show_cook(self, whole: WholeCook, variables: Sequence[OwnVariable]) -> None:
        """Show what a cook has of these variables, and fields for the rest."""
        if self._whole is not None and self._whole.cook.id != whole.cook.id:
            self._wanted = []
        self._whole = whole
        owners = owners_of(whole, self._level)
        given = {value.variable_id for value in whole.own_values}
        self._variables = [
            own
            for own in variables
            if own.level == self._level and (own.id in given or not own.retired)
        ]
        shown, rest = self._chosen(given)
        self.more.offer([(own.id, own.name) for own in rest])
        self.more.set_value(None)
        self.more.setVisible(bool(rest) and bool(owners))
        self.setVisible(bool(shown) and bool(owners))
        laid = (shown, owners)
        if laid != self._laid:
            self._laid = laid
            self._lay(shown, owners)
        values = {(value.variable_id, value.owner_id): value for value in whole.own_values}
        for (own_id, owner_id), field in self.fields.items():
            field.show_value(whole.cook.id, owner_id, values.get((own_id, owner_id)))

    def _chosen(self, given: set[str]) -> tuple[tuple[OwnVariable, ...], list[OwnVariable]]:
        """Return the variables that have a column, and the others."""
        newest = sorted(self._variables, key=lambda own: own.id, reverse=True)
        keep = {own.id for own in newest[:MOST]} | given | set(self._wanted)
        shown = tuple(own for own in self._variables if own.id in keep)
        return shown, [own for own in self._variables if own.id not in keep]

    def _more(self, own_id: object) -> str:
        self._wanted.append(str(own_id))
        if self._whole is not None:
            self.show_cook(self._whole, self._variables)
        return ""

    def _lay(self, shown: Sequence[OwnVariable], owners: Sequence[Owner]) -> None:
        grid = QGridLayout()
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(tokens.S)
        self.fields = {}
        if self._level == "cook":
            self._lay_cook(grid, shown, owners)
        else:
            self._lay_lines(grid, shown, owners)
        holder = Sideways(grid, f"your own of {self._level}s")
        layout = self.layout()
        assert layout is not None
        layout.replaceWidget(self._holder, holder)
        self._holder.hide()
        self._holder.deleteLater()
        self._holder = holder

    def _field(self, own: OwnVariable, owner: Owner, *, bare: bool) -> OwnField:
        made = OwnField(self._desk, own, owner.name, bare=bare)
        sized(made, least_width=WIDE)
        self.fields[own.id, owner.id] = made
        return made

    def _lay_cook(
        self, grid: QGridLayout, shown: Sequence[OwnVariable], owners: Sequence[Owner]
    ) -> None:
        for place, own in enumerate(shown):
            for owner in owners:
                grid.addWidget(
                    self._field(own, owner, bare=False),
                    place // 3,
                    place % 3,
                    Qt.AlignmentFlag.AlignTop,
                )
        for place in range(3):
            grid.setColumnStretch(place, 1)

    def _lay_lines(
        self, grid: QGridLayout, shown: Sequence[OwnVariable], owners: Sequence[Owner]
    ) -> None:
        grid.addWidget(words(self._level, "heading", wrap=False), 0, 0)
        for place, own in enumerate(shown, start=1):
            grid.addWidget(words(own.name, "heading", wrap=False), 0, place)
            grid.setColumnStretch(place, 1)
        for line, owner in enumerate(owners, start=1):
            head = QWidget()
            mark = Mark(owner.look, owner.name) if owner.look != NO_MARK else None
            head.setLayout(row(*([mark] if mark else []), words(owner.name, wrap=False), None))
            grid.addWidget(head, line, 0)
            for place, own in enumerate(shown, start=1):
                grid.addWidget(self._field(own, owner, bare=True), line, place)


class OwnFields(QWidget):
    """Tables of all three levels."""

    def __init__(self, desk: Desk, levels: Sequence[str] = ("cook", "arm", "piece")) -> None:
        super().__init__()
        self._desk = desk
        self.tables = {level: OwnTable(desk, level) for level in levels}
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(tokens.M)
        self.none = words(
            "Whatever you want to note that has no field here: name it once, and it stands in "
            "every cook, in Trends, in tables and beside your comparisons.",
            "quiet",
        )
        layout.addWidget(self.none)
        for table in self.tables.values():
            layout.addWidget(table)

    def show_cook(self, whole: WholeCook) -> None:
        """Show what a cook has, and fields for what it has not."""
        variables = sorted(
            self._desk.journal.find(OwnVariable), key=lambda own: (own.retired, own.name.casefold())
        )
        for table in self.tables.values():
            table.show_cook(whole, variables)
        self.none.setVisible(all(table.isHidden() for table in self.tables.values()))
