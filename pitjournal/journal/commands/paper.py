"""Keep what was typed in one go from paper: one step, on the cook's own day."""

from dataclasses import dataclass
from datetime import datetime

from pitjournal.domain.day.paper_log import PaperLine
from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.errors import JournalError
from pitjournal.journal.commands.bench import CheckDoneness, LogEvent
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class KeepPaper:
    """Log all lines of a list; planned steps are filled in, and the cook takes the day it began."""

    cook_id: str
    lines: tuple[PaperLine, ...]
    entered: datetime
    merge_key: str = ""

    @property
    def label(self) -> str:
        """How many."""
        return f"From paper: {'1 line' if len(self.lines) == 1 else f'{len(self.lines)} lines'}"

    def run(self, transaction: Transaction) -> None:
        """Log them in the order of time."""
        if not self.lines:
            raise JournalError("There is no line to keep.", "Such as: 10:40 wrap in foil, A1 A2")
        for line in self.lines:
            if line.kind:
                self._log(transaction, line)
            else:
                self._check(transaction, line)

    def _log(self, transaction: Transaction, line: PaperLine) -> None:
        event = Event(
            cook_id=self.cook_id,
            kind=line.kind,
            happened_at=line.at,
            entered_at=self.entered,
            pieces=line.pieces,
            details=dict(line.details or {}),
            note=line.text if line.doubts else "",
        )
        LogEvent(event, "").run(transaction)

    def _check(self, transaction: Transaction, line: PaperLine) -> None:
        for piece_id in line.pieces:
            check = DonenessCheck(
                cook_id=self.cook_id,
                piece_id=piece_id,
                at=line.at,
                internal=line.internal,
                feel=line.feel,
                note=line.text if line.doubts else "",
                typed={"internal": line.typed} if line.typed else {},
            )
            CheckDoneness(check).run(transaction)
