"""The card of the same comparison in several cooks: each of them, and what they come to."""

from collections.abc import Callable

from pitjournal.ui.charts.difference_chart import DifferenceChart
from pitjournal.ui.findings import model
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.look.theme import sized

OWN, EVERY = "own", "every"


class AcrossCard(Card):
    """The cooks joined, oldest first; which cuts are joined is the cook's choice.

    Parameters
    ----------
    choose
        Hears whether other cuts are to be joined too.
    """

    def __init__(self, choose: Callable[[bool], None]) -> None:
        self.every = button("", self._draw_every, "link")
        super().__init__("The same comparison in several cooks", side=self.every)
        self._choose = choose
        self._every = False
        self._shown: model.Shown | None = None
        self.cuts = Choice("cuts that are joined")
        self.cuts.chosen.connect(self._chosen)
        self.body.addWidget(self.cuts)
        self.chart = DifferenceChart()
        self.body.addWidget(self.chart)
        self.note = words("", "quiet")
        self.body.addWidget(self.note)
        self.body.addStretch(1)

    def show_across(self, shown: model.Shown) -> None:
        """Show what cooks say together; the newest of them, until all are asked for."""
        self._shown, self._every = shown, False
        self._draw()

    def _draw(self) -> None:
        shown = self._shown
        if shown is None:
            return
        rows = model.across_rows(shown, every=self._every)
        self.setVisible(bool(rows or shown.found.other_cuts))
        self._offer(shown)
        self.chart.setVisible(bool(rows))
        self.chart.show_rows(rows, model.caption(shown))
        sized(self.chart, lines=1, least_height=tokens.FOREST_ROW * len(rows) + tokens.BAND_HEIGHT)
        note = model.across_note(shown)
        self.note.setText(note)
        self.note.setVisible(bool(note))
        hidden = model.not_drawn(shown)
        self.every.setVisible(hidden > 0)
        text = "Draw only the newest" if self._every else f"Draw {hidden} older ones too"
        self.every.setText(text)

    def _offer(self, shown: model.Shown) -> None:
        """Offer to join other cuts where some made the same comparison."""
        self.cuts.setVisible(bool(shown.found.other_cuts))
        if shown.found.other_cuts:
            own, other = model.cuts_offered(shown)
            self.cuts.offer(((OWN, own, -1), (EVERY, other, -1)))
            self.cuts.choose(EVERY if shown.found.every_cut else OWN)

    def _chosen(self, name: object) -> None:
        self._choose(str(name) == EVERY)

    def _draw_every(self) -> None:
        self._every = not self._every
        self._draw()
