"""What comes in by itself while a cook runs: probe files that grow, pictures of a folder."""

import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from pitjournal.domain.cook import Cook, CookStatus
from pitjournal.domain.trace import ProbeFile
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.places import name_of
from pitjournal.journal import Changes
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.files import FollowFile
from pitjournal.journal.jobs import Progress
from pitjournal.ui.bridge import Bridge

if TYPE_CHECKING:
    from pitjournal.journal.following import Read
    from pitjournal.journal.watched_folder import Watching

EVERY = 4000
"""Milliseconds between two looks."""

SHARE = 10
"""Reading may take one part in so many of the time."""

FOLDER = "watched_folder"

Found = tuple[dict[str, "Read"], "Watching | None", tuple[Command, ...]]


class Follow(QObject):
    """Looks at files and folders off the window's thread, every few seconds.

    Signals
    -------
    changed()
        A followed file has grown, or how it stands has changed.
    """

    changed = Signal()

    def __init__(self, bridge: Bridge, now: Callable[[], datetime], parent: QObject) -> None:
        super().__init__(parent)
        self._bridge, self._journal, self._now = bridge, bridge.journal, now
        self.reads: dict[str, Read] = {}
        self.watching: Watching | None = None
        self._running: list[WholeCook] | None = None
        self._busy = False
        self._not_before = 0.0
        self._expected: tuple[str, str] | None = None
        self._said: set[str] = set()
        bridge.changed.connect(self._hear)
        self._timer = QTimer(self, interval=EVERY)
        self._timer.timeout.connect(self.look)

    def start(self) -> None:
        """Look from now on."""
        self._timer.start()
        self.look()

    def stop(self) -> None:
        """Look no more."""
        self._timer.stop()

    @property
    def folder(self) -> str:
        """The folder that is watched for pictures, or an empty text."""
        return self._journal.setting(FOLDER)

    def whole(self, whole: WholeCook) -> WholeCook:
        """Return a cook with its followed traces as long as they are by now."""
        if not self.reads:
            return whole
        from pitjournal.journal.following import with_readings  # noqa: PLC0415 - numpy

        return with_readings(whole, self.reads.values())

    # what to follow

    def expect(self, cook_id: str, path: Path) -> None:
        """Follow the file as soon as the cook has kept it."""
        self._expected = (cook_id, str(path))

    def follow(self, file: ProbeFile, path: str) -> None:
        """Follow a kept file at this path; with an empty one, no more."""
        label = f"Follow {file.name}" if path else f"No longer follow {file.name}"
        if not path:
            self.settle()
        self._bridge.do(FollowFile(file.id, path, label), self)
        self.look()

    def watch(self, folder: str) -> None:
        """Watch a folder for pictures; with an empty one, none."""
        from pitjournal.journal.commands.bench import Choose  # noqa: PLC0415 - seldom needed

        label = f"Watch {folder} for pictures" if folder else "No longer watch a folder"
        self._bridge.do(Choose(FOLDER, folder, label), self)
        self.look()

    def _hear(self, changes: Changes) -> None:
        if changes.kinds & {"cook", "event", "probe_file", "trace", "setting", "piece"}:
            self._running = None
        if self._expected is not None and "probe_file" in changes.kinds:
            cook_id, path = self._expected
            kept = [
                f for f in self._journal.find(ProbeFile, cook_id=cook_id) if f.id in changes.ids
            ]
            if kept and kept[0].name == name_of(Path(path)):
                self._expected = None
                QTimer.singleShot(0, self, lambda: self.follow(kept[0], path))

    def cooks(self) -> list[WholeCook]:
        """Return the cooks that run, the newest first."""
        if self._running is None:
            found = self._journal.find(Cook, status=CookStatus.RUNNING)
            wholes = self._journal.wholes([cook.id for cook in found]).values()
            self._running = sorted(wholes, key=lambda w: w.cook.starts_at, reverse=True)
        return self._running

    # looking

    def look(self) -> None:
        """Look at everything once, unless that is under way or was costly a moment ago."""
        if self._busy or time.monotonic() < self._not_before or self._journal.read_only:
            return
        cooks, folder = self.cooks(), self.folder
        files = [(whole, file) for whole in cooks for file in whole.probe_files if file.follows]
        self._forget(file.id for _, file in files)
        if not folder or not cooks:
            self.watching = None
        if not files and (not folder or not cooks):
            return
        reads, watching, clock = dict(self.reads), self.watching, self._now
        journal = self._journal

        def work(_progress: Progress) -> tuple[float, Found]:
            from pitjournal.journal.following import look_at  # noqa: PLC0415 - numpy
            from pitjournal.journal.watched_folder import Watching, take_in  # noqa: PLC0415 - seldom needed

            start = time.monotonic()
            commands: list[Command | None] = []
            for whole, file in files:
                before = reads.get(file.id)
                reads[file.id], command = look_at(journal, whole, file, before, clock())
                commands.append(command)
            seen = watching
            if folder and cooks:
                if seen is None or seen.folder != folder:
                    seen = Watching(folder)
                seen, taken = take_in(journal, cooks[0], seen)
                commands.append(taken)
            found = reads, seen, tuple(c for c in commands if c is not None)
            return time.monotonic() - start, found

        self._busy = True
        self._bridge.run(
            "Look at what comes in", work, self._done, asker=self, ended=self._rest, quiet=True
        )

    def _forget(self, ids: object) -> None:
        wanted = set(ids)  # type: ignore[call-overload]
        if set(self.reads) - wanted:
            self.reads = {name: read for name, read in self.reads.items() if name in wanted}
            self._lend()
            self.changed.emit()

    def _lend(self) -> None:
        if self.reads:
            from pitjournal.journal.following import overlaid  # noqa: PLC0415 - numpy

            self._journal.files.overlay(overlaid(self.reads.values()))
        else:
            self._journal.files.overlay({})

    def _done(self, told: tuple[float, Found]) -> None:
        taken, (reads, watching, commands) = told
        self._not_before = time.monotonic() + SHARE * taken
        changed = reads != self.reads or watching != self.watching
        self.reads, self.watching = reads, watching
        self._lend()
        for command in commands:
            self._bridge.do(command, self)
        self._say()
        if changed:
            self.changed.emit()

    def _rest(self) -> None:
        self._busy = False

    def _say(self) -> None:
        """Say each problem once, and again only if it has been away; take back what is over."""
        problems = {read.problem for read in self.reads.values() if read.problem}
        if self.watching is not None:
            problems |= set(self.watching.problems.values())
        for over in self._said - problems:
            self._bridge.withdrawn.emit(over)
        for problem in sorted(problems - self._said):
            self._bridge.refused.emit(problem)
        self._said = problems

    def last_grew(self, whole: WholeCook) -> datetime | None:
        """Return when a followed file of a cook last had something new; None where none has."""
        moments = [
            read.grew_at
            for file in whole.probe_files
            if (read := self.reads.get(file.id)) is not None and read.grew_at is not None
        ]
        return max(moments, default=None)

    def settle(self) -> None:
        """Keep now what the followed files have grown to."""
        if not self.reads:
            return
        from pitjournal.journal.following import keep_grown  # noqa: PLC0415 - numpy

        for whole in self.cooks():
            for file in whole.probe_files:
                read = self.reads.get(file.id)
                if read is None:
                    continue
                try:
                    command = keep_grown(self._journal, whole, file, read)
                except JournalError as error:
                    self._bridge.refused.emit(str(error))
                    continue
                if command is not None:
                    self._bridge.do(command, self)
