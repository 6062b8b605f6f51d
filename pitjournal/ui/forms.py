"""Fields bound to a record: each saves itself as a change of one field, one step to undo."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from typing import Protocol, cast

from PySide6.QtCore import QPointF, Qt, QTimer
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QStyle,
    QStyleOptionComboBox,
    QStylePainter,
    QVBoxLayout,
    QWidget,
)

from pitjournal.domain.plausible import limits_of
from pitjournal.domain.record import Measured, Record
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.records import Change
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.fields import Field, PitField, QuantityField, TextField
from pitjournal.ui.look.parts.spoken import spoken, tell_all_about
from pitjournal.ui.look.parts.time_fields import TimeField
from pitjournal.ui.look.parts.weight_fields import HowHeavy, ShareField, WeightField, Whole
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.look.parts.words_field import WordsField
from pitjournal.ui.look.theme import look
from pitjournal.units import Dimension


class Shows(Protocol):
    """A widget that shows a value."""

    def set_value(self, value: object) -> None:
        """Show it."""


BESIDE = 2
"""What the style keeps free beside the words, px."""


class Box(QComboBox):
    """A drop-down box with an arrow in the theme's own ink; it scrolls only when it is open."""

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - all of it is painted
        """Paint the box, its words with what does not fit left out, and its arrow."""
        painter = QStylePainter(self)
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        kind = QStyle.ComplexControl.CC_ComboBox
        painter.drawComplexControl(kind, option)
        field = QStyle.SubControl.SC_ComboBoxEditField
        room = self.style().subControlRect(kind, option, field, self).width() - BESIDE
        short = self.fontMetrics().elidedText(
            option.currentText, Qt.TextElideMode.ElideRight, max(room, 0)
        )
        self.setToolTip("" if short == option.currentText else option.currentText)
        option.currentText = short
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(look().theme.quiet), 2))
        x, y = self.width() - 16.0, self.height() / 2
        painter.drawPolyline([QPointF(x - 4, y - 2), QPointF(x, y + 2), QPointF(x + 4, y - 2)])
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page: nothing changes by scrolling past."""
        event.ignore()


class ChoiceBox(QWidget):
    """One of a few fixed things, under a label."""

    def __init__(
        self,
        label: str,
        options: Iterable[tuple[object, str]],
        save: Callable[[object], str],
        *,
        bare: bool = False,
    ) -> None:
        super().__init__()
        self._label, self._save = label, save
        self._values: list[object] = []
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(tokens.XS // 2)
        self.box = Box()
        if bare:
            self.box.setProperty("role", "cell")
        self._name_it(label)
        if not bare:
            caption = words(label, "heading", wrap=False)
            caption.setBuddy(self.box)
            layout.addWidget(caption)
        layout.addWidget(self.box)
        self.setFocusProxy(self.box)
        self.box.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.box.setMinimumContentsLength(8)
        self.offer(options)
        self.box.activated.connect(self._taken)

    def tell_about(self, about: str) -> None:
        """Tell which of several alike it is."""
        self._name_it(spoken(self._label, about, ", "))

    def _name_it(self, name: str) -> None:
        self.box.setAccessibleName(name)
        self.box.setAccessibleDescription(name)  # where Qt gives what is chosen for the name

    def offer(self, options: Iterable[tuple[object, str]]) -> None:
        """Offer these values with their words."""
        found = list(options)
        if [value for value, _ in found] == self._values:
            return
        self._values = [value for value, _ in found]
        self.box.clear()
        self.box.addItems([text for _, text in found])

    def set_value(self, value: object) -> None:
        """Show a value."""
        place = self._values.index(value) if value in self._values else -1
        self.box.setCurrentIndex(place)

    def _taken(self, place: int) -> None:
        self._save(self._values[place])


class Form:
    """The fields of one record at a time; `show` binds them to another."""

    def __init__(self, desk: Desk, what: str = "") -> None:
        self.desk = desk
        self.record: Record | None = None
        self._what = what
        self._fields: list[tuple[str, Shows]] = []

    def show(self, record: Record) -> None:
        """Show a record and save into it from now on."""
        self.record = record
        typed = record.typed if isinstance(record, Measured) else {}
        for name, widget in self._fields:
            if isinstance(widget, Field):
                widget.belong_to(record.id)
            if isinstance(widget, QuantityField):
                widget.typed = typed.get(name, "")
                widget.within = limits_of(record.KIND, name) or widget.within
            widget.set_value(getattr(record, name))

    def _keep(self, name: str, label: str, empty: object = None) -> Callable[[object, str], str]:
        def save(value: object, typed: str) -> str:
            if self.record is None:
                return ""
            kept = empty if value is None else value
            told = {name: typed} if isinstance(kept, float) else {}
            what = f"Change {label} of {self._what}" if self._what else f"Change {label}"
            change: Command = Change(type(self.record), self.record.id, {name: kept}, what, told)
            return self.desk.bridge.attempt(change, self)

        return save

    def text(
        self,
        name: str,
        label: str,
        *,
        used: Iterable[str] = (),
        bare: bool = False,
        hint: str = "",
        empty: object = "",
    ) -> TextField:
        """Return a field of words."""
        made = TextField(
            label, self._keep(name, label.lower(), empty), used=used, bare=bare, hint=hint
        )
        self._fields.append((name, made))
        return made

    def lines(self, name: str, label: str, *, lines: int = 2, hint: str = "") -> WordsField:
        """Return a field of several lines."""
        made = WordsField(label, self._keep(name, label.lower(), ""), lines=lines, hint=hint)
        self._fields.append((name, made))
        return made

    def quantity(
        self,
        name: str,
        label: str,
        dimension: Dimension,
        *,
        bare: bool = False,
        hint: str = "",
        whole: bool = False,
    ) -> QuantityField:
        """Return a field of a quantity; `whole` numbers only, for a count."""
        keep = self._keep(name, label.lower())

        def save(value: object, typed: str) -> str:
            if whole and isinstance(value, float):
                return keep(int(value), typed)
            return keep(value, typed)

        sort = PitField if name == "set_point" else QuantityField
        made = sort(label, dimension, self.desk.system, save, bare=bare, hint=hint)
        self._fields.append((name, made))
        return made

    def weight(
        self,
        name: str,
        label: str,
        density: HowHeavy,
        *,
        bare: bool = False,
        hint: str = "",
    ) -> WeightField:
        """Return a field of a weight that spoons and cups can measure too."""
        save = self._keep(name, label.lower())
        mass = Dimension.MASS
        made = WeightField(label, mass, self.desk.system, save, density, bare=bare, hint=hint)
        self._fields.append((name, made))
        return made

    def share(self, name: str, label: str, density: HowHeavy, whole: Whole) -> ShareField:
        """Return a field of a share of a weight, which a weight can say too."""
        made = ShareField(label, self.desk.system, self._keep(name, label.lower()), density, whole)
        self._fields.append((name, made))
        return made

    def time(self, name: str, label: str, zone: str, *, bare: bool = False) -> TimeField:
        """Return a field of a moment."""
        made = TimeField(label, zone, self.desk.now, self._keep(name, label.lower()), bare=bare)
        self._fields.append((name, made))
        return made

    def choice(
        self, name: str, label: str, options: Sequence[tuple[object, str]], *, bare: bool = False
    ) -> ChoiceBox:
        """Return a choice of fixed things."""
        keep = self._keep(name, label.lower())
        made = ChoiceBox(label, options, lambda value: keep(value, ""), bare=bare)
        self._fields.append((name, made))
        return made

    def yes_no(self, name: str, label: str) -> ChoiceBox:
        """Return a choice of yes, no and not recorded."""
        options = ((None, "not recorded"), (True, "yes"), (False, "no"))
        return self.choice(name, label, cast("Sequence[tuple[object, str]]", options))


def _enabler(part: QWidget) -> Callable[[], None]:
    return lambda: part.setEnabled(True)


class Rows:
    """Rows of a card, one a record: made when needed, kept, and hidden when there are fewer."""

    def __init__(self, layout: QVBoxLayout, make: Callable[[], "RecordRow"]) -> None:
        self._layout, self._make = layout, make
        self.rows: list[RecordRow] = []

    def spare(self, count: int) -> bool:
        """Make one more before it is needed, as long as there are not so many; return if it did."""
        if len(self.rows) >= count:
            return False
        self._add().hide()
        return True

    def _add(self) -> "RecordRow":
        made = self._make()
        self.rows.append(made)
        self._layout.addWidget(made)
        away = getattr(made, "away", None)
        if isinstance(away, QAbstractButton):  # the next row's comes to lie where it was
            away.clicked.connect(lambda *_: self._let_rest(away))
        return made

    def _let_rest(self, away: QAbstractButton) -> None:
        """Take no second tap of a double one, and have no key taken for one."""
        away.clearFocus()
        others = [getattr(one, "away", None) for one in self.rows]
        for other in others:
            if isinstance(other, QAbstractButton):
                other.setEnabled(False)
                QTimer.singleShot(QApplication.doubleClickInterval(), other, _enabler(other))

    def show(self, records: Sequence[Record]) -> None:
        """Show a row for each record, in order."""
        while len(self.rows) < len(records):
            self._add()
        called: Counter[str] = Counter()
        for place, row in enumerate(self.rows):
            if place < len(records):
                row.show_record(records[place])
                name = row.called(records[place])
                called[name or row.CALLED] += 1
                number = called[name or row.CALLED]
                row.tell_about(name if name and number == 1 else f"{name or row.CALLED} {number}")
            row.setVisible(place < len(records))


class RecordRow(QWidget):
    """A row that shows one record; its controls name it."""

    CALLED = "line"
    """What a record without a name is called, with its number."""

    def __init__(self) -> None:
        super().__init__()
        self._about = ""

    def called(self, record: Record) -> str:
        """Return the name of a record; those without one are numbered."""
        del record
        return ""

    def tell_about(self, about: str) -> None:
        """Tell each control in it which row this is."""
        if about != self._about:
            self._about = about
            tell_all_about(self, about)

    def show_record(self, record: Record) -> None:
        """Show it."""
        raise NotImplementedError
