"""The panel for what is not saved yet: why, what waits, and a way to keep it elsewhere."""

from pathlib import Path

from PySide6.QtWidgets import QWidget

from pitjournal.errors import JournalError
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import Kind, open_folder
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words

SHOWN = 12


class UnsavedPanel(Overlay):
    """Shown when the window is to close while something waits to be saved."""

    def __init__(self, desk: Desk, over: QWidget) -> None:
        super().__init__(over, "Not saved yet", 640)
        self._desk, bridge = desk, desk.bridge
        self.body.addWidget(words(bridge.why.removeprefix("Not saved yet. "), "large"))
        self.body.addWidget(words("It is tried again every two seconds. What waits:"))
        held = bridge.held
        self.waiting = words("\n".join(f"· {label}" for label in held[:SHOWN]))
        self.body.addWidget(self.waiting)
        if len(held) > SHOWN:
            self.body.addWidget(words(f"and {len(held) - SHOWN} more", "quiet"))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.body.addLayout(
            row(
                button("Keep the journal elsewhere…", self._choose, "primary"),
                button("Close and lose these", self._lose, "danger"),
                None,
            )
        )
        self.listen(bridge.holding, self._hear)

    def _hear(self, count: int) -> None:
        if not count:
            self.close_panel()

    def _choose(self) -> None:
        name = open_folder(self, Kind.JOURNALS, "An empty folder for the journal")
        if name:
            self.keep_in(Path(name))

    def keep_in(self, folder: Path) -> None:
        """Write the open journal into a folder and go on there, with all that waits."""
        try:
            said = self._desk.journal.keep_elsewhere(folder)
        except JournalError as error:
            self.problem.say(str(error))
            return
        self.close_panel()
        self._desk.moving.emit(str(folder), said)

    def _lose(self) -> None:
        self._desk.bridge.let_held_go()
        self.close_panel()
        self._desk.leaving.emit()
