"""Start the window: the application, its look, the journal that was open last."""

import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.commands import Command
from pitjournal.journal.fault_log import start_log
from pitjournal.journal.last_end import watch_for_end
from pitjournal.journal.preferences import (
    Preferences,
    demonstration_folder,
    load_preferences,
    save_preferences,
    with_journal,
)
from pitjournal.store.build import taken_out_words
from pitjournal.store.opening import journal_is_in, may_be_made_in
from pitjournal.store.place import place_of
from pitjournal.ui.collecting import collect_all, collect_here
from pitjournal.ui.cook.place import CookPage, CookPlace
from pitjournal.ui.cooks.page import CooksPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.later import Later
from pitjournal.ui.look.theme import look
from pitjournal.ui.page import Page
from pitjournal.ui.panels import PANELS
from pitjournal.ui.window import Window

if TYPE_CHECKING:
    from pitjournal.ui.keeping.rescue import RescueWindow


def _plan() -> Callable[[Desk], CookPage]:
    from pitjournal.ui.plan.page import PlanPage

    return PlanPage


def _bench() -> Callable[[Desk], CookPage]:
    from pitjournal.ui.bench.page import BenchPage

    return BenchPage


def _tasting() -> Callable[[Desk], CookPage]:
    from pitjournal.ui.tasting.page import TastingPage

    return TastingPage


def _findings() -> Callable[[Desk], CookPage]:
    from pitjournal.ui.findings.page import FindingsPage

    return FindingsPage


PAGES = {
    "plan": Later(_plan),
    "bench": Later(_bench),
    "tasting": Later(_tasting),
    "findings": Later(_findings),
}
"""Pages of a cook by name."""


def _cook() -> Callable[[Desk], Page]:
    # What stands over the pages of a cook; a list of cooks is painted without it.
    from pitjournal.ui.charts.ribbon import ribbon_strip  # noqa: F401 - made ahead, so that it is there

    return lambda desk: CookPlace(desk, PAGES)


def _new_cook() -> Callable[[Desk], Page]:
    from pitjournal.ui.plan.new_cook import NewCookPage

    return NewCookPage


def _trends() -> Callable[[Desk], Page]:
    from pitjournal.ui.trends.page import TrendsPage

    return TrendsPage


def _compare() -> Callable[[Desk], Page]:
    from pitjournal.ui.cooks.compare_page import ComparePage

    return ComparePage


def _old_cooks() -> Callable[[Desk], Page]:
    from pitjournal.ui.old_cooks.page import BringPage

    return BringPage


def _shelf() -> Callable[[Desk], Page]:
    from pitjournal.ui.shelf.page import ShelfPage

    return ShelfPage


def _season() -> Callable[[Desk], Page]:
    from pitjournal.ui.season.page import SeasonPage

    return SeasonPage


def _contest() -> Callable[[Desk], Page]:
    from pitjournal.ui.contest.page import ContestPage

    return ContestPage


def _parts() -> Callable[[Desk], Page]:
    from pitjournal.ui.parts_page import PartsPage

    return PartsPage


Say = Callable[[JournalError], object] | None

MAKERS: Mapping[str, Callable[[Desk], Page]] = {
    "cooks": CooksPage,
    "cook": Later(_cook),
    "new cook": Later(_new_cook),
    "trends": Later(_trends),
    "compare": Later(_compare),
    "old cooks": Later(_old_cooks),
    "shelf": Later(_shelf),
    "season": Later(_season),
    "contest": Later(_contest),
    "parts": Later(_parts),
}
"""Places by name; what only one of them needs loads when it is first gone to, or before."""


class Shell:
    """The running program: it opens one journal after another in a window."""

    def __init__(self, application: QApplication, preferences: Preferences) -> None:
        self.application = application
        self.preferences = preferences
        self.window: Window | None = None
        self.rescue: RescueWindow | None = None
        self.to_tell = ""
        """What is said once a journal is open."""
        self._waiting: list[tuple[Command, object | None]] = []
        look().start(application, preferences.theme, preferences.text)
        sys.excepthook = self._caught

    def open(self, folder: str, *, new: bool = False) -> None:
        """Open a journal's folder in a window of its own; the one before closes.

        Raises
        ------
        JournalError
            If it cannot be opened; the window before stays.
        """
        before = self.window
        if before is not None:
            same = before.desk.journal.folder.resolve() == Path(folder).expanduser().resolve()
            if same:
                return
            self.preferences = before.desk.preferences
        self._show(open_journal(folder, new=new))

    def _show(self, journal: Journal) -> None:
        before, known = self.window, self.preferences.recent
        last = self.preferences.last_journal
        self.preferences = with_journal(self.preferences, journal.folder)
        if journal.folder.absolute() == demonstration_folder().absolute():
            # Looking at the demonstration does not put it in the place of one's own journal.
            self.preferences = replace(self.preferences, last_journal=last)
        save_preferences(self.preferences)
        desk = Desk(journal, self.preferences)
        desk.opening.connect(self._asked)
        desk.restoring.connect(self._restore)
        desk.moving.connect(self._move)
        try:
            self.window = Window(desk, MAKERS, PANELS)
        except BaseException:  # what it shows first cannot be read
            desk.close()
            raise
        if before is not None:
            self.window.setGeometry(before.geometry())
        self.window.show()
        if before is not None:
            before.close()
            self._forget(before)
        if self.rescue is not None:
            self.rescue.close()
            self.rescue.deleteLater()
            self.rescue = None
        first = _first_words(journal, new_here=str(journal.folder.absolute()) not in known)
        said, self.to_tell = f"{self.to_tell} {first}".strip(), ""
        if said:
            QTimer.singleShot(0, self.window, lambda: desk.bridge.refused.emit(said))
        QTimer.singleShot(400, self.window, lambda: _warm_up(desk))

    def _forget(self, window: Window) -> None:
        """Have nothing left of a window that is closed."""
        window.destroyed.connect(lambda: QTimer.singleShot(0, self.application, collect_all))
        window.deleteLater()

    def resume(self) -> None:
        """Go to the bench of the cook that is running, if there is one that is nobody's invention."""
        if self.window is not None and self.window.desk.journal.setting("demonstration"):
            return
        running = self.window.running() if self.window is not None else None
        if self.window is not None and running is not None:
            self.window.go("cook", running.id, "bench")

    def help(self, error: JournalError, folder: Path) -> None:
        """Show, in the place of a window on a journal, why it does not open and what can be done."""
        recent = tuple(
            name
            for name in self.preferences.recent
            if Path(name) != folder and journal_is_in(Path(name))
        )
        from pitjournal.ui.keeping.rescue import RescueWindow

        before = self.rescue
        self.rescue = RescueWindow(error, folder, recent[:4])
        self.rescue.opening.connect(self._asked)
        self.rescue.show()
        if before is not None:
            before.close()
            before.deleteLater()

    def _asked(self, folder: str, new: bool) -> None:
        try:
            self.open(folder, new=new)
            self.resume()
            self._do_waiting()
        except JournalError as error:
            if self.window is not None:
                self.window.desk.bridge.refused.emit(str(error))
            elif self.rescue is not None:
                self.rescue.say(str(error))

    def _restore(self, source: str) -> None:
        """Close the journal, put a backup in its place, and open it again."""
        from pitjournal.journal.backups.restoring import restore

        window, folder = self.window, self._let_go()
        if window is None or folder is None:
            return
        try:
            said = restore(folder, Path(source)).words()
        except JournalError as error:
            said = str(error)
        self._open_again(folder, window)
        if self.window is not None:
            self.window.desk.bridge.told.emit(said)

    def _move(self, folder: str, said: str) -> None:
        """Go on with a journal in another folder, and do there what waits to be saved."""
        window = self.window
        if window is None:
            return
        self._waiting = window.desk.bridge.take_unsaved()
        if self._let_go() is None:
            return
        self._open_again(Path(folder), window)
        self._do_waiting(said)

    def _do_waiting(self, said: str = "") -> None:
        """Do what waited in a window before; without a journal it waits on, and is named."""
        if self.window is None:
            if self.rescue is not None and self._waiting:
                labels = ", ".join(command.label for command, _ in self._waiting)
                self.rescue.say(f"Not saved yet, and done in the journal you open next: {labels}.")
            return
        waiting, self._waiting = self._waiting, []
        bridge = self.window.desk.bridge
        for command, _ in waiting:
            bridge.do(command)
        if said and not bridge.unsaved:
            bridge.told.emit(said)

    def _let_go(self) -> Path | None:
        """Close the window's journal and return its folder; None where the window stays."""
        window = self.window
        if window is None:
            return None
        folder = window.desk.journal.folder
        # The window is replaced by the next one: the program does not end with it.
        self.application.setQuitOnLastWindowClosed(False)
        if not window.close():
            self.application.setQuitOnLastWindowClosed(True)
            return None
        self.window = None
        return folder

    def _open_again(self, folder: Path, window: Window) -> None:
        try:
            self.open(str(folder))
        except JournalError as error:
            self.help(error, folder)
        shown = self.window or self.rescue
        if shown is not None:
            shown.setGeometry(window.geometry())
        self._forget(window)
        self.application.setQuitOnLastWindowClosed(True)

    def _caught(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        if issubclass(kind, KeyboardInterrupt):
            self.application.quit()
            return
        if self.window is None:
            sys.__excepthook__(kind, error, trace)
            return
        self.window.show_bug(kind, error, trace)


def _warm_up(desk: Desk) -> None:
    """Load what the first typed quantity and the first finding need, off the window's thread."""
    from pitjournal.domain.cuts import meat_of
    from pitjournal.units import warm_up

    def work(_progress: object) -> None:
        warm_up()
        meat_of("brisket")
        from pitjournal.science.comparison import multiplicity, paired

        paired.paired_difference([1.0, 2.0, 3.0], [2.0, 2.0, 4.0])
        multiplicity.holm([0.5])

    desk.journal.jobs.start("warm up", work)


def first_folder() -> Path:
    """Return where a first journal lives: a folder among the cook's own documents."""
    import platformdirs

    return Path(platformdirs.user_documents_dir()) / "Pitjournal"


def run(
    folder: Path | None,
    demonstration: bool = False,
    say: Say = None,
) -> int:
    """Open the window and wait until it is closed.

    Parameters
    ----------
    folder
        The journal's; None is the one that was open last, else a first one.
    demonstration
        Whether it is the demonstration, which does not become the last one.
    say
        Is told at the start why a journal does not open, beside the window that says it.
    """
    application = QApplication.instance() or QApplication(["pitjournal"])
    assert isinstance(application, QApplication)
    application.setApplicationName("Pitjournal")
    application.setDesktopFileName("pitjournal")
    start_log()
    preferences = load_preferences()
    shell = Shell(application, preferences)
    shell.to_tell = watch_for_end()
    if folder is not None:
        _open_first(shell, folder, say, new=may_be_made_in(folder))
        if demonstration:
            save_preferences(replace(load_preferences(), last_journal=preferences.last_journal))
    else:
        _open_last(shell, preferences, say)
    if not demonstration:
        shell.resume()
    collect_here()  # where no journal opened, no bridge has asked for it
    return application.exec()


def _open_last(shell: Shell, preferences: Preferences, say: Say) -> None:
    last = preferences.last_journal
    if last:
        _open_first(shell, Path(last), say, new=False)
    else:
        _open_first(shell, first_folder(), say, new=True)


def _open_first(shell: Shell, folder: Path, say: Say, *, new: bool) -> None:
    """Open a journal at the start; where it does not open, say why and what can be done."""
    try:
        shell.open(str(folder), new=new)
    except JournalError as error:
        if say is not None:
            say(error)
        shell.help(error, folder)


def _first_words(journal: Journal, *, new_here: bool) -> str:
    """Return what is said first of a journal that was opened, or nothing."""
    if journal.why_read_only is not None:
        return " ".join(journal.why_read_only)
    place = place_of(journal.folder).words if new_here else ""
    return " ".join(filter(None, (taken_out_words(journal.database.taken_out), place)))
