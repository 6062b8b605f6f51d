"""What narrows the list of cooks: the filters of Trends, as chips; and pinned questions."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.trends.question import Where, joined
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.journal.commands.questions import in_order
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.look.parts.chips import Chip, Flow
from pitjournal.ui.look.parts.overlay import open_alone
from pitjournal.ui.look.parts.words import clear


class Narrowing(QWidget):
    """Filters as chips, shared with Trends.

    Signals
    -------
    changed()
        Other filters hold.
    """

    changed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.where: tuple[Where, ...] = ()
        self._offers: tuple[tuple[Where, str, int], ...] = ()
        self._flow = Flow()
        self.setLayout(self._flow)
        self._show()

    def offer(self, offers: Sequence[tuple[Where, str, int]]) -> None:
        """Offer what the journal has most of: a filter, its word, and how many pass it too."""
        if tuple(offers) != self._offers:
            self._offers = tuple(offers)
            self._show()

    def _show(self) -> None:
        clear(self._flow)
        for place, where in enumerate(self.where):
            self._chip(self._words(where), self._less(place), cross=True)
        for where, word, count in self._offers:
            if where not in self.where and count:
                self._chip(f"{word} {count}", self._adder(where))
        self._chip("+ filter", self.add)
        if self.where:
            self._chip(
                "ask about these",
                lambda: self._desk.go_to(Destination(place="trends", where=self.where)),
            )
        self.updateGeometry()

    def _words(self, where: Where) -> str:
        from pitjournal.analysis.trends.language.written import write_filter  # noqa: PLC0415 - numpy

        return write_filter(where, self._desk.catalogue, self._desk.system)

    def _chip(self, text: str, run: Callable[[], None], *, cross: bool = False) -> None:
        chip = Chip(text, cross=cross)
        chip.clicked.connect(lambda *_: run())
        self._flow.addWidget(chip)

    def _less(self, place: int) -> Callable[[], None]:
        kept = tuple(w for n, w in enumerate(self.where) if n != place)
        return lambda: self.take(kept)

    def _adder(self, where: Where) -> Callable[[], None]:
        return lambda: self.take(joined(self.where, (where,)))

    def take(self, where: tuple[Where, ...]) -> None:
        """Take over filters."""
        self.where = where
        self._show()
        self.changed.emit()

    def add(self) -> None:
        """Choose another filter."""
        from pitjournal.ui.trends.filter_panel import FilterPanel  # noqa: PLC0415 - numpy

        def keep(more: tuple[Where, ...]) -> None:
            self.take(joined(self.where, more))

        open_alone(FilterPanel(self.window(), self._desk, keep))


class Pinned(QWidget):
    """Saved questions that are pinned to the start page: one tap asks."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._flow = Flow()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(self._flow)
        self.hide()

    def refresh(self) -> None:
        """Show what is pinned."""
        clear(self._flow)
        pinned = [q for q in in_order(self._desk.journal.find(SavedQuestion)) if q.pinned]
        for question in pinned:
            chip = Chip(question.name, strong=True)
            chip.clicked.connect(self._asker(question.id))
            self._flow.addWidget(chip)
        self.setVisible(bool(pinned))

    def _asker(self, question_id: str) -> Callable[..., None]:
        def ask(*_: object) -> None:
            self._desk.go_to(Destination(place="trends", question_id=question_id))

        return ask
