"""One scheme opened on the Shelf: in plain words where it stays, in fields where it may change."""

import math
from dataclasses import replace

from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from pitjournal.domain.scheme import Asks, Criterion, Rules, Scale, Scheme, Ties
from pitjournal.errors import JournalError
from pitjournal.journal.commands.schemes import ChangeScheme
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.fields import Field, Save, TextField
from pitjournal.ui.look.parts.words import Problem, clear, column, row, words
from pitjournal.units.figures import trimmed
from pitjournal.units.numbers import MOST

HEADS = ("what is scored", "scale", "from", "to", "weight", "penalty")
FRESH = "something new"


class NumberField(Field):
    """A plain number, as exact as it was typed."""

    def __init__(self, label: str, save: Save, *, bare: bool = False, hint: str = "") -> None:
        super().__init__(label, save, bare=bare, hint=hint)

    def read(self, text: str) -> object:
        """Return the number; an empty text is None."""
        said = text.strip().replace(",", ".").replace("−", "-")
        if not said:
            return None
        try:
            number = float(said)
        except ValueError:
            number = math.nan
        if not abs(number) <= MOST:
            raise JournalError(f"“{text.strip()[:40]}” is no number.", "Try 9 or 0.56.")
        return number

    def shown(self, value: object) -> str:
        """Return it with no more digits than it has."""
        return trimmed(value) if isinstance(value, int | float) else ""


def in_words(rules: Rules) -> list[str]:
    """Return what a scheme asks and how it adds up, a line each."""
    if not rules.scored:
        return [f"{str(rules.asks).capitalize()}: {rules.question}"]
    said = []
    for criterion in rules.criteria:
        line = f"{criterion.name}: {criterion.words()}"
        if criterion.weight is not None:
            line += f"; weight {trimmed(criterion.weight)}"
        said.append(line)
    if rules.most is not None:
        drop = f", the lowest {rules.drop} left out" if rules.drop else ""
        said.append(f"Total of {rules.judges} cards{drop}; at most {trimmed(rules.most)}.")
    said.append(f"Equal samples: {rules.ties}.")
    return said


class SchemeEditor(QWidget):
    """The rules of one scheme."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.scheme: Scheme | None = None
        self._rules = Rules()
        self._key: tuple[object, ...] = ()
        self.problem = Problem()
        self._lines = QVBoxLayout()
        self._lines.setSpacing(tokens.S)
        outer = column(self._lines, self.problem)
        outer.setContentsMargins(0, tokens.S, 0, tokens.M)
        self.setLayout(outer)

    def show_scheme(self, scheme: Scheme, *, fixed: bool) -> None:
        """Show a scheme: `fixed` in words, else in fields. Fields stay while one is typed in."""
        self.scheme, self._rules = scheme, scheme.reads
        shape = tuple((c.name, c.scale) for c in self._rules.criteria)
        key = (scheme.id, fixed, shape, self._rules.judges is None)
        if key == self._key and not fixed:
            return
        self._key = key
        self.problem.say("")
        clear(self._lines)
        if fixed:
            for line in in_words(self._rules):
                self._lines.addWidget(words(line))
            return
        self._fields(scheme)

    def _fields(self, scheme: Scheme) -> None:
        name = TextField("Name", lambda v, _t: self._change("name", str(v or "")))
        note = TextField("What it is for", lambda v, _t: self._change("note", str(v or "")))
        name.set_value(scheme.name)
        note.set_value(scheme.note)
        line = row(name, note)
        line.setStretch(0, 1)
        line.setStretch(1, 2)
        self._lines.addLayout(line)
        if self._rules.scored:
            self._lines.addLayout(self._table())
            self._lines.addLayout(row(button("Add a criterion", self._add, "link"), None))
            self._lines.addLayout(self._adding_up())
        else:
            asked = TextField("What the tasters are asked", self._ask)
            asked.set_value(self._rules.question)
            asks = ChoiceBox(
                "How", [(kind, str(kind)) for kind in Asks if kind is not Asks.SCORES], self._how
            )
            asks.set_value(self._rules.asks)
            self._lines.addLayout(row(asked, asks))

    def _table(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(tokens.S)
        grid.setVerticalSpacing(tokens.XS)
        for place, head in enumerate(HEADS):
            grid.addWidget(words(head, "heading", wrap=False), 0, place)
        for line, criterion in enumerate(self._rules.criteria, 1):
            for place, field in enumerate(self._row(criterion)):
                grid.addWidget(field, line, place)
        for place, stretch in enumerate((4, 3, 1, 1, 1, 1, 0)):
            grid.setColumnStretch(place, stretch)
        return grid

    def _row(self, criterion: Criterion) -> list[QWidget]:
        at, called = self._rules.criteria.index(criterion), criterion.name
        name = TextField(f"name of {called}", self._keeper(at, "name"), bare=True)
        name.set_value(criterion.name)
        scale = ChoiceBox(
            f"scale of {called}",
            [(kind, str(kind)) for kind in Scale],
            lambda kind: self._put(at, scale=kind),
            bare=True,
        )
        scale.set_value(criterion.scale)
        found: list[QWidget] = [name, scale]
        ends = criterion.scale not in {Scale.RANK, Scale.YES_NO}
        for key, label in (("low", "from"), ("high", "to"), ("weight", ""), ("penalty", "")):
            field = NumberField(f"{label or key} of {called}", self._keeper(at, key), bare=True)
            field.set_value(getattr(criterion, key))
            field.setEnabled(ends)
            found.append(field)
        found.append(button("×", lambda: self._drop(at), "link", about=called))
        return found

    def _adding_up(self) -> QGridLayout:
        judges = NumberField("Cards in a total", self._count("judges"), hint="no total")
        judges.set_value(self._rules.judges)
        drop = NumberField("Lowest left out", self._count("drop"))
        drop.set_value(self._rules.drop)
        ties = ChoiceBox(
            "Equal samples", [(kind, str(kind)) for kind in Ties], lambda v: self._save(ties=v)
        )
        ties.set_value(self._rules.ties)
        grid = QGridLayout()
        for place, field in enumerate((judges, drop, ties)):
            grid.addWidget(field, 0, place)
            grid.setColumnStretch(place, 2 if field is ties else 1)
        return grid

    # what its taps do

    def _change(self, field: str, value: str) -> str:
        if self.scheme is None:
            return ""
        change = ChangeScheme(self.scheme.id, fields={field: value}, what=field)
        return self.desk.bridge.attempt(change, self)

    def _save(self, what: str = "rules", **fields: object) -> str:
        """Keep changed rules; what can't be scored with is refused and said."""
        if self.scheme is None:
            return ""
        rules = replace(self._rules, **fields)  # type: ignore[arg-type]
        problem = self.desk.bridge.attempt(ChangeScheme(self.scheme.id, rules, what=what), self)
        self.problem.say(problem)
        return problem

    def _put(self, at: int, **fields: object) -> str:
        changed = replace(self._rules.criteria[at], **fields)  # type: ignore[arg-type]
        criteria = (*self._rules.criteria[:at], changed, *self._rules.criteria[at + 1 :])
        return self._save(f"{at} {','.join(fields)}", criteria=criteria)

    def _keeper(self, at: int, key: str) -> Save:
        def keep(value: object, _typed: str) -> str:
            if value is None and key in {"low", "high"}:
                return "The scale needs an end here."
            return self._put(at, **{key: str(value or "").strip() if key == "name" else value})

        return keep

    def _count(self, key: str) -> Save:
        def keep(value: object, _typed: str) -> str:
            if isinstance(value, float) and (value < 0 or value != round(value)):
                return "A whole number, 0 or more."
            whole = int(value) if isinstance(value, float) else None
            return self._save(key, **{key: whole if key == "judges" else whole or 0})

        return keep

    def _add(self) -> None:
        taken = set(self._rules.names)
        name = next(n for n in (FRESH, *(f"{FRESH} {k}" for k in range(2, 99))) if n not in taken)
        self._save("add", criteria=(*self._rules.criteria, Criterion(name=name)))

    def _drop(self, at: int) -> None:
        criteria = (*self._rules.criteria[:at], *self._rules.criteria[at + 1 :])
        self._save("drop", criteria=criteria)

    def _ask(self, value: object, _typed: str) -> str:
        return self._save("question", question=str(value or ""))

    def _how(self, value: object) -> str:
        return self._save("asks", asks=value)
