"""Hostile settings and saved questions: ``python -m tests.torture.settings 100``.

Whatever stands in the file of settings and in the saved questions of a journal, the window
opens, every panel that shows them opens, and there is no fault.
"""

import json
import os
import random
import sys
import tempfile
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path
from types import TracebackType
from typing import Any

from PySide6.QtWidgets import QAbstractButton, QApplication

from pitjournal.analysis.trends.question import By, Question, Sign, Where
from pitjournal.analysis.trends.stored import kept
from pitjournal.domain.cook import Cook
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import Add
from pitjournal.journal.preferences import load_preferences
from pitjournal.ui.destination import Destination
from pitjournal.ui.start import Shell
from pitjournal.ui.trends.page import TrendsPage
from pitjournal.ui.window import Window
from tests.builders import add_comparison
from tests.torture.hands import run_for
from tests.torture.script import run_by_name

ROUNDS = 60
ODD: tuple[Any, ...] = (
    None,
    "",
    "\0",
    "\ud800",
    "x" * 5000,
    "../../../..",
    -1,
    10**400,
    1e308,
    float("nan"),
    True,
    [],
    {},
    [[[]]],
    {"a": {"b": 1}},
    "ember",
    "\u202e",
)
STORED = tuple(odd for odd in ODD if odd != "\ud800" and odd == odd)  # noqa: PLR0124 - NaN
FILES = (
    b"",
    b"\0" * 100,
    b"\xff\xfe\x00",
    b"[" * 100_000,
    b'{"theme": ' * 3000,
    b"null",
    b"[1,2]",
    b'{"theme": "night", "theme": 3',
    b'{"recent": "abc"}',
)


def hostile_settings(rng: random.Random) -> bytes:
    """Return what stands in a file of settings."""
    if rng.random() < 0.3:
        return rng.choice(FILES)
    names = ("theme", "units", "last_journal", "recent", "sound", "window", "newer")
    found: dict[str, Any] = {name: rng.choice(ODD) for name in names if rng.random() < 0.7}
    if rng.random() < 0.4:
        found["recent"] = [rng.choice(ODD) for _ in range(rng.randint(0, 12))]
    return json.dumps(found).encode()


def hostile_question(rng: random.Random) -> dict[str, Any]:
    """Return a saved question of which some part is odd."""
    good = kept(Question("thickness", (By("cut"),), (Where("cut", Sign.IS, ("brisket",)),)))
    if rng.random() < 0.2:
        return {str(n): rng.choice(STORED) for n in range(rng.randint(0, 4))}
    name = rng.choice(sorted(good))
    inner = rng.choice(STORED)
    if name in {"by", "where"} and rng.random() < 0.7:
        part = dict(good[name][0])
        part[rng.choice(sorted(part))] = inner
        good[name] = [part]
    else:
        good[name] = inner
    return good


class Faults:
    """Faults by where they were met."""

    def __init__(self) -> None:
        self.found: list[str] = []
        self.last = ""

    def __call__(
        self, kind: type[BaseException], error: BaseException, _: TracebackType | None
    ) -> None:
        import traceback  # noqa: PLC0415 - only for a fault

        where = "".join(traceback.format_exception(error)[-2:])
        self.found.append(f"{kind.__name__} with {self.last[:200]}: {where}")


def look_round(window: Window, faults: Faults) -> None:
    """Open what shows settings and saved questions."""
    for name in ("settings", "journals"):
        window.go(name)
        run_for(5)
    window.go("trends")
    run_for(20)
    page = window.place
    assert isinstance(page, TrendsPage)
    for saved in window.desk.journal.find(SavedQuestion):
        faults.last = f"the question {saved.question}"
        window.go_to(Destination(place="trends", question_id=saved.id))
        run_for(20)
    for found in page.saved.findChildren(QAbstractButton):
        if found.isVisible() and found.isEnabled():
            faults.last = f"{faults.last}, tapping {found.text()}"
            found.click()
            run_for(5)
    window.go("share", window.desk.journal.find(Cook)[0].id)
    run_for(20)


def one_window(application: QApplication, folder: Path, faults: Faults) -> None:
    """Open a journal with the settings as they are, look round and close it."""
    shell = Shell(application, load_preferences())
    sys.excepthook = faults
    shell.open(str(folder))
    if shell.window is None:
        faults.found.append(f"no window with {faults.last}")
        return
    try:
        look_round(shell.window, faults)
    finally:
        shell.window.close()
        shell.window.deleteLater()
        run_for(5)


def torture(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Open so many windows."""
    rng, faults = random.Random(seed), Faults()
    with tempfile.TemporaryDirectory() as parent:
        settings = Path(parent) / "settings.json"
        os.environ["PITJOURNAL_SETTINGS"] = str(settings)
        application = QApplication.instance() or QApplication(["pitjournal"])
        assert isinstance(application, QApplication)
        for number in range(rounds):
            folder = Path(parent) / f"journal {number}"
            with closing(open_journal(folder, new=True)) as journal:
                journal.do(add_comparison())
                question = hostile_question(rng)
                saved = SavedQuestion(name=f"Question {number}", question=question)
                journal.do(Add((saved,), "Save a question"))
            told = hostile_settings(rng)
            settings.write_bytes(told)
            faults.last = f"settings {told[:200]!r}"
            try:
                one_window(application, folder, faults)
            except Exception as error:  # noqa: BLE001 - told with what was odd
                faults(type(error), error, None)
            finally:
                sys.excepthook = sys.__excepthook__
    return {"windows": rounds}, list(dict.fromkeys(faults.found))


if __name__ == "__main__":
    raise SystemExit(run_by_name("settings", ROUNDS, torture))
