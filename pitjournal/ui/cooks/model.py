"""What the list of cooks shows: lines, fetched a page at a time as the cook scrolls."""

from collections.abc import Mapping
from datetime import datetime, timedelta

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, Qt

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.times.moments import hours_words, show_date, show_time
from pitjournal.journal import Journal
from pitjournal.journal.queries.headlines import Showed
from pitjournal.store.cook_list import CookLine

FIRST, PAGE = 40, 100
"""So many lines are fetched at once: what a tall window shows, then more as the cook scrolls."""

LINE = Qt.ItemDataRole.UserRole
Index = QModelIndex | QPersistentModelIndex


class CookList(QAbstractListModel):
    """The lines of the cooks that match some words, newest first."""

    def __init__(self, journal: Journal, showed: Mapping[str, Showed] | None = None) -> None:
        super().__init__()
        self._showed = {} if showed is None else showed
        self._journal = journal
        self._lines: list[CookLine] = []
        self._words = ""
        self._only: list[str] | None = None
        self.total = 0
        self._looked = self._rows = 0

    def look(self, words: str, only: list[str] | None = None) -> None:
        """Fetch the first page anew; `only` limits the list to these cooks, newest first."""
        self.beginResetModel()
        self._words, self._only = words, only
        if only is None:
            self.total = self._journal.cooks.count(words)
            self._lines = self._journal.cooks.page(words, 0, FIRST)
        else:
            having = self._journal.cooks.having(words)
            self._only = [one for one in only if having is None or one in having]
            self.total = len(self._only)
            self._lines = self._journal.cooks.lines(self._only[:FIRST])
        self._rows, self._looked = self.total, min(FIRST, self.total)
        self.total -= self._looked - len(self._lines)
        self.endResetModel()

    def rowCount(self, parent: Index | None = None) -> int:
        """Return how many lines are fetched."""
        return 0 if parent is not None and parent.isValid() else len(self._lines)

    def canFetchMore(self, parent: Index) -> bool:
        """Whether there are more."""
        return not parent.isValid() and self._looked < self._rows

    def fetchMore(self, parent: Index) -> None:
        """Fetch the next page."""
        if not self.canFetchMore(parent):
            return
        start = self._looked  # of the rows, not of the lines: one may be left out
        if self._only is None:
            more = self._journal.cooks.page(self._words, start, PAGE)
        else:
            more = self._journal.cooks.lines(self._only[start : start + PAGE])
        self._looked = min(start + PAGE, self._rows)
        self.total -= self._looked - start - len(more)
        if not more:
            return
        first = len(self._lines)
        self.beginInsertRows(QModelIndex(), first, first + len(more) - 1)
        self._lines.extend(more)
        self.endInsertRows()

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Return a line, or what is read aloud for it."""
        if not index.isValid() or not 0 <= index.row() < len(self._lines):
            return None
        line = self._lines[index.row()]
        if role == LINE:
            return line
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole}:
            known = self._showed.get(line.id)
            verdict = "" if known is None or not known.words else f", {known.words}"
            return f"{show_date(line.starts_at, line.zone)}, {line.title}, {meat(line)}{verdict}"
        return None

    def place_of(self, cook_id: str) -> int:
        """Return the row of a cook, or −1."""
        return next((place for place, line in enumerate(self._lines) if line.id == cook_id), -1)


def meat(line: CookLine) -> str:
    """Return what is cooked: "back ribs · 9 pieces"."""
    if not line.pieces:
        return "no meat yet"
    count = "1 piece" if line.pieces == 1 else f"{line.pieces} pieces"
    cuts = ", ".join(line.cuts[:3])
    return f"{cuts} · {count}"


def life(line: CookLine, now: datetime, on: timedelta | None) -> str:
    """Return where a cook is in its life; `on` is how long its meat has been on."""
    if line.status is CookStatus.RUNNING:
        return "running" if on is None else f"running, {hours(on)}"
    if line.status is CookStatus.PLANNED:
        ahead = "planned" if line.starts_at > now else "planned, not begun"
        return f"{ahead}, {show_time(line.starts_at, line.zone)}"
    return "done"


def hours(span: timedelta) -> str:
    """Return a length of time, as "5 h 12 min"."""
    return hours_words(60 * (span.total_seconds() // 60))
