"""What was logged, newest first: each can be corrected, or taken away."""

from collections.abc import Callable, Container, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from pitjournal.domain.event import Event
from pitjournal.domain.log_checks import Oddity
from pitjournal.domain.record import Record
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.event_words import event_words, named_pieces
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import row, rule, words
from pitjournal.ui.look.theme import px
from pitjournal.units import Dimension, UnitSystem, show

BESIDE = 620
"""For which pieces stands beside what happened in so much room, px."""


@dataclass(frozen=True)
class Entry:
    """One line of the log."""

    record: Record
    at: datetime | None
    text: str
    pieces: str
    odd: Oddity | None = None


def entries(whole: WholeCook, system: UnitSystem, found: Sequence[Oddity]) -> list[Entry]:
    """Return all that was logged, newest first, with what was found odd about it.

    What was only planned is not there, unless something is odd about that.
    """
    odd = {one.record.id: one for one in found}
    plain = _plain(whole, system, odd)
    return [
        replace(entry, odd=odd[entry.record.id]) if entry.record.id in odd else entry
        for entry in plain
    ]


def _plain(whole: WholeCook, system: UnitSystem, odd: Container[str]) -> list[Entry]:
    labels = {piece.id: piece.label for piece in whole.pieces}
    found = [
        Entry(
            e,
            e.happened_at or e.planned_at,
            event_words(e) + _about(e),
            named_pieces(whole, e.pieces),
        )
        for e in whole.events
        if e.happened_at is not None or e.id in odd
    ]
    for check in whole.checks:
        parts = []
        if check.internal is not None:
            parts.append(show(check.internal, Dimension.TEMPERATURE, system))
        if check.feel is not None:
            parts.append(f"feel {check.feel}")
        text = "Probe: " + ", ".join(parts) + (f" at {check.point}" if check.point else "")
        found.append(Entry(check, check.at, text, labels.get(check.piece_id, "")))
    found += [
        Entry(note, note.at, note.text, labels.get(note.piece_id or "", "")) for note in whole.notes
    ]
    for load in whole.fuel_loads:
        if load.at is not None:
            mass = show(load.mass, Dimension.MASS, system)
            found.append(Entry(load, load.at, f"Fuel {load.stage}: {mass} {load.fuel}", ""))
    for wood in whole.wood_additions:
        if wood.at is not None:
            mass = "" if wood.mass is None else show(wood.mass, Dimension.MASS, system)
            text = " ".join(part for part in (mass, wood.wood, wood.form) if part)
            found.append(Entry(wood, wood.at, f"Wood: {text}", ""))
    return sorted(found, key=lambda entry: (entry.at is not None, entry.at), reverse=True)


def _about(event: Event) -> str:
    said = f": {event.note}" if event.note else ""
    if event.happened_at is None:
        return f"{said} (planned)"
    if event.uncertainty is None:
        return f"{said} (about then)"
    minutes = round(event.uncertainty / 60)
    return f"{said} (± {minutes} min)" if minutes else said


class NoteLine(QWidget):
    """What is odd about an entry, and the tap that mends it."""

    def __init__(self, mend: Callable[[], object]) -> None:
        super().__init__()
        layout = QHBoxLayout(self)
        layout.setContentsMargins(tokens.MOMENT_WIDTH + tokens.S, 0, 0, tokens.S)
        self.words = words("", "error")
        self.button = button("", mend, "glove")
        layout.addWidget(self.words, 1)
        layout.addWidget(self.button)

    def show_odd(self, odd: Oddity | None) -> None:
        """Show what is odd, or nothing."""
        self.setVisible(odd is not None)
        if odd is not None:
            self.words.setText(odd.words)
            self.button.setText(odd.button)
            self.button.tell_about(f"({odd.words})")


class LogRow(QWidget):
    """One entry."""

    def __init__(
        self,
        correct: Callable[[Record], None],
        remove: Callable[[Record], None],
        mend: Callable[[Oddity], None],
    ) -> None:
        super().__init__()
        self._record: Record | None = None
        self._entry: Entry | None = None
        self._odd: Oddity | None = None
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        self.time = words("", "quiet", wrap=False, tabular=True)
        self.text = words()
        self.pieces = words("", "quiet")
        self.correct = button("Correct", lambda: self._run(correct), "link")
        self.away = button("×", lambda: self._run(remove), "link")
        line = row(self.time, self.text, self.pieces, self.correct, self.away, space=tokens.S)
        line.setStretch(1, 3)
        line.setStretch(2, 2)
        layout.addLayout(line)
        self.odd = NoteLine(lambda: mend(self._odd) if self._odd is not None else None)
        layout.addWidget(self.odd)
        layout.addWidget(rule())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say for which pieces beside what happened, or after it where there is no room."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        entry = self._entry
        if entry is None:
            return
        roomy = self.width() >= px(BESIDE)
        self.pieces.setVisible(roomy)
        wide = px(tokens.MOMENT_WIDTH) if roomy else self.time.sizeHint().width()
        self.time.setFixedWidth(wide)
        also = "" if roomy or not entry.pieces else f" · {entry.pieces}"
        self.text.setText(f"{entry.text}{also}")

    def _run(self, what: Callable[[Record], None]) -> None:
        if self._record is not None:
            what(self._record)

    def show_entry(self, entry: Entry, zone: str, now: datetime) -> None:
        """Show an entry."""
        self._record, self._odd = entry.record, entry.odd
        self.odd.show_odd(entry.odd)
        self.time.setText(show_moment(entry.at, zone, now))
        self._entry = entry
        self._fit()
        self.text.setAccessibleName(entry.text)
        self.pieces.setText(entry.pieces)
        about = ", ".join(part for part in (entry.text, entry.pieces, self.time.text()) if part)
        self.correct.tell_about(about)
        self.away.tell_about(about)


class LogList(QWidget):
    """All entries; rows are made when needed and kept."""

    MOST = 200

    def __init__(
        self,
        correct: Callable[[Record], None],
        remove: Callable[[Record], None],
        mend: Callable[[Oddity], None],
    ) -> None:
        super().__init__()
        self._correct, self._remove, self._mend = correct, remove, mend
        self._rows: list[LogRow] = []
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, tokens.S, 0)
        self._layout.setSpacing(2)
        self.empty = words("Nothing is logged yet. One tap below is one saved event.")
        self._layout.addWidget(self.empty)
        self._layout.addStretch(1)

    def show_entries(self, found: Sequence[Entry], zone: str, now: datetime) -> None:
        """Show entries."""
        shown = found[: self.MOST]
        while len(self._rows) < len(shown):
            made = LogRow(self._correct, self._remove, self._mend)
            self._layout.insertWidget(self._layout.count() - 1, made)
            self._rows.append(made)
        for place, line in enumerate(self._rows):
            line.setVisible(place < len(shown))
            if place < len(shown):
                line.show_entry(shown[place], zone, now)
        self.empty.setVisible(not shown)
