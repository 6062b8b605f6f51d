"""A new cook like an older one: which, what comes along, and what changes."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.plan.again import LEFT_BEHIND, again
from pitjournal.analysis.plan.layout import drawn_again
from pitjournal.domain.cook import Cook
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal import Journal
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.fields import TextField
from pitjournal.ui.look.parts.words import words


class OlderPanel(QWidget):
    """Names an older cook, and says what of it comes along.

    Parameters
    ----------
    journal
        The open journal.
    taken
        Hears of the cook that was chosen.
    """

    def __init__(self, journal: Journal, taken: Callable[[WholeCook], object]) -> None:
        super().__init__()
        self._journal, self._taken = journal, taken
        self.cook: WholeCook | None = None
        inside = QVBoxLayout(self)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(tokens.S)
        self.like = TextField("Like which cook?", self._choose, hint="its number or title")
        self.comes_along = words("", "quiet")
        inside.addWidget(self.like)
        inside.addWidget(self.comes_along)

    def clear(self) -> None:
        """Forget the cook."""
        self.cook = None
        self.like.set_value(None)

    def offer(self) -> None:
        """Offer the newest cooks by number and title."""
        self.like.offer(f"{line.number}: {line.title}" for line in self._journal.cooks.page())

    def _choose(self, value: object, _typed: str) -> str:
        text = str(value or "").strip()
        if not text:
            return ""
        try:
            cook_id = self._journal.cooks.find(text.split(":")[0])
        except JournalError as error:
            return str(error)
        self.take(cook_id)
        return ""

    def take(self, cook_id: str) -> None:
        """Take a cook by its id."""
        self.cook = self._journal.whole(cook_id)
        self.like.set_value(f"{self.cook.cook.number}: {self.cook.cook.title}")
        self._taken(self.cook)

    def say(self, changes: list[str], clock: str = "") -> None:
        """Say what changes, what stays behind, and by which clock it is planned."""
        if self.cook is None:
            self.comes_along.setText("Name an older cook: its plan comes along.")
            return
        lines = ["Changes: " + ("; ".join(changes) or "nothing but the day") + "."]
        lines += [clock] if clock else []
        self.comes_along.setText("\n".join([*lines, *(f"Stays behind: {w}." for w in LEFT_BEHIND)]))

    def drawn(self, seed: int) -> WholeCook | None:
        """Return the cook with its places drawn anew, where it compares."""
        whole = self.cook
        if whole is None or len(whole.arms) < 2:
            return whole
        drawn: dict[str, dict[str, Any]] = dict(drawn_again(whole, seed))
        pieces = tuple(replace(piece, **drawn[piece.id]) for piece in whole.pieces)
        return replace(whole, pieces=pieces)

    def again(
        self, seed: int, starts_at: datetime, cut: str
    ) -> tuple[Cook, tuple[Record, ...]] | None:
        """Return the new cook and its parts; another cut only where the old one had one."""
        older = self.drawn(seed)
        if older is None:
            return None
        cook, parts = again(older, starts_at)
        one_cut = len({piece.cut for piece in older.pieces}) == 1
        return cook, tuple(
            replace(part, cut=cut) if isinstance(part, Piece) and one_cut else part
            for part in parts
        )
