"""The field of one variable of the cook's own, for one cook, arm or piece."""

from collections.abc import Iterable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.shelf import OwnValue, OwnVariable
from pitjournal.journal.commands.own import FillOwn
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look.parts.fields import QuantityField, TextField
from pitjournal.units import Dimension
from pitjournal.units.first_letter import capital


class OwnField(QWidget):
    """What is typed or chosen here is kept at once."""

    def __init__(self, desk: Desk, own: OwnVariable, owner: str, *, bare: bool) -> None:
        super().__init__()
        self._desk, self._own, self._owner = desk, own, owner
        self._cook_id = self._owner_id = ""
        self._options: tuple[str, ...] = ()
        self.field = self._made(bare=bare)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.field)
        self.setFocusProxy(self.field)
        self.field.tell_about(owner)

    def _made(self, *, bare: bool) -> QuantityField | TextField | ChoiceBox:
        own = self._own
        if own.kind == "number":
            return QuantityField(
                own.name, Dimension(own.dimension), self._desk.system, self._keep, bare=bare
            )
        if own.kind == "text" or not (own.choices or own.kind == "yes/no"):
            return TextField(own.name, self._keep, used=own.choices, bare=bare)
        return ChoiceBox(own.name, self._offered(), self._take, bare=bare)

    def _offered(self, also: str = "") -> Iterable[tuple[object, str]]:
        yield None, "not recorded"
        if self._own.kind == "yes/no":
            yield from ((True, "yes"), (False, "no"))
        else:
            known = self._own.choices
            yield from ((choice, choice) for choice in known)
            if also and also not in known:  # what is no longer offered stays what it was
                yield also, also

    def show_value(self, cook_id: str, owner_id: str, value: OwnValue | None) -> None:
        """Show the value of an owner, and save into it from now on."""
        if owner_id != self._owner_id and not isinstance(self.field, ChoiceBox):
            self.field.forget()
        self._cook_id, self._owner_id = cook_id, owner_id
        shown = None if value is None else value.value
        if isinstance(self.field, ChoiceBox):
            self.field.offer(self._offered(shown if isinstance(shown, str) else ""))
        elif isinstance(self.field, QuantityField):
            self.field.typed = value.typed.get("number", "") if value else ""
        self.field.set_value(shown)

    def _take(self, value: object) -> str:
        return self._keep(value, "")

    def _keep(self, value: object, typed: str) -> str:
        if not self._owner_id:
            return ""
        kept = value if isinstance(value, float | str | bool) else None
        label = f"{capital(self._own.name)} of {self._owner}"
        command = FillOwn(
            self._cook_id,
            self._own.id,
            self._owner_id,
            kept,
            label,
            {"number": typed} if isinstance(kept, float) else {},
        )
        return self._desk.bridge.attempt(command, self)
