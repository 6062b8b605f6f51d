"""A seeded robot at the window: ``python -m tests.torture.robot 6000``, ten minutes or so.

It goes to every page, taps what it finds, types nonsense, drops files, changes the size of the
window, undoes and does again. There is no fault and no word from Qt, memory stays, every journal
it left behind holds, and each is taken back to its beginning and forth again to the same rows.
"""

import contextlib
import os
import random
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from contextlib import closing
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QEvent, QMimeData, QPointF, Qt, QtMsgType, QUrl, qInstallMessageHandler
from PySide6.QtGui import QDropEvent, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QFileDialog,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)

from pitjournal.domain.cook import Cook
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.journal.checks import check_journal
from pitjournal.journal.commands.bench import LogEvent
from pitjournal.ui.bench.page import BenchPage
from pitjournal.ui.cook.place import CookPlace
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import TEXT_SIZES
from pitjournal.ui.panels import PANELS
from pitjournal.ui.start import Shell
from pitjournal.ui.window import Window
from tests.builders import add_comparison, an_event
from tests.torture.hands import open_window, run_for
from tests.torture.hostile import resident
from tests.torture.hostile_files import a_log, far_corner, jpeg, png
from tests.torture.script import run_by_name

ROUNDS = 6000
WARM_AFTER = 0.3
"""Memory is looked at from this part of the way on: all pages are made by then."""

GROWTH = 1.2
JUDGED_FROM = 400
"""Rounds from which memory is judged: a shorter run still makes its first pages in its last third."""

PLACES = ("cooks", "new cook", "trends", "shelf", "settings", "journals")
PAGES = ("plan", "bench", "tasting", "findings")
ASKED = {"probe file", "demonstration"}
"""Names that ask for a file, or make a journal, and open no panel."""

LEFT_ALONE = ("demonstration", "Restore", "salvage")
"""Words of what takes minutes, or puts another journal in the place of this one."""

TYPED = (
    "3 lb 4 oz",
    "225 F",
    "1h40",
    "20 min ago",
    "-1",
    "9" * 400,
    "quite hot",
    "ribs 🔥 <b>",
    "'; drop table cook; --",
    "yesterday 25:00",
    "\u202eribs",
    "",
    " ",
    "0",
    "1e308",
)
KEYS = (
    *"1234567890ARTLH",
    Qt.Key.Key_Escape,
    Qt.Key.Key_Return,
    Qt.Key.Key_Tab,
    Qt.Key.Key_Down,
    Qt.Key.Key_Up,
    Qt.Key.Key_Space,
    Qt.Key.Key_Delete,
)
CHORDS = "ZKLUTJWRP,1230N"
SIZES = ((1280, 800), (1024, 700), (1600, 1000), (1, 1), (1024, 2000), (3000, 700))


class Robot:
    """Does one thing after another, and keeps what went wrong."""

    def __init__(self, shell: Shell, files: Sequence[Path], seed: int) -> None:
        self._shell, self._files = shell, list(files)
        self._rng = random.Random(seed)
        self.done: Counter[str] = Counter()
        self.wrong: list[str] = []
        self.last = ""

    @property
    def window(self) -> Window:
        """The window as it is now."""
        assert self._shell.window is not None
        return self._shell.window

    def step(self) -> None:
        """Do something."""
        ways: list[tuple[int, Callable[[], None]]] = [
            (3, self.go),
            (8, self.tap),
            (4, self.write),
            (3, self.key),
            (1, self.chord),
            (1, self.choose),
            (1, self.drop),
            (1, self.resize),
            (1, self.take_back),
            (1, self.panel),
            (1, self.look),
        ]
        way = self._rng.choices([way for _, way in ways], [weight for weight, _ in ways])[0]
        self.done[way.__name__] += 1
        way()

    def fault(
        self, kind: type[BaseException], error: BaseException, _: TracebackType | None
    ) -> None:
        """Keep a fault, with what was done last."""
        import traceback  # noqa: PLC0415 - only for a fault

        where = "".join(traceback.format_exception(error)[-3:])
        self.wrong.append(f"{kind.__name__} after {self.last}: {where}")

    def said(self, kind: QtMsgType, _context: object, text: str) -> None:
        """Keep what Qt says."""
        if kind is not QtMsgType.QtDebugMsg and "This plugin does not support" not in text:
            self.wrong.append(f"Qt after {self.last}: {text}")

    # what it does

    def go(self) -> None:
        """Go to a place or a page."""
        cooks = self.window.desk.journal.find(Cook)
        if cooks and self._rng.random() < 0.7:
            page = self._rng.choice(PAGES)
            self.last = f"going to {page}"
            self.window.go("cook", self._rng.choice(cooks).id, page)
        else:
            place = self._rng.choice(PLACES)
            self.last = f"going to {place}"
            self.window.go(place)

    def _of(self, kind: type[QWidget]) -> QWidget | None:
        over = [p for p in self.window.findChildren(Overlay) if p.isVisible()]
        within = over[-1] if over and self._rng.random() < 0.9 else self.window
        found = [w for w in within.findChildren(kind) if w.isVisible() and w.isEnabled()]
        return self._rng.choice(found) if found else None

    def tap(self) -> None:
        """Tap what can be tapped."""
        found = self._of(QAbstractButton)
        if isinstance(found, QAbstractButton):
            said = f"{found.text()} {found.accessibleName()}"
            if not any(word.casefold() in said.casefold() for word in LEFT_ALONE):
                self.last = f"tapping {said!r} on {type(self.window.place).__name__}"
                found.click()

    def write(self) -> None:
        """Type something where something can be typed."""
        found = self._of(self._rng.choice((QLineEdit, QLineEdit, QPlainTextEdit)))
        if found is None:
            return
        text = self._rng.choice(TYPED)
        self.last = f"typing {text[:20]!r} into {found.accessibleName()!r}"
        found.setFocus()
        for letter in text:
            for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
                key = QKeyEvent(kind, 0, Qt.KeyboardModifier.NoModifier, letter)
                QApplication.sendEvent(found, key)
        if self._rng.random() < 0.5:
            QTest.keyClick(found, Qt.Key.Key_Return)

    def key(self) -> None:
        """Press a key."""
        key = self._rng.choice(KEYS)
        self.last = f"pressing {key}"
        target = self.window.focusWidget() or self.window
        if isinstance(key, str):
            QTest.keyClicks(target, key)
        else:
            QTest.keyClick(target, key)

    def chord(self) -> None:
        """Press a key with Ctrl."""
        letter = self._rng.choice(CHORDS)
        self.last = f"pressing Ctrl+{letter}"
        QTest.keySequence(self.window, f"Ctrl+{letter}")

    def choose(self) -> None:
        """Choose from a box or a list."""
        found = self._of(self._rng.choice((QComboBox, QAbstractItemView)))
        if isinstance(found, QComboBox) and found.count():
            place = self._rng.randrange(found.count())
            self.last = f"choosing {place} of {found.accessibleName()!r}"
            found.setCurrentIndex(place)
            found.activated.emit(place)
        elif isinstance(found, QAbstractItemView):
            self.last = f"clicking into {found.accessibleName()!r}"
            QTest.mouseClick(found.viewport(), Qt.MouseButton.LeftButton)

    def drop(self) -> None:
        """Drop a file on the bench."""
        place = self.window.place
        if not (isinstance(place, CookPlace) and isinstance(place.current, BenchPage)):
            return
        path = self._rng.choice(self._files)
        self.last = f"dropping {path.name}"
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(path))])
        copy, none = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
        event = QDropEvent(QPointF(50, 50), copy, data, Qt.MouseButton.LeftButton, none)
        place.current.dropEvent(event)

    def resize(self) -> None:
        """Change the size of the window."""
        size = self._rng.choice(SIZES)
        self.last = f"making the window {size}"
        self.window.resize(*size)

    def panel(self) -> None:
        """Open a panel, and mostly put it away at once, whatever it works at."""
        cooks = self.window.desk.journal.find(Cook)
        name = self._rng.choice(sorted(set(PANELS) - ASKED))
        self.last = f"opening {name}"
        with contextlib.suppress(JournalError):  # a cook may be gone
            self.window.go(name, self._rng.choice(cooks).id if cooks else "")
        run_for(self._rng.choice((0, 1, 5, 20, 60)))
        opened = self.window.panel
        if opened is not None and self._rng.random() < 0.7:
            opened.close_panel()

    def look(self) -> None:
        """Take another look, or another size of the words."""
        self.last = "another look"
        if self._rng.random() < 0.5:
            look().choose(self._rng.choice(("light", "night", "sun")))
        else:
            look().choose_text(self._rng.choice(TEXT_SIZES))

    def take_back(self) -> None:
        """Undo a few steps, and do some again."""
        self.last = "undoing"
        for _ in range(self._rng.randint(1, 4)):
            self.window.desk.bridge.undo()
        for _ in range(self._rng.randint(0, 6)):
            self.window.desk.bridge.redo()


def files_in(folder: Path) -> list[Path]:
    """Write files to be dropped and opened, good ones and bad."""
    made = {
        "log.csv": a_log(600).encode(),
        "corner.xlsx": far_corner(),
        "rack.jpg": jpeg(),
        "huge.png": png(2_000_000_000, 2_000_000_000),
        "empty.csv": b"",
        "cut.jpg": jpeg()[:3000],
    }
    for name, data in made.items():
        (folder / name).write_bytes(data)
    return [folder / name for name in made]


def rows_of(folder: Path) -> dict[str, list[tuple[object, ...]]]:
    """Return what a journal holds, but for its history and what is worked out."""
    with closing(sqlite3.connect(folder / "journal.sqlite")) as database:
        names = [
            name
            for (name,) in database.execute("SELECT name FROM sqlite_master WHERE type='table'")
            if not name.startswith(("sqlite_", "derived", "cook_text", "cook_words"))
            and name not in {"operation", "row_image", "stale", "version", "attachment", "setting"}
        ]
        return {n: sorted(database.execute(f'SELECT * FROM "{n}"'), key=repr) for n in names}


def back_and_forth(folder: Path) -> tuple[int, str]:
    """Undo all of a journal and do it again; return the steps, and what is not as it was."""
    with closing(open_journal(folder)) as journal:
        while journal.redo() is not None:
            pass
        before = rows_of(folder)
        if not_held := _not_held(journal):
            return 0, f"{folder.name} does not hold: {not_held}"
        back = forth = 0
        while journal.undo() is not None:
            back += 1
        while journal.redo() is not None:
            forth += 1
        if not_held := _not_held(journal):
            return back, f"{folder.name} does not hold after undoing all: {not_held}"
    after = rows_of(folder)
    unlike = [name for name in before if before[name] != after.get(name)]
    if unlike:
        return (
            back,
            f"{folder.name}: {unlike} are not as they were after {back} back, {forth} forth",
        )
    return back, ""


def _not_held(journal: Journal) -> str:
    found = check_journal(journal)
    return "" if found.held else str(found.as_json())


def _make(folder: Path) -> None:
    with closing(open_journal(folder, new=True)) as journal:
        for number in range(3):
            command = add_comparison(f"Cook {number}")
            journal.do(command)
            journal.do(LogEvent(an_event(command.cook.id, "lit"), "Log lit"))


def torture(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Let the robot do so many things."""
    with tempfile.TemporaryDirectory() as parent:
        home = Path(parent) / "home"
        home.mkdir()
        os.environ["HOME"] = os.environ["XDG_DATA_HOME"] = str(home)
        os.environ["PITJOURNAL_SETTINGS"] = str(home / "settings.json")
        os.chdir(home)  # what it names a journal lies there
        _make(home / "journal")
        files = files_in(home)
        _choose_for_it(files, random.Random(seed))
        shell, window = open_window(home / "journal")
        robot = Robot(shell, files, seed)
        sys.excepthook = robot.fault
        qInstallMessageHandler(robot.said)
        window.show()
        begun, warm = time.monotonic(), 0
        for number in range(rounds):
            robot.step()
            run_for(15)
            if number == int(rounds * WARM_AFTER):
                warm = resident()
        grown = resident() / warm if warm else 1.0
        took = time.monotonic() - begun
        robot.window.close()
        run_for(200)
        qInstallMessageHandler(None)
        sys.excepthook = sys.__excepthook__
        steps = 0
        for database in sorted(home.rglob("journal.sqlite")):
            if "backups" not in database.parts:
                walked, wrong = back_and_forth(database.parent)
                steps += walked
                robot.wrong += [wrong] if wrong else []
    if rounds >= JUDGED_FROM and grown > GROWTH:
        robot.wrong.append(f"memory is {grown:.2f} times what it was")
    figures = {
        "done": rounds,
        "in": f"{took:.0f} s",
        "memory": f"{100 * (grown - 1):+.0f} %",
        "steps undone and done again": steps,
    }
    return figures, list(dict.fromkeys(robot.wrong))


def _choose_for_it(files: Sequence[Path], rng: random.Random) -> None:
    """Have dialogues for files answer by themselves."""

    def one(*_: object) -> tuple[str, str]:
        return str(rng.choice([*files, ""])), ""

    def several(*_: object) -> tuple[list[str], str]:
        return [str(path) for path in rng.sample(list(files), 2)], ""

    for name, answer in (
        ("getOpenFileName", one),
        ("getOpenFileNames", several),
        ("getSaveFileName", lambda *_: ("", "")),
        ("getExistingDirectory", lambda *_: ""),
    ):
        setattr(QFileDialog, name, staticmethod(answer))


if __name__ == "__main__":
    raise SystemExit(run_by_name("robot", ROUNDS, torture))
