"""Work out what changed while nobody asks for anything, a few cooks at a time."""

from PySide6.QtCore import QObject, QTimer

from pitjournal.journal import Changes
from pitjournal.journal.jobs import Job, Progress
from pitjournal.ui.bridge import Bridge

REST = 2500
"""Milliseconds after the last change before the work begins."""

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

    def _hear(self, changes: Changes) -> None:
        if changes.cooks or "shelf_item" in changes.kinds:
            self._rest.start(REST)

    def _work(self) -> None:
        if self._job is not None and not self._job.future.done():
            self._rest.start(REST)
            return
        values = self._bridge.journal.worked_out

        def work(_progress: Progress) -> bool:
            return values.help_on(HELPING)

        def done(more: bool) -> None:
            if more:
                self._rest.start(BETWEEN)

        self._job = self._bridge.run("Work out what changed", work, done, asker=self, quiet=True)

    def close(self) -> None:
        """Begin nothing more."""
        self._rest.stop()
