"""Into which contests what a cook found was carried, and what came of it there."""

from collections.abc import Callable

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.contests.results import result_of
from pitjournal.analysis.contests.words import place_words, total_words
from pitjournal.domain.contest import Carried, TurnIn
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import Elided, clear, row, words


class CarriedLine(QWidget):
    """A line a category; out of sight where nothing was carried anywhere."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(0)
        self.hide()

    def show_cook(self, whole: WholeCook) -> None:
        """Show where what a cook found went."""
        found = self._desk.journal.contests.carried_from(whole.cook.id)
        clear(self._lines)
        self.setVisible(bool(found))
        for carried, turn_in in found:
            name = f"{turn_in.contest.name}, {turn_in.category.name}"
            link = button(name, self._goer(turn_in), "link")
            line = row(
                words("Carried into", "quiet", wrap=False), link, Elided(_said(carried, turn_in))
            )
            line.setStretch(2, 1)
            self._lines.addLayout(line)

    def _goer(self, turn_in: TurnIn) -> Callable[[], None]:
        there = Destination(
            place="contest", contest_id=turn_in.contest.id, page=turn_in.category.id
        )
        return lambda: self._desk.go_to(there)


def _said(carried: Carried, turn_in: TurnIn) -> str:
    result = result_of(turn_in)
    parts = (carried.what, total_words(result.total), place_words(result.place, result.field))
    return " · ".join(part for part in parts if part)
