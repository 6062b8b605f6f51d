"""On a cook's plan: where its meat is turned in, when, and what the box has to hold."""

from collections.abc import Callable

from PySide6.QtWidgets import QGridLayout, QWidget

from pitjournal.analysis.contests.results import result_of
from pitjournal.analysis.contests.words import place_words
from pitjournal.domain.contest import TurnIn
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.contest_words import box_words, handed_words, window_words
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import clear, column, row, words

ACROSS = 2
"""So many categories stand side by side."""


class TurnIns(Card):
    """Each category with its window and its box; out of sight where the cook is for no contest."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Turned in")
        self._desk = desk
        self._shown: object = None
        holder = QWidget()
        self._lines = QGridLayout(holder)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setVerticalSpacing(tokens.S)
        self._lines.setHorizontalSpacing(tokens.L)
        for across in range(ACROSS):
            self._lines.setColumnStretch(across, 1)
        self.body.addWidget(holder)
        self.hide()

    def show_cook(self, whole: WholeCook) -> None:
        """Show where a cook's meat is turned in."""
        self.setVisible(bool(whole.turn_ins))
        shown = whole.turn_ins, whole.happened(StepKind.TURN_IN), whole.pieces
        if shown == self._shown:
            return
        self._shown = shown
        clear(self._lines)
        for place, turn_in in enumerate(whole.turn_ins):
            name = f"{turn_in.contest.name}, {turn_in.category.name}"
            link = button(name, self._goer(turn_in), "link")
            told = [words(text, "quiet") for text in (_said(whole, turn_in), *box_words(turn_in))]
            lines = column(row(link, None), *told, None, space=2)
            self._lines.addLayout(lines, *divmod(place, ACROSS))

    def _goer(self, turn_in: TurnIn) -> Callable[[], None]:
        there = Destination(
            place="contest", contest_id=turn_in.contest.id, page=turn_in.category.id
        )
        return lambda: self._desk.go_to(there)


def _said(whole: WholeCook, turn_in: TurnIn) -> str:
    result = result_of(turn_in)
    parts = (
        window_words(turn_in),
        handed_words(whole, turn_in),
        place_words(result.place, result.field),
    )
    return " · ".join(part for part in parts if part)
