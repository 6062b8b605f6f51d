"""The preview: one cook of the table as it would be kept."""

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from pitjournal.domain.times.moments import date_words, hours_words
from pitjournal.files.old_cooks import OldCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import Elided, row, words
from pitjournal.ui.old_cooks.column_words import named
from pitjournal.units import Dimension, show
from pitjournal.units.figures import trimmed
from pitjournal.units.first_letter import capital

_MOST_LINES = 14
_MASSES = "mass_"
_TEMPERATURES = frozenset({"set_point", "internal_off", "ambient"})


class AsKept(Card):
    """A cook as it would be kept, and the way to the others."""

    def __init__(self, desk: Desk) -> None:
        self._which = words("", "quiet", wrap=False)
        super().__init__("As it would be kept", side=self._which)
        self._desk = desk
        self._cooks: Sequence[Sequence[OldCook]] = ()
        self._uncertain: frozenset[str] = frozenset()
        self.place = 0
        self.title = Elided("", "large")
        self.below = words("", "quiet")
        self.facts = FactTable("the cook as it would be kept")
        self.unsure = words("", "quiet")
        self.body.addWidget(self.title)
        self.body.addWidget(self.below)
        before = button("Cook before", lambda: self.turn(-1), tip="PgUp")
        after = button("Next cook", lambda: self.turn(1), tip="PgDown")
        both = row(before, after, space=tokens.S)
        both.setStretch(0, 1)
        both.setStretch(1, 1)
        self.body.addLayout(both)
        self.body.addWidget(self.facts)
        self.body.addWidget(self.unsure)
        self.turns: tuple[QWidget, QWidget] = (before, after)

    def show_cooks(self, cooks: Sequence[Sequence[OldCook]], uncertain: frozenset[str]) -> None:
        """Show the cooks of a table; what stands in `uncertain` is not settled yet."""
        self._cooks, self._uncertain = cooks, uncertain
        self.place = min(self.place, max(0, len(cooks) - 1))
        self._show()

    def turn(self, by: int) -> None:
        """Go to another cook."""
        self.place = max(0, min(self.place + by, len(self._cooks) - 1))
        self._show()

    def _show(self) -> None:
        count = len(self._cooks)
        self._which.setText(f"cook {self.place + 1} of {count}" if count else "")
        self.turns[0].setEnabled(self.place > 0)
        self.turns[1].setEnabled(self.place + 1 < count)
        if not count:
            return
        rows = self._cooks[self.place]
        first = rows[0]
        day = date_words(first.date) if first.date else "no day"
        name = first.title or first.cut or "A cook"
        self.title.show_text(f"{capital(name)}, {day}")
        numbers = f"row {first.row}" if len(rows) == 1 else f"rows {first.row} to {rows[-1].row}"
        pieces = "1 piece" if len(rows) == 1 else f"{len(rows)} pieces"
        self.below.setText(f"{pieces} · {numbers} of the table")
        keys = list(dict.fromkeys(key for one in rows[:3] for key in one.values))[:_MOST_LINES]
        lines = [("cut", [one.cut or "–" for one in rows[:3]])]
        lines += [
            (self._label(key), [self._value_words(one, key) for one in rows[:3]]) for key in keys
        ]
        others = list(dict.fromkeys(head for one in rows[:3] for head in one.others))
        lines += [
            (f"{h} (note)", [_short(one.others.get(h, "–")) for one in rows[:3]]) for h in others
        ]
        heads = [(f"piece {at + 1}" if len(rows) > 1 else "", None) for at in range(len(rows[:3]))]
        self.facts.show_rows(heads, lines)
        more = f" {len(rows) - 3} more pieces." if len(rows) > 3 else ""
        asked = "“?” is read, but not certain. " if self._uncertain & set(keys) else ""
        self.unsure.setText(f"{asked}Place in the cooker: not recorded. Blind: not recorded.{more}")

    def _label(self, key: str) -> str:
        return named(key, self._desk.catalogue) + (" ?" if key in self._uncertain else "")

    def _value_words(self, cook: OldCook, key: str) -> str:
        value: Any = cook.values.get(key)
        if isinstance(value, Mapping):
            ends = "" if value.get("high") is None else f" of {value['low']} to {value['high']}"
            return f"{value['value']}{ends}"
        if not isinstance(value, int | float):
            return "–" if value is None else _short(str(value))
        if key.startswith("time_"):
            return hours_words(60 * value)
        if key.startswith(_MASSES) or key == "fuel_used":
            return show(value, Dimension.MASS, self._desk.system)
        if key in _TEMPERATURES:
            return show(value, Dimension.TEMPERATURE, self._desk.system)
        return trimmed(value)


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= 34 else f"{line[:32]}…"
