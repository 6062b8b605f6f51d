"""All parts side by side, for looking and for pictures: Ctrl+Shift+F12, in no menu."""

from collections.abc import Sequence
from datetime import UTC, datetime

from PySide6.QtWidgets import QProgressBar, QWidget

from pitjournal.domain.day.course import Part, Stretch
from pitjournal.domain.day.ribbon import Lane, Ribbon
from pitjournal.domain.day.ribbon import Mark as Happened
from pitjournal.ui.charts.points_chart import ArmPoints, PointsChart
from pitjournal.ui.charts.ribbon.ribbon_strip import RibbonStrip
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.marks import Mark
from pitjournal.ui.look.parts.buttons import Tap, button
from pitjournal.ui.look.parts.cards import Card, EmptyState, NoteCard, ValueCard
from pitjournal.ui.look.parts.chips import Chip, Choice
from pitjournal.ui.look.parts.fields import QuantityField, TextField
from pitjournal.ui.look.parts.messages import MessageBar
from pitjournal.ui.look.parts.overlay import Action
from pitjournal.ui.look.parts.reflow import Reflow
from pitjournal.ui.look.parts.sort_table import Cell, Heading, SortTable
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.time_fields import TimeField
from pitjournal.ui.look.parts.words import column, row, words
from pitjournal.ui.look.parts.words_field import WordsField
from pitjournal.ui.page import Header, Page, scrolled
from pitjournal.units import Dimension

NAMES = ("Left alone", *(f"Arm {number}" for number in range(1, 8)))


class PartsPage(Page):
    """Every part in its states."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        cards: list[QWidget] = [
            self._words(),
            self._buttons(),
            self._taps(),
            self._fields(),
            self._arms(),
            self._chips(),
            self._values(),
            self._table(),
            self._chart(),
            self._sorted(),
            self._day(),
            self._messages(),
        ]
        wide = {card: (place // 3, 4 * (place % 3), 1, 4) for place, card in enumerate(cards)}
        narrow = {card: (place // 2, 6 * (place % 2), 1, 6) for place, card in enumerate(cards)}
        empty = Card()
        empty.body.addWidget(
            EmptyState(
                "Nothing here yet", "What goes here, and the one next step.", ("Begin", _nothing)
            )
        )
        body = column(Reflow(wide, narrow), empty, space=tokens.M)
        outer = column(Header("Parts", "for looking"), scrolled(body, "parts"), space=0)
        self.setLayout(outer)

    def actions_here(self) -> Sequence[Action]:
        """Return what can be done here: nothing but leave."""
        return (Action("Leave the parts", "Escape", lambda: self.desk.go("cooks")),)

    @staticmethod
    def _words() -> Card:
        card = Card("Words")
        for role in ("title", "big", "large", "strong", "", "quiet", "error", "right", "ember"):
            card.body.addWidget(words(f"Injected racks, {role or 'plain'}", role))
        return card

    @staticmethod
    def _buttons() -> Card:
        card = Card("Buttons")
        off = button("Off for now", _nothing)
        off.setEnabled(False)
        card.body.addLayout(
            row(button("Plain", _nothing), button("Primary", _nothing, "primary"), None)
        )
        card.body.addLayout(row(button("Danger", _nothing, "danger"), off, None))
        card.body.addLayout(row(button("A link", _nothing, "link"), None))
        card.body.addStretch(1)
        return card

    @staticmethod
    def _taps() -> Card:
        card = Card("Taps")
        plain, now, off = Tap("Lid"), Tap("Feel", primary=True), Tap("Wrap")
        plain.say_below("2 min ago")
        now.say_below("probe, then 1–7")
        off.setEnabled(False)
        card.body.addLayout(row(plain, now, off))
        card.body.addStretch(1)
        return card

    def _fields(self) -> Card:
        card = Card("Fields")
        weight = QuantityField("Weight", Dimension.MASS, self.desk.system, _kept)
        weight.set_value(1474.0)
        wrong = QuantityField("Set point", Dimension.TEMPERATURE, self.desk.system, _kept)
        wrong.line.setText("hot")
        wrong.say("“hot” is not a temperature. Try 225 °F or 107 °C.")
        when = TimeField("When", "UTC", self.desk.now, _kept)
        when.set_value(datetime(2026, 11, 14, 13, 40, tzinfo=UTC))
        card.body.addLayout(row(weight, wrong))
        card.body.addLayout(row(when, TextField("Cut", _kept, used=("brisket", "back ribs"))))
        card.body.addWidget(
            ChoiceBox("Kind of cook", ((1, "practice"), (2, "contest")), _kept_choice)
        )
        card.body.addWidget(WordsField("Notes", _kept))
        return card

    @staticmethod
    def _arms() -> Card:
        card = Card("Arms: one colour and one shape each")
        for look, name in enumerate(NAMES):
            card.body.addLayout(row(Mark(look, name), words(name), None))
        return card

    @staticmethod
    def _chips() -> Card:
        card = Card("Chips")
        choice = Choice("which arm")
        choice.offer((name, name, look) for look, name in enumerate(NAMES[:4]))
        choice.choose("Arm 1")
        card.body.addWidget(choice)
        plain = Choice("which view")
        plain.offer((name, name, -1) for name in ("chart", "log", "photos"))
        plain.choose("chart")
        card.body.addWidget(plain)
        card.body.addLayout(row(Chip("cut is ribs", cross=True), Chip("+ filter"), None))
        card.body.addStretch(1)
        return card

    @staticmethod
    def _values() -> Card:
        card = Card("Values and notes")
        card.body.addWidget(ValueCard("Chance of serving in time", "92 %", "from 11 cooks"))
        card.body.addWidget(
            NoteCard("The injected cooks also ran hotter.", "Show it held", _nothing)
        )
        return card

    @staticmethod
    def _table() -> Card:
        card = Card("Table")
        table = FactTable("an example")
        table.show_rows(
            [("Left alone", 0), ("Injected", 1)],
            [
                ("pickup", ("–", "9.4 %")),
                ("yield", ("74.0 %", "78.0 %")),
                ("rested", ("not recorded", "8 min")),
            ],
        )
        card.body.addWidget(table)
        card.body.addStretch(1)
        return card

    @staticmethod
    def _sorted() -> Card:
        card = Card("Table to sort")
        table = SortTable("cooks to sort")
        heads = (Heading("cook"), Heading("yield", number=True))
        rows = (
            (Cell("Foil", "Foil"), Cell("74.0 %", 74.0)),
            (Cell("Paper", "Paper"), Cell("71.5 %", 71.5)),
        )
        table.show_rows(heads, rows)
        card.body.addWidget(table)
        card.body.addStretch(1)
        return card

    @staticmethod
    def _day() -> Card:
        card = Card("The day as a ribbon")
        strip = RibbonStrip()
        strip.show_ribbon(_invented_day(), "UTC")
        card.body.addWidget(strip)
        card.body.addStretch(1)
        return card

    def _messages(self) -> Card:
        card = Card("Messages")
        saved = MessageBar(self.desk.bridge, parent=card)
        refused = MessageBar(self.desk.bridge, parent=card)
        saved.say_saved("Lid, all six, 13:40")
        refused.say_refused("The disk is full: try again.")
        progress = QProgressBar()
        progress.setAccessibleName("progress")
        progress.setTextVisible(False)
        progress.setValue(40)
        for part in (saved, refused, progress):
            card.body.addWidget(part)
        card.body.addStretch(1)
        return card

    @staticmethod
    def _chart() -> Card:
        card = Card("Chart")
        chart = PointsChart()
        arms = [
            ArmPoints(
                name,
                look,
                tuple((f"{n}", f"pack {n}", 5.5 + look / 3 + n / 4) for n in range(3)),
                6 + look / 3,
            )
            for look, name in enumerate(NAMES)
        ]
        chart.show_arms(arms, "points")
        card.body.addWidget(chart)
        return card


def _nothing() -> None:
    """Do nothing: these buttons are for looking."""


def _kept(_value: object, _typed: str) -> str:
    return ""


def _kept_choice(_value: object) -> str:
    return ""


def _invented_day() -> Ribbon:
    """Return a day that never was: lit, on, wrapped, off as planned."""
    courses = (
        (
            Stretch(Part.LIT, 25_800.0, 28_800.0),
            Stretch(Part.ON, 28_800.0, 34_800.0),
            Stretch(Part.WRAPPED, 34_800.0, 38_000.0, open=True, word="foil"),
            Stretch(Part.WRAPPED, 38_000.0, 40_800.0, planned=True, word="foil"),
            Stretch(Part.REST, 40_800.0, 42_000.0, planned=True),
        ),
    )
    words = (("lit", 25_800.0), ("on", 28_800.0), ("wrap in foil", 34_800.0), ("off", 40_800.0))
    marks = tuple(
        Happened(word.split()[0], word, at, None, at > 38_000.0, at) for word, at in words
    )
    return Ribbon((Lane("", None, ("one",), courses),), marks, now=38_000.0)
