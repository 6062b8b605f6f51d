"""Back up by itself: at most hourly while things change, and at closing."""

import logging
from datetime import UTC, datetime

from PySide6.QtCore import QObject, QTimer

from pitjournal.errors import JournalError
from pitjournal.fault_words import fault_text
from pitjournal.journal.backups.keeping import AT_CLOSE
from pitjournal.journal.jobs import Progress
from pitjournal.store.faults import HELD, refusal
from pitjournal.ui.bridge import Bridge

log = logging.getLogger(__name__)

LOOK_EVERY = 300_000
"""Milliseconds between looks whether a backup is due."""

FIRST_LOOK = 60_000
"""Milliseconds after the opening before the first: an evening that was killed has none yet."""


class BackingUp(QObject):
    """Makes the backups of an open journal; says nothing while that works."""

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bridge, self._journal = bridge, bridge.journal
        self._said, self._missed = "", 0
        self._timer = QTimer(self, interval=LOOK_EVERY)
        self._timer.timeout.connect(self.look)
        self._first = QTimer(self, interval=FIRST_LOOK, singleShot=True)
        self._first.timeout.connect(self.look)
        if not self._journal.read_only:
            self._timer.start()
            self._first.start()
            if self._journal.backups.missed:
                QTimer.singleShot(0, self, self._tell_of_last_closing)

    def _tell_of_last_closing(self) -> None:
        """Say that the last closing made no backup: nobody was there any more to be told."""
        self._bridge.told.emit(
            "No backup could be made when the journal was closed last, the disk may be full. "
            "It is tried again in a minute."
        )

    def look(self) -> None:
        """Make a backup if one is due; say once why none can be made, and what is left out."""
        self._tell_missed()
        backups = self._journal.backups

        def work(_progress: Progress) -> bool:
            if not backups.missed and not backups.is_due(datetime.now(UTC)):
                return False
            backups.make("hour")
            return True

        self._bridge.run("Back up", work, self._done, self._failed, asker=self, quiet=True)

    def _tell_missed(self) -> None:
        missed = len(self._journal.database.missed)
        if missed > self._missed:
            self._missed = missed
            what = "1 record" if missed == 1 else f"{missed} records"
            self._bridge.told.emit(
                f"{what} cannot be read and so left out. pitjournal check names what, "
                "--repair mends it."
            )

    def _done(self, made: bool) -> None:
        if made:
            self._said = ""

    def _failed(self, why: str) -> None:
        if self._bridge.unsaved:
            return  # what waits to be saved is said already, and comes first
        if why != self._said:
            self._said = why
            reason = why.removeprefix("Not saved yet. ").replace(f" {HELD}", "")
            self._bridge.told.emit(
                f"This hour's backup could not be made. {reason} It is tried again by itself."
            )

    def stop(self) -> None:
        """Look no more."""
        self._timer.stop()
        self._first.stop()

    def at_close(self) -> None:
        """Back up what was changed; a failure is told at the next start, as the window is closing."""
        self.stop()
        if self._journal.read_only:
            return
        try:
            if self._journal.backups.changed_since():
                self._journal.backups.make("close", most_bytes=AT_CLOSE)
        except Exception as error:
            told = error if isinstance(error, JournalError) else refusal(error)
            if told is None:
                raise
            self._journal.backups.note_missed()
            log.warning("no backup at closing\n%s", fault_text(error))
