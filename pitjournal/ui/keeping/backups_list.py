"""The backups of a journal, and what one of them would change."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLayout, QWidget

from pitjournal.domain.times.moments import stamp_words
from pitjournal.errors import JournalError
from pitjournal.journal.backups.restoring import Offer, difference_words, look_at, missing_words
from pitjournal.store import copies
from pitjournal.store.copies import Copy
from pitjournal.ui.files_asked import FileKind, open_file, open_folder
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import Problem, column, row, words
from pitjournal.units.figures import counted

SHOWN = 6
"""So many of the newest are offered."""

Run = Callable[[Callable[[], object], Callable[[object], None], Callable[[str], None]], None]
"""Runs work off the window's thread, then one of the other two with what came of it."""

_WHY = {
    "close": "at closing",
    "hour": "while things changed",
    "by-hand": "by hand",
    "before-restore": "before a restore",
    "before-import": "before an import",
    "before-repair": "before a repair",
}


def when(copy: Copy) -> str:
    """Return when a backup was made by this computer's clock, and what for."""
    local = copy.at.astimezone()
    why = _WHY.get(copy.why, "before a newer version" if copy.why[:7] == "before-" else copy.why)
    ahead = ", dated in the future: a clock was wrong" if copies.is_ahead(copy) else ""
    return f"{stamp_words(local)}, {why}{ahead}"


class BackupsList(QWidget):
    """Choose a backup, read what would differ, and restore it.

    Signals
    -------
    wanted(str)
        Restore the backup of this path.
    """

    wanted = Signal(str)

    def __init__(self, folder: Path, run: Run) -> None:
        super().__init__()
        self._folder, self._run = folder, run
        self._source: Path | None = None
        none = "There is none yet. The first one is made when the window closes."
        try:
            there = copies.offered(folder / copies.FOLDER)
        except JournalError as error:
            there, none = [], error.message
        self.buttons = [
            button(when(copy), self._looker(copy.path), "link") for copy in there[:SHOWN]
        ]
        listed: tuple[QWidget, ...] = tuple(self.buttons) or (words(none, "quiet"),)
        self.what = words("", "heading")
        self.says = words("")
        self.problem = Problem()
        self.restore = button("Restore this one", self._restore, "primary")
        other = button("Another file…", self._choose_file)
        folder_button = button("A copied folder…", self._choose_folder)
        layout = column(
            *listed,
            self.what,
            self.says,
            self.problem,
            row(self.restore, other, folder_button, None),
        )
        self.setLayout(layout)
        layout.setSizeConstraint(QLayout.SizeConstraint.SetMinimumSize)
        for widget in (self.what, self.says, self.restore):
            widget.hide()

    def _looker(self, path: Path) -> Callable[[], None]:
        return lambda: self.look(path)

    def look(self, path: Path) -> None:
        """Look into a backup and say what would differ."""
        self._source = None
        self.restore.hide()
        self.problem.say("")
        self._say(f"Looking into {path.name}…", "")

        def done(found: object) -> None:
            assert isinstance(found, Offer)
            self._show(found)

        self._run(lambda: look_at(self._folder, path), done, self._failed)

    def _show(self, offer: Offer) -> None:
        self._source = offer.path
        cooks = counted(offer.cooks, "cook")
        lines = "\n".join(difference_words(offer.differences))
        kept = "The journal as it is now is kept as another backup."
        if not offer.differences.today_read:
            kept = "What lies there now is put aside first."
        if offer.missing:
            lines += f"\n{missing_words(offer.missing)}"
        whole = "has" if offer.missing else "is whole and has"
        self._say(f"{offer.path.name} {whole} {cooks}.", f"{lines}\n{kept}")
        self.restore.show()
        self.restore.setFocus()

    def _say(self, what: str, says: str) -> None:
        self.what.setText(what)
        self.says.setText(says)
        self.what.setVisible(bool(what))
        self.says.setVisible(bool(says))

    def _failed(self, why: str) -> None:
        self._say("", "")
        self.problem.say(why)

    def _restore(self) -> None:
        if self._source is not None:
            self.wanted.emit(str(self._source))

    def _choose_file(self) -> None:
        name = open_file(
            self, FileKind.BACKUPS, "A backup", "Backups (*.zip *.sqlite)", self._folder
        )
        if name:
            self.look(Path(name))

    def _choose_folder(self) -> None:
        name = open_folder(self, FileKind.JOURNALS, "The folder of a copied journal")
        if name:
            self.look(Path(name))
