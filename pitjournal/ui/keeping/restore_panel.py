"""The panel that restores a backup of the open journal."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pitjournal.journal.jobs import Progress
from pitjournal.ui.desk import Desk
from pitjournal.ui.keeping.backups_list import BackupsList
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import words


class RestorePanel(Overlay):
    """Choose a backup, see what differs, restore it: the journal then opens again."""

    def __init__(self, desk: Desk, over: QWidget) -> None:
        super().__init__(over, "Restore a backup", 680)
        self._desk = desk
        text = (
            "Backups are made by themselves: when you close the window after a change, at most "
            "hourly while things change, and before anything large."
        )
        self.body.addWidget(words(text))
        self.list = BackupsList(desk.journal.folder, self._run)
        self.list.wanted.connect(self._go_back)
        self.body.addWidget(self.list)

    def _run(
        self,
        work: Callable[[], object],
        done: Callable[[object], None],
        failed: Callable[[str], None],
    ) -> None:
        def job(_progress: Progress) -> object:
            return work()

        self._desk.bridge.run("Look into a backup", job, done, failed, asker=self)

    def _go_back(self, source: str) -> None:
        self.close_panel()
        self._desk.restoring.emit(source)
