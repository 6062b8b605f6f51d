"""Kill the program in the middle of a word: ``python -m tests.torture.killed_typing 20``.

Someone types without a pause into the notes of a cook, or into its title. At most what was
typed in the last three seconds may be missing.
"""

import contextlib
import os
import random
import select
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from contextlib import closing
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit

from pitjournal.domain.cook import Cook
from pitjournal.journal import open_journal
from pitjournal.journal.checks import check_journal
from tests.builders import add_comparison
from tests.torture.script import run_by_name

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 10
PROMISED = 3.0
"""Seconds of typing that a kill costs at most."""

EVERY = 60
"""Milliseconds between two keys: 200 letters a minute would be 300."""

FIELDS = {"note": "Notes", "question": "What do you want to find out?"}
ALPHABET = "abcdefghijklmnopqrstuvwxyz"
PATIENCE = 120.0


def typing(folder: Path, label: str) -> None:
    """Type until someone ends it; each line is a key's number and when it was typed."""
    from tests.torture.hands import open_window, run_until  # noqa: PLC0415 - Qt, in the child only

    _, window = open_window(folder)
    window.show()
    window.activateWindow()  # without a window manager nobody else does
    run_until(window.isActiveWindow, 3000)
    window.go("cook", window.desk.journal.find(Cook)[0].id, "plan")
    kinds: tuple[type[QPlainTextEdit], type[QLineEdit]] = (QPlainTextEdit, QLineEdit)
    edits = [edit for kind in kinds for edit in window.place.findChildren(kind)]
    edit = next(one for one in edits if one.accessibleName() == label)
    edit.setFocus()
    keys, timer = [0], QTimer(interval=EVERY)

    def key() -> None:
        QTest.keyClicks(edit, ALPHABET[keys[0] % 26])
        keys[0] += 1
        os.write(1, f"{keys[0]} {time.time()}\n".encode())

    timer.timeout.connect(key)
    timer.start()
    QApplication.exec()


def killed(folder: Path, label: str, after: float) -> tuple[list[tuple[int, float]], float]:
    """Let it type, kill it so long after the first key; return the keys, and when it was."""
    command = [sys.executable, "-m", "tests.torture.killed_typing", "--type", str(folder), label]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        ready, _, _ = select.select([process.stdout.fileno()], [], [], PATIENCE)
        time.sleep(after if ready else 0)
        at = time.time()
        process.kill()
        said = process.stdout.read().decode()
    lines = said[: said.rfind("\n") + 1].split("\n")[:-1]
    return [(int(n), float(when)) for n, when in (line.split() for line in lines)], at


def torture(rounds: int, seed: int) -> tuple[Mapping[str, object], list[str]]:
    """Kill it so often."""
    rng, wrong = random.Random(seed), list[str]()
    typed = lost = worst = 0
    for number in range(rounds):
        with tempfile.TemporaryDirectory() as parent:
            folder = Path(parent) / "journal"
            with closing(open_journal(folder, new=True)) as journal:
                journal.do(add_comparison())
            field = rng.choice(sorted(FIELDS))
            keys, at = killed(folder, FIELDS[field], rng.uniform(4.0, 9.0))
            if not keys:
                wrong.append(f"round {number}: nothing was typed")
                continue
            with closing(open_journal(folder)) as journal:
                kept = str(getattr(journal.find(Cook)[0], field))
                if not check_journal(journal).held:
                    wrong.append(f"round {number}: the journal does not hold")
            text = "".join(ALPHABET[n % 26] for n in range(keys[-1][0] + 1))
            before = [n for n, when in keys if when <= at - PROMISED]
            typed, lost = typed + keys[-1][0], lost + keys[-1][0] - len(kept)
            worst = max(worst, keys[-1][0] - len(kept))
            if field == "question":
                kept = kept.removeprefix("Does injecting change the bite?")
            if not text.startswith(kept) or len(kept) < max(before, default=0):
                wrong.append(f"round {number}: {len(kept)} of {keys[-1][0]} in {field}")
    figures = {"rounds": rounds, "typed": typed, "not kept": lost, "at most": worst}
    return figures, wrong


if __name__ == "__main__":
    if sys.argv[1:2] == ["--type"]:
        with contextlib.suppress(KeyboardInterrupt):
            typing(Path(sys.argv[2]), sys.argv[3])
    else:
        raise SystemExit(run_by_name("killed_typing", ROUNDS, torture))
