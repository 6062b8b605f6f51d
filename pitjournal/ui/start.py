"""Start the window: the application, its look, the journal that was open last."""

import logging
import logging.handlers
import sys
from dataclasses import replace
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from pitjournal.errors import JournalError
from pitjournal.journal import open_journal
from pitjournal.journal.preferences import (
    Preferences,
    demonstration_folder,
    load_preferences,
    preferences_path,
    save_preferences,
    with_journal,
)
from pitjournal.ui.cook.place import CookPage, CookPlace
from pitjournal.ui.cooks.page import CooksPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.theme import look
from pitjournal.ui.page import Page
from pitjournal.ui.panels import PANELS
from pitjournal.ui.window import Window


def _plan(desk: Desk) -> CookPage:
    from pitjournal.ui.plan.page import PlanPage

    return PlanPage(desk)


def _bench(desk: Desk) -> CookPage:
    from pitjournal.ui.bench.page import BenchPage

    return BenchPage(desk)


def _tasting(desk: Desk) -> CookPage:
    from pitjournal.ui.tasting.page import TastingPage

    return TastingPage(desk)


def _findings(desk: Desk) -> CookPage:
    from pitjournal.ui.findings.page import FindingsPage

    return FindingsPage(desk)


def _cook(desk: Desk) -> Page:
    pages = {"plan": _plan, "bench": _bench, "tasting": _tasting, "findings": _findings}
    return CookPlace(desk, pages)


def _new_cook(desk: Desk) -> Page:
    from pitjournal.ui.plan.new_cook import NewCookPage

    return NewCookPage(desk)


def _trends(desk: Desk) -> Page:
    from pitjournal.ui.trends.page import TrendsPage

    return TrendsPage(desk)


def _compare(desk: Desk) -> Page:
    from pitjournal.ui.cooks.compare_page import ComparePage

    return ComparePage(desk)


def _shelf(desk: Desk) -> Page:
    from pitjournal.ui.shelf.page import ShelfPage

    return ShelfPage(desk)


def _parts(desk: Desk) -> Page:
    from pitjournal.ui.parts_page import PartsPage

    return PartsPage(desk)


MAKERS = {
    "cooks": CooksPage,
    "cook": _cook,
    "new cook": _new_cook,
    "trends": _trends,
    "compare": _compare,
    "shelf": _shelf,
    "parts": _parts,
}
"""Places by name; what only one of them needs loads when it is first gone to."""


class Shell:
    """The running program: it opens one journal after another in a window."""

    def __init__(self, application: QApplication, preferences: Preferences) -> None:
        self.application = application
        self.preferences = preferences
        self.window: Window | None = None
        look().start(application, preferences.theme)
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
        journal = open_journal(folder, new=new)
        last = self.preferences.last_journal
        self.preferences = with_journal(self.preferences, journal.folder)
        if journal.folder.absolute() == demonstration_folder().absolute():
            # Looking at the demonstration does not put it in the place of one's own journal.
            self.preferences = replace(self.preferences, last_journal=last)
        save_preferences(self.preferences)
        desk = Desk(journal, self.preferences)
        desk.opening.connect(self._asked)
        self.window = Window(desk, MAKERS, PANELS)
        if before is not None:
            self.window.setGeometry(before.geometry())
        self.window.show()
        if before is not None:
            before.close()
            before.deleteLater()
        if journal.read_only:
            said = "This journal is open in another window. Here it can only be read."
            QTimer.singleShot(0, self.window, lambda: desk.bridge.refused.emit(said))
        QTimer.singleShot(400, self.window, lambda: _warm_up(desk))

    def resume(self) -> None:
        """Go to the bench of the cook that is running, if there is one."""
        running = self.window.running() if self.window is not None else None
        if self.window is not None and running is not None:
            self.window.go("cook", running.id, "bench")

    def _asked(self, folder: str, new: bool) -> None:
        try:
            self.open(folder, new=new)
        except JournalError as error:
            assert self.window is not None
            self.window.desk.bridge.refused.emit(str(error))

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
    from pitjournal.units import warm_up

    def work(_progress: object) -> None:
        warm_up()
        from pitjournal.science import multiplicity, paired

        paired.paired_difference([1.0, 2.0, 3.0], [2.0, 2.0, 4.0])
        multiplicity.holm([0.5])

    desk.journal.jobs.start("warm up", work)


def first_folder() -> Path:
    """Return where a first journal lives: a folder among the cook's own documents."""
    import platformdirs

    return Path(platformdirs.user_documents_dir()) / "Pitjournal"


def start_log() -> None:
    """Keep a log of faults beside the preferences, of limited size."""
    path = preferences_path().with_name("pitjournal.log")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = logging.handlers.RotatingFileHandler(path, maxBytes=500_000, backupCount=1)
    except OSError:
        return
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s %(message)s"))
    logging.getLogger("pitjournal").addHandler(handler)


def run(folder: Path | None, demonstration: bool = False) -> int:
    """Open the window and wait until it is closed.

    Parameters
    ----------
    folder
        The journal's; None is the one that was open last, else a first one.
    demonstration
        Whether it is the demonstration, which does not become the last one.
    """
    application = QApplication.instance() or QApplication(["pitjournal"])
    assert isinstance(application, QApplication)
    application.setApplicationName("Pitjournal")
    application.setDesktopFileName("pitjournal")
    start_log()
    preferences = load_preferences()
    shell = Shell(application, preferences)
    if folder is not None:
        shell.open(str(folder))
        if demonstration:
            save_preferences(replace(load_preferences(), last_journal=preferences.last_journal))
    else:
        _open_last(shell, preferences)
    if not demonstration:
        shell.resume()
    return application.exec()


def _open_last(shell: Shell, preferences: Preferences) -> None:
    last = preferences.last_journal
    try:
        if last and (Path(last) / "journal.sqlite").exists():
            shell.open(last)
            return
        shell.open(str(first_folder()), new=True)
    except JournalError as error:
        shell.open(str(first_folder()), new=True)
        if shell.window is not None:
            shell.window.desk.bridge.refused.emit(str(error))
