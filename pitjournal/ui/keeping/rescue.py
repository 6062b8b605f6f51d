"""The window where a journal does not open: what is wrong, and what can be done."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QLayout, QLineEdit, QMainWindow, QPushButton, QWidget

from pitjournal.errors import JournalError
from pitjournal.journal.backups.restoring import Restored, restore
from pitjournal.journal.backups.salvage import Prospects, prospects, salvage
from pitjournal.journal.backups.salvaged import Salvaged
from pitjournal.journal.jobs import Jobs, Progress
from pitjournal.store import kept_names
from pitjournal.store.faults import CannotOpenError, DamagedError, Trouble
from pitjournal.ui.files_asked import FileKind, open_folder
from pitjournal.ui.keeping.backups_list import BackupsList
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.scroll import scroll_layout
from pitjournal.ui.look.parts.words import Problem, column, row, rule, words
from pitjournal.ui.look.theme import look, sized

POLL_EVERY = 40
"""Milliseconds between looks at work under way."""

WIDTH = 760

_BY_BACKUP = {Trouble.DAMAGED, Trouble.EMPTY, Trouble.FOREIGN, Trouble.GONE}
_BY_SALVAGE = {Trouble.DAMAGED, Trouble.FOREIGN}


class RescueWindow(QMainWindow):
    """Stands in the place of the journal's window until one opens.

    Signals
    -------
    opening(str, bool)
        Open the journal in a folder; made there if it is new.
    """

    opening = Signal(str, bool)

    def showEvent(self, event: QShowEvent) -> None:
        """Take the style sheet of now."""
        look().restyling.catch_up(self)
        super().showEvent(event)

    def __init__(self, error: JournalError, folder: Path, recent: tuple[str, ...]) -> None:
        super().__init__()
        self._folder = self._brought = folder
        self._jobs = Jobs()
        self.setWindowTitle("Pitjournal")
        self.setMinimumSize(tokens.LEAST_WIDTH, tokens.LEAST_HEIGHT)
        self.resize(1280, 800)
        self.problem = Problem()
        self.said = words("")
        self.shown = button("Open it", self._open_brought, "primary")
        for widget in (self.said, self.shown):
            widget.hide()
        trouble = _trouble(error)
        self.backups = self._backups() if trouble in _BY_BACKUP else None
        self.target = QLineEdit(str(_beside(folder)))
        self.target.setAccessibleName("folder of the new journal")
        again = button("Try again", lambda: self.opening.emit(str(folder), False), "primary")
        parts: list[QWidget | QLayout | None] = [
            words("Your journal does not open", "title"),
            words(error.message, "large"),
            words(error.hint),
            row(again, None),
            self.problem,
            self.said,
            row(self.shown, None),
        ]
        self.saving = self._offer_salvage() if trouble in _BY_SALVAGE else None
        if self.saving is not None:
            parts.append(self.saving)
        if self.backups is not None:
            parts += [rule(), words("Restore a backup", "heading"), self.backups]
        inner = column(*parts, space=tokens.M)
        self._offer_others(inner.addWidget, inner.addLayout, recent)
        inner.addStretch(1)
        inner.setContentsMargins(tokens.XL, tokens.XL, tokens.XL, tokens.XL)
        area = scroll_layout(inner, "what can be done")
        sized(area, most_width=WIDTH)
        paper = QWidget()
        paper.setObjectName("paper")
        paper.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        middle = row(None, area, None)
        middle.setStretch(1, 100)
        paper.setLayout(middle)
        self.setCentralWidget(paper)
        again.setFocus()

    def _backups(self) -> BackupsList | None:
        if not self._folder.exists():
            return None
        made = BackupsList(self._folder, self._run)
        made.wanted.connect(self._restore)
        return made

    def _offer_salvage(self) -> QWidget:
        text = (
            "Writes every cook that can still be read into a new journal, and names the rest. "
            "The damaged journal is not touched."
        )
        self.prospect = words("Looking at how much can still be read…")
        made = QWidget()
        layout = column(
            rule(),
            words("Save what can be read", "heading"),
            words(text),
            self.prospect,
            row(self.target, button("Save what can be read", self._salvage)),
            space=tokens.M,
        )
        made.setLayout(layout)
        layout.setSizeConstraint(QLayout.SizeConstraint.SetMinimumSize)
        self._run(lambda: prospects(self._folder), self._show_prospect, self.say)
        return made

    def _show_prospect(self, found: object) -> None:
        """Say what saving and the newest backup would give; what gives nothing is not offered."""
        assert isinstance(found, Prospects)
        self.prospect.setText("\n".join(found.lines()))
        if self.saving is not None and not found.salvage:
            self.saving.hide()

    def _offer_others(
        self, add: Callable[..., object], lay: Callable[..., object], recent: tuple[str, ...]
    ) -> None:
        add(rule())
        add(words("Use another journal for now", "heading"))
        lay(
            row(
                button("Open another folder…", lambda: self._choose(False)),
                button("Make a new journal…", lambda: self._choose(True)),
                None,
            )
        )
        for name in recent:
            add(button(name, self._opener(name), "link"))

    def _opener(self, name: str) -> Callable[[], None]:
        return lambda: self.opening.emit(name, False)

    def _choose(self, new: bool) -> None:
        name = open_folder(self, FileKind.JOURNALS, "Folder of the journal")
        if name:
            self.opening.emit(name, new)

    def say(self, text: str) -> None:
        """Say why what was tried did not work."""
        self.said.hide()
        self.shown.hide()
        self.problem.say(text)

    def _restore(self, source: str) -> None:
        def done(found: object) -> None:
            assert isinstance(found, Restored)
            self._offer(self._folder, found.words() if found.missing else "")

        self._run(lambda: restore(self._folder, Path(source)), done, self.say)

    def _offer(self, folder: Path, lacks: str) -> None:
        """Open a journal that was brought back; where it lacks something, once that was read."""
        if not lacks:
            self.opening.emit(str(folder), False)
            return
        self._brought = folder
        self.said.setText(lacks)
        self.said.show()
        self.shown.show()

    def _salvage(self) -> None:
        target = Path(self.target.text()).expanduser()
        self.problem.say("")
        self.said.setText("Reading what can be read…")
        self.said.show()

        def done(found: object) -> None:
            assert isinstance(found, Salvaged)
            self._offer(target, "" if found.whole else _salvaged(found))

        self._run(lambda: salvage(self._folder, target), done, self.say)

    def _open_brought(self) -> None:
        self.opening.emit(str(self._brought), False)

    def _run(
        self,
        work: Callable[[], object],
        done: Callable[[object], None],
        failed: Callable[[str], None],
    ) -> None:
        def job(_progress: Progress) -> object:
            return work()

        started = self._jobs.start("Rescue", job)
        poll = QTimer(self, interval=POLL_EVERY)

        def look() -> None:
            if not started.future.done():
                return
            poll.stop()
            poll.deleteLater()
            error = started.future.exception()
            if isinstance(error, JournalError):
                failed(str(error))
                return
            done(started.future.result())

        poll.timeout.connect(look)
        poll.start()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the focus."""
        here = self.focusWidget()
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and isinstance(here, QPushButton):
            here.click()
            return
        super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Wait for the work under way."""
        self._jobs.close()
        event.accept()


def _trouble(error: JournalError) -> Trouble:
    if isinstance(error, CannotOpenError):
        return error.trouble
    return Trouble.DAMAGED if isinstance(error, DamagedError) else Trouble.FORBIDDEN


def _beside(folder: Path) -> Path:
    made, number = folder.with_name(f"{folder.name} salvaged"), 1
    while made.exists():
        number += 1
        made = folder.with_name(f"{folder.name} salvaged {number}")
    return made


def _salvaged(found: Salvaged) -> str:
    lines = [f"Wrote {found.cooks} cooks, {found.records} records in all, to {found.folder}."]
    if found.missing:
        what = (
            "1 photo or log is"
            if len(found.missing) == 1
            else (f"{len(found.missing)} photos or logs are")
        )
        lines.append(f"{what} missing or damaged: {kept_names.some(found.missing)}.")
    if found.lost:
        lines.append("Not read:")
        lines += [f"  {words}" for words in found.lost[:8]]
        if len(found.lost) > 8:
            lines.append(f"  and {len(found.lost) - 8} more.")
    return "\n".join(lines)
