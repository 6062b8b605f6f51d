"""The panel for what is not saved yet: why, what waits, and a way to keep it elsewhere."""

from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QProgressBar, QWidget

from pitjournal.journal.jobs import Job, Progress
from pitjournal.store.faults import HELD
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import FileKind, open_folder
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.messages import show_fraction
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words

SHOWN = 12

LOOK_EVERY = 100
"""Milliseconds between looks at how much is written."""


class UnsavedPanel(Overlay):
    """Shown when the window is to close while something waits to be saved."""

    def __init__(self, desk: Desk, over: QWidget) -> None:
        super().__init__(over, "Not saved yet", 640)
        self._desk, bridge = desk, desk.bridge
        why = bridge.why.removeprefix("Not saved yet. ").replace(f"{HELD} ", "")
        self.body.addWidget(words(why.removesuffix(HELD).rstrip(), "large"))
        again = "What you entered is kept here and tried again every two seconds. What waits:"
        self.body.addWidget(words(again))
        held = bridge.unsaved_by_name
        self.waiting = words("\n".join(f"· {label}" for label in held[:SHOWN]))
        self.body.addWidget(self.waiting)
        if len(held) > SHOWN:
            self.body.addWidget(words(f"and {len(held) - SHOWN} more", "quiet"))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.keep = button("Keep the journal elsewhere…", self._choose, "primary")
        self.lose = button("Close and lose these", self._lose, "danger")
        self.body.addLayout(row(self.keep, self.lose, None))
        self.doing = words("")
        self.progress = QProgressBar()
        self.progress.setAccessibleName("how much is written")
        self.progress.setTextVisible(False)
        self.stop = button("Stop", self._stop, about="writing it elsewhere")
        self.body.addWidget(self.doing)
        self.body.addLayout(row(self.progress, self.stop, None))
        self._job: Job[str] | None = None
        self._poll = QTimer(self, interval=LOOK_EVERY)
        self._poll.timeout.connect(self._show_progress)
        self._show_working(working=False)
        self.listen(bridge.holding, self._hear)

    def _hear(self, count: int) -> None:
        if not count:
            self.close_panel()

    def _choose(self) -> None:
        name = open_folder(self, FileKind.JOURNALS, "An empty folder for the journal")
        if name:
            self.keep_in(Path(name))

    def keep_in(self, folder: Path) -> None:
        """Write the open journal into a folder and go on there, with all that waits."""
        journal = self._desk.journal

        def work(progress: Progress) -> str:
            return journal.keep_elsewhere(folder, progress)

        def done(said: str) -> None:
            self.close_panel()
            self._desk.moving.emit(str(folder), said)

        self.problem.say("")
        self.doing.setText("Writing the journal there…")
        self._job = self._desk.bridge.run(
            "Keep the journal elsewhere",
            work,
            done,
            self.problem.say,
            asker=self,
            ended=self._ended,
            quiet=True,
        )
        self._show_working(working=True)

    def _ended(self) -> None:
        if not self.stop.isEnabled():
            self.problem.say("Stopped. Nothing was left there, and all that waits is still here.")
        self._show_working(working=False)

    def _show_working(self, *, working: bool) -> None:
        for part in (self.doing, self.progress, self.stop):
            part.setVisible(working)
        for part in (self.keep, self.lose):
            part.setVisible(not working)
        if working:
            self.stop.setEnabled(True)
            self.progress.setRange(0, 0)
            self._poll.start()
            self.stop.setFocus()
        else:
            self._poll.stop()
            if self.isVisible():
                self.keep.setFocus()

    def _show_progress(self) -> None:
        if self._job is None:
            return
        show_fraction(self.progress, self._job.progress.fraction)
        if self._job.progress.words:
            self.doing.setText(f"Writing the journal there: {self._job.progress.words}.")

    def _stop(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self.stop.setEnabled(False)  # it has heard

    def _lose(self) -> None:
        self._desk.bridge.drop_unsaved()
        self.close_panel()
        self._desk.leaving.emit()
