"""Work out what changed while nobody asks for anything, and put it into the journal's own file."""

from PySide6.QtCore import QObject, QTimer

from pitjournal.journal import Changes
from pitjournal.journal.jobs import Job, Progress
from pitjournal.ui.bridge import Bridge

LABEL = "Work out what changed"
REST = 2500
"""Milliseconds after the last change before the work begins."""

AGAIN = 60_000
"""Milliseconds until it is tried again where the disk refused."""

BETWEEN = 100
"""Milliseconds between two helpings, so that other work has its turn."""

HELPING = 32
"""So many cooks are worked out at a time."""


class Upkeep(QObject):
    """Keeps the worked-out values of a journal up with its records.

    So a question finds them ready: after an edit, and after an import or the first opening of
    an older journal, when all cooks are behind. It says nothing and waits for other jobs.
    """

    def __init__(self, bridge: Bridge, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bridge = bridge
        self._job: Job[bool] | None = None
        self._rest = QTimer(self, singleShot=True)
        self._rest.timeout.connect(self._work)
        bridge.changed.connect(self._hear)
        if not bridge.journal.read_only:
            self._rest.start(REST)

    def _hear(self, _changes: Changes) -> None:
        self._rest.start(REST)

    def _work(self) -> None:
        if self._job is not None and not self._job.future.done():
            self._rest.start(REST)
            return
        journal = self._bridge.journal

        def work(_progress: Progress) -> bool:
            more = journal.worked_out.help_on(HELPING)
            if not more:
                journal.database.settle()
            return more

        def done(more: bool) -> None:
            if more:
                self._rest.start(BETWEEN)

        def failed(why: str) -> None:
            self._bridge.tell_once(LABEL, why)
            self._rest.start(AGAIN)

        self._job = self._bridge.run(LABEL, work, done, failed, asker=self, quiet=True)

    def close(self) -> None:
        """Begin nothing more."""
        self._rest.stop()
