"""The card of a new cook that asks what meat, how many pieces, which cooker, and when."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.layout import Blocks
from pitjournal.domain.plausible import PIT
from pitjournal.domain.times.typed_times import Looking
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import PitField, Save, TextField
from pitjournal.ui.look.parts.time_fields import TimeField
from pitjournal.ui.look.parts.words import row, words
from pitjournal.ui.plan.cut_field import CutField
from pitjournal.units import Dimension

COUNTS = (1, 2, 3, 4, 5, 6, 8, 12)


class MeatCard(Card):
    """Fields for the meat and the cooker; each hears its own `Save`."""

    def __init__(self, desk: Desk, zone: str, noted: Save, heated: Save, timed: Save) -> None:
        super().__init__("Meat, cooker and day")
        self.cut = CutField(noted, desk.system)
        self.body.addWidget(self.cut)
        self.counting = QWidget()
        inside = QVBoxLayout(self.counting)
        inside.setContentsMargins(0, 0, 0, 0)
        self.count = Choice("pieces")
        self.count.offer((n, str(n), -1) for n in COUNTS)
        self.count_words = words("Pieces of each arm", "heading")
        self.within_words = words("A piece of each arm comes from", "heading")
        self.within = Choice("what holds a piece of each arm")
        self.within.offer((blocks, str(blocks), -1) for blocks in Blocks)
        for widget in (self.count_words, self.count, self.within_words, self.within):
            inside.addWidget(widget)
        self.body.addWidget(self.counting)
        self.cooker = TextField("Cooker", noted, hint="the drum")
        self.set_point = PitField(
            "Set point", Dimension.TEMPERATURE, desk.system, heated, within=PIT
        )
        self.when = TimeField(
            "Meat on at about", zone, desk.now, timed, hint="tomorrow 8:30", looking=Looking.AHEAD
        )
        self.body.addLayout(row(self.cooker, self.set_point, self.when, space=tokens.M))
