"""The judges' cards of a category, entered as they are read out: by keys, in one sitting."""

from collections.abc import Callable
from statistics import stdev

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from pitjournal.analysis.tasting.totals import weighted_card
from pitjournal.domain.contest import TurnIn
from pitjournal.domain.scheme import Rules
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.scroll import show_within_area
from pitjournal.ui.look.parts.words import clear, words
from pitjournal.ui.tasting.sheet import ScoreField
from pitjournal.units.figures import figure

Keep = Callable[[int, str, float | None], str]
"""Keeps what the judge in a seat gave on a criterion; returns why not, or an empty text."""

USUAL_SEATS = 6
DIGITS = 4
"""Decimals of a weighted card: as many as the weights have."""


class CardsGrid(QWidget):
    """A line a judge: each digit goes on to the next field, past the last to what comes then.

    Signals
    -------
    finished()
        The last score of the last card was given.
    said(str)
        What is wrong with a score, or nothing.
    """

    finished = Signal()
    said = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(tokens.S)
        self._laid: object = None
        self._category = ""
        self.fields: list[ScoreField] = []
        self._sums: list[QLabel] = []

    def show_cards(self, turn_in: TurnIn, keep: Keep) -> None:
        """Show the cards of a category, and save into them from now on."""
        rules = turn_in.category.asked
        seats = rules.judges or USUAL_SEATS
        laid = rules.criteria, seats
        if laid != self._laid:
            self._laid = laid
            self._build(rules, seats)
        if turn_in.category.id != self._category:
            self._category = turn_in.category.id
            places = [(seat, name) for seat in range(1, seats + 1) for name in rules.names]
            for field, (seat, name) in zip(self.fields, places, strict=True):
                field.stand_for(f"judge {seat}", _keeper(keep, seat, name))
        given = {card.seat: card.scores for card in turn_in.cards}
        for place, field in enumerate(self.fields):
            seat = place // max(1, len(rules.criteria)) + 1
            field.show_score(given.get(seat, {}).get(field.criterion.name))
        self._show_sums(rules, [weighted_card(rules, given.get(n + 1, {})) for n in range(seats)])

    def _show_sums(self, rules: Rules, sums: list[float | None]) -> None:
        whole = sorted(one for one in sums if one is not None)
        out = whole[: rules.drop] if len(whole) == rules.judges else []
        for label, value in zip(self._sums, sums, strict=True):
            text = "" if value is None else figure(value, DIGITS)
            if value is not None and value in out:
                out.remove(value)
                text += "  left out"
            label.setText(text)

    def _build(self, rules: Rules, seats: int) -> None:
        clear(self._grid)
        self.fields, self._sums = [], []
        middle = Qt.AlignmentFlag.AlignHCenter
        for place, criterion in enumerate(rules.criteria, 1):
            head = words(criterion.name, "heading", wrap=False)
            self._grid.addWidget(head, 0, place, middle)
        self._grid.addWidget(words("card", "heading", wrap=False), 0, len(rules.criteria) + 1)
        for seat in range(1, seats + 1):
            self._grid.addWidget(words(f"Judge {seat}", "strong", wrap=False), seat, 0)
            for across, criterion in enumerate(rules.criteria, 1):
                self._grid.addWidget(
                    self._field(criterion.name, rules, len(self.fields)), seat, across, middle
                )
            total = words("", "quiet", wrap=False, tabular=True)
            self._sums.append(total)
            self._grid.addWidget(total, seat, len(rules.criteria) + 1)
        self._grid.setColumnStretch(len(rules.criteria) + 2, 1)

    def _field(self, name: str, rules: Rules, place: int) -> ScoreField:
        criterion = rules.criterion(name)
        assert criterion is not None
        field, across = ScoreField("", criterion, 1), len(rules.criteria)
        field.ended.connect(self._goer(place + 1, by_itself=True))
        field.going.connect(self._goer(place + 1))
        field.row_ended.connect(self._goer((place // across + 1) * across))
        field.rows.connect(lambda by: self.go_to(place + by * across))
        field.said.connect(self.said)
        self.fields.append(field)
        return field

    def _goer(self, place: int, *, by_itself: bool = False) -> Callable[[], None]:
        def go() -> None:
            if place >= len(self.fields):
                self.finished.emit()
            else:
                self.fields[place].arrive(by_itself=by_itself)

        return go

    def go_to(self, place: int) -> None:
        """Go to a field of the sheet, if there is one."""
        if 0 <= place < len(self.fields):
            self.fields[place].arrive(by_itself=False)

    def begin(self) -> None:
        """Be ready for the first score that is missing."""
        blank = next((place for place, field in enumerate(self.fields) if not field.text()), 0)
        self.go_to(blank)
        if self.fields:
            show_within_area(self.fields[blank])


def spread_words(cards: tuple[float, ...]) -> str:
    """Return how far the judges' cards lie apart, or nothing."""
    if len(cards) < 2:
        return ""
    return (
        f"cards {figure(cards[0], 1)} to {figure(cards[-1], 1)}, spread {figure(stdev(cards), 1)}"
    )


def _keeper(keep: Keep, seat: int, criterion: str) -> Callable[[float | None], str]:
    return lambda value: keep(seat, criterion, value)
