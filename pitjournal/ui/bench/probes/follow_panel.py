"""What comes in by itself: probe files that are followed, a folder watched for pictures."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.times.moments import show_ago, show_moment
from pitjournal.domain.trace import ProbeFile, Trace
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files import apart, strangers
from pitjournal.files.places import typed_path
from pitjournal.ui.bench.probes.probe_panel import KINDS, read_and_show
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import FileKind, open_file, open_folder
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.words import Elided, Problem, clear, row, rule, words


class FollowPanel(GlovePanel):
    """One line a probe file, and the folder for pictures."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook) -> None:
        super().__init__(over, "Files that come in by themselves", 760)
        self._desk, self._whole, self._over = desk, whole, over
        text = "A probe file that its logger still writes is read on every few seconds."
        self.body.addWidget(words(text))
        self._files = QVBoxLayout()
        self.body.addLayout(self._files)
        self.body.addLayout(
            row(button("Follow another probe file", self._choose_new, "primary"), None)
        )
        self.body.addWidget(rule())
        text = (
            "New pictures of a folder join the running cook at the time they were taken: "
            "a folder that a phone or a camera copies into."
        )
        self.body.addWidget(words(text))
        self.folder = QLineEdit(desk.follow.folder)
        self.folder.setAccessibleName("folder for pictures")
        self.folder.setPlaceholderText("No folder is watched")
        self.folder.returnPressed.connect(self.watch)
        self.stop = button("Stop", self._stop, about="watching the folder")
        self.body.addLayout(
            row(
                self.folder,
                button("Choose…", self._choose_folder),
                button("Watch it", self.watch),
                self.stop,
            )
        )
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.taken = words("", "quiet")
        self.body.addWidget(self.taken)
        self.listen(desk.follow.changed, self.show_state)
        self.listen(desk.bridge.changed, self._heard)
        self.show_state()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the folder ready."""
        super().open_panel(first or self.folder)

    def _heard(self, _changes: object) -> None:
        self._whole = self._desk.seen(self._desk.journal.whole(self._whole.cook.id))
        self.show_state()

    # showing

    def show_state(self) -> None:
        """Show how each file and the folder stand."""
        clear(self._files)
        if not self._whole.probe_files:
            self._files.addWidget(words("No probe file yet.", "quiet"))
        for file in self._whole.probe_files:
            self._add(file)
        watching, folder = self._desk.follow.watching, self._desk.follow.folder
        self.stop.setVisible(bool(folder))
        self.problem.say(watching.problems.get("", "") if watching is not None else "")
        if not folder:
            self.taken.setText("")
        elif watching is None:
            running = self._whole.cook.status is CookStatus.RUNNING
            self.taken.setText("" if running else "Looked into once a cook is running.")
        else:
            count = watching.taken
            self.taken.setText(f"{count} taken in since this window was opened.")

    def _add(self, file: ProbeFile) -> None:
        said, read = "not followed", self._desk.follow.reads.get(file.id)
        if file.follows:
            said = (
                "followed"
                if self._whole.cook.status is CookStatus.RUNNING
                else "waits until the cook runs"
            )
        if read is not None and read.grew_at is not None:
            ago = (self._desk.now() - read.grew_at).total_seconds()
            last = max((t.ends_at for t in self._traces(file)), default=None)
            at = show_moment(last, self._whole.cook.zone, self._desk.now())
            said = f"followed, last reading {at}, grew {show_ago(max(ago, 0.0))}"
        if read is not None and read.problem:
            said = read.problem
        if file.follows:
            act = button("No longer follow", self._stopper(file), "link")
        else:
            act = button("Follow it", self._chooser(file), "link", about=file.name)
        line = row(Elided(file.name, "strong"), Elided(said, "quiet"), act)
        line.setStretch(0, 2)
        line.setStretch(1, 4)
        self._files.addLayout(line)

    def _traces(self, file: ProbeFile) -> list[Trace]:
        whole = self._desk.follow.whole(self._whole)
        return [trace for trace in whole.traces if trace.probe_file_id == file.id]

    # doing

    def _stopper(self, file: ProbeFile) -> Callable[[], None]:
        return lambda: self._desk.follow.follow(file, "")

    def _chooser(self, file: ProbeFile) -> Callable[[], None]:
        def choose() -> None:
            name = open_file(self, FileKind.PROBES, f"Where is {file.name}?", KINDS)
            if name:
                self._desk.follow.follow(file, name)

        return choose

    def _choose_new(self) -> None:
        apart.prepare(*strangers.LOG_READERS)
        name = open_file(self, FileKind.PROBES, "Probe file to follow", KINDS)
        if name:
            self.follow_new(Path(name))

    def follow_new(self, path: Path) -> None:
        """Show what is understood of a file; once it is kept, it is followed."""
        self.close_panel()
        self._desk.follow.expect(self._whole.cook.id, path)
        read_and_show(self._desk, self._over, self._whole.cook.id, path)

    def _choose_folder(self) -> None:
        chosen = open_folder(self, FileKind.PICTURES, "Folder for pictures")
        if chosen:
            self.folder.setText(chosen)
            self.watch()

    def watch(self) -> None:
        """Watch the folder that stands in the line."""
        text = self.folder.text().strip()
        if not text:
            self._stop()
            return
        try:
            there = typed_path(text).is_dir()
        except (JournalError, OSError):
            there = False
        if not there:
            self.problem.say("There is no such folder. Choose another, or plug its card in.")
            return
        self._desk.follow.watch(str(typed_path(text).absolute()))

    def _stop(self) -> None:
        self.folder.clear()
        self._desk.follow.watch("")
